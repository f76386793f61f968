package solve

import (
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

// contacts are the six angles' contacts: the anchor slot's third, second and first order,
// then the active slot's.
type contacts [6]spring.Contact

// angles are six angles in rad, or the couples in N·mm that the slots put on the wire about
// their centres on the same axes, in the order of contacts.
type angles [6]float64

func (c contacts) state(slot int, turn r3.Vec) spring.SlotState {
	k := 3 * slot
	return spring.SlotState{ThirdOrder: c[k], SecondOrder: c[k+1], FirstOrder: c[k+2], TurnRad: turn}
}

func anglesOf(anchor, active r3.Vec) angles {
	return angles{anchor.X, anchor.Y, anchor.Z, active.X, active.Y, active.Z}
}
