package design

import (
	"springwright/design/beam"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// Resistances says where the centres of resistance of both teeth lie, each from the centre
// of its tooth's slot as the teeth stand now.
type Resistances struct{ Active, Anchor tooth.Resistance }

// ActiveOffset is the vector from the active slot's centre to the active tooth's centre of
// resistance while the slot is at seat: it turns with the tooth.
func (c Case) ActiveOffset(seat Seat) r3.Vec {
	now := beam.RotationBetween(c.seat(c.Now).Pose(c.Heading), seat.Pose(c.Heading))
	return beam.Rotate(now, ResistanceOffset(c.Teeth, c.Resistance.Active))
}

// AnchorOffset is the same for the anchor tooth, which stays.
func (c Case) AnchorOffset() r3.Vec { return ResistanceOffset(c.Teeth, c.Resistance.Anchor) }

// JudgedOffset is the vector from the active slot's centre to the point about which the
// target's couples are taken while the slot is at seat.
func (c Case) JudgedOffset(seat Seat) r3.Vec {
	if !c.Target.AtResistance {
		return r3.Vec{}
	}
	return c.ActiveOffset(seat)
}

// JudgedLoad turns a load on the active tooth, its couple about the slot's centre, into the
// load that the target's windows are for while the slot is at seat.
func (c Case) JudgedLoad(l Load, seat Seat) Load { return l.AtResistance(c.JudgedOffset(seat)) }
