package spring

import (
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// Contact is where a wire with play lies in its slot, for one of the three angles.
type Contact int

const (
	Tied      Contact = iota // no play: the angle is 0
	Free                     // between the walls: no couple
	PlusWall                 // on the wall that stops positive angles
	MinusWall                // on the other
	OneEdge                  // on one edge of the slot, about which it turns freely
	AlongWall                // shifted, along a wall
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
	case OneEdge:
		return "edge"
	case AlongWall:
		return "along wall"
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
	// ShiftMM is how far the wire is shifted across the slot, on the same axes, Y and Z.
	ShiftMM r3.Vec
}

// PlayState is how the wire lies in both slots at one position.
type PlayState struct {
	Active, Anchor SlotState
	SlidMM         float64 // wire that has come out of the slot it slides through
}

// OtherRest is another way in which a wire lies in its slots at a position, as steady as the one
// that the position tells.
type OtherRest struct {
	Active tooth.Load
	Anchor tooth.Load
	Play   PlayState
	// StressRatio is that of Position.
	StressRatio float64
}
