package solve

import (
	"springwright/design/beam"
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

// perSlot is how many coordinates a slot has.
const perSlot = len(beam.SlotCoordinates{})

// contacts are those of the coordinates of beam.SlotCoordinates, the anchor slot's first: in
// third, second and first order, and in second and first order at the other edges.
type contacts [2 * perSlot]spring.Contact

// angles are the coordinates in rad, or the loads in N·mm that the slots put on the wire along
// them, in the order of contacts.
type angles [2 * perSlot]float64

func (c contacts) state(slot int, turn, shift r3.Vec) spring.SlotState {
	k := perSlot * slot
	shift.X = 0
	return spring.SlotState{
		ThirdOrder:  c[k],
		SecondOrder: atEdges(c[k+1], c[k+3]),
		FirstOrder:  atEdges(c[k+2], c[k+4]),
		TurnRad:     turn, ShiftMM: shift,
	}
}

// atEdges is how a wire lies between four edges, by its contacts at two and two. A slot that
// does not let it shift has no other edges.
func atEdges(one, other spring.Contact) spring.Contact {
	switch {
	case other == spring.Tied || one == other:
		return one
	case one == spring.Free || other == spring.Free:
		return spring.OneEdge
	default:
		return spring.AlongWall
	}
}

func anglesOf(anchor, active beam.SlotCoordinates) (a angles) {
	copy(a[:perSlot], anchor[:])
	copy(a[perSlot:], active[:])
	return a
}

// loadsIn are the coordinates of a wire in its slots, and the couples and forces
// of the slots on the wire that go with them.
func loadsIn(s *beam.Solver) (coordinates, loads angles) {
	anchor, active, onAnchor, onActive := s.InSlots()
	return anglesOf(anchor, active), anglesOf(onAnchor, onActive)
}
