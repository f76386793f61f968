package design

import "gonum.org/v1/gonum/spatial/r3"

// Contact is where a wire with play lies in its slot, for one of the three angles.
type Contact int

const (
	Tied      Contact = iota // no play: the angle is 0
	Free                     // between the walls: no couple
	PlusWall                 // on the wall that stops positive angles
	MinusWall                // on the other
)

// String returns the words used in files.
func (c Contact) String() string {
	switch c {
	case Free:
		return "free"
	case PlusWall:
		return "wall +"
	case MinusWall:
		return "wall -"
	default:
		return "tied"
	}
}

// SlotState is how the wire lies in one slot.
type SlotState struct {
	ThirdOrder, SecondOrder, FirstOrder Contact
	// TurnRad is how the wire is turned against the slot, on the slot's axes (the heading
	// frame turned by the seat): X in third order, about the running direction, Y in second
	// and Z in first.
	TurnRad r3.Vec
}

// PlayState is how the wire lies in both slots at one position.
type PlayState struct {
	Active, Anchor SlotState
	SlidMM         float64 // wire that has come out of the slot it slides through
}

// contacts are the six angles' contacts: the anchor slot's third, second and first order,
// then the active slot's.
type contacts [6]Contact

// angles are six angles in rad, or the couples in N·mm that the slots put on the wire about
// their centres on the same axes, in the order of contacts.
type angles [6]float64

func (c contacts) state(slot int, turn r3.Vec) SlotState {
	k := 3 * slot
	return SlotState{ThirdOrder: c[k], SecondOrder: c[k+1], FirstOrder: c[k+2], TurnRad: turn}
}

func anglesOf(anchor, active r3.Vec) angles {
	return angles{anchor.X, anchor.Y, anchor.Z, active.X, active.Y, active.Z}
}
