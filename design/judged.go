package design

import (
	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// Resistances says where the centres of resistance of both teeth lie, each from the centre
// of its tooth's slot as the teeth stand now.
type Resistances struct{ Active, Anchor tooth.Resistance }

// ActiveOffset is the vector from the active slot's centre to the active tooth's centre of
// resistance while the slot is at seat: it turns with the tooth.
func (c Case) ActiveOffset(seat spring.Seat) r3.Vec {
	now := beam.RotationBetween(c.seat(c.Now).Pose(c.Heading), seat.Pose(c.Heading))
	return beam.Rotate(now, tooth.ResistanceOffset(c.Teeth, c.Resistance.Active))
}

// AnchorOffset is the same for the anchor tooth, which stays where loads are judged.
func (c Case) AnchorOffset() r3.Vec { return tooth.ResistanceOffset(c.Teeth, c.Resistance.Anchor) }

// JudgedOffset is the vector from the active slot's centre to the point about which the
// target's couples are taken while the slot is at seat.
func (c Case) JudgedOffset(seat spring.Seat) r3.Vec {
	if !c.Target.AtResistance {
		return r3.Vec{}
	}
	return c.ActiveOffset(seat)
}

// JudgedLoad turns a load on the active tooth, its couple about the slot's centre, into the
// load that the target's windows are for while the slot is at seat.
func (c Case) JudgedLoad(l tooth.Load, seat spring.Seat) tooth.Load {
	return l.AtResistance(c.JudgedOffset(seat))
}

// Judge turns loads on both teeth, couples about the slots' centres, into what a target's windows
// are for along a travel, with all that stays over many springs worked out once.
type Judge struct {
	spring spring.Spring
	// From the slots' centres to the points about which the target's couples are taken; of the
	// active tooth at each position, as measured: that a slot sits otherwise on it does not move
	// the root.
	active []r3.Vec
	anchor r3.Vec
}

// Judge is that of a travel along the active slot's seats, at least one.
func (c Case) Judge(seats []spring.Seat) Judge {
	j := Judge{spring: c.SpringFor(spring.Path{})}
	for _, seat := range seats {
		j.active = append(j.active, c.JudgedOffset(seat))
	}
	if c.Target.AtResistance {
		j.anchor = c.AnchorOffset()
	}
	return j
}

// At judges the loads at a position of the travel; first is that on the active tooth at the first
// one. It is linear: changes of the loads give the change of its answer.
func (j *Judge) At(position int, active, anchor, first tooth.Load) target.Judged {
	judged := target.Judged{Active: active.AtResistance(j.active[position]), Anchor: anchor.AtResistance(j.anchor)}
	if position == len(j.active)-1 {
		judged.RateNPerMM = j.spring.RateNPerMM(first, active)
	}
	return judged
}

// JudgedRecord judges every position of a record.
func (c Case) JudgedRecord(r spring.Record) []target.Judged {
	seats := make([]spring.Seat, len(r.Positions))
	for i, p := range r.Positions {
		seats[i] = p.Seat
	}
	judge := c.Judge(seats)
	var all []target.Judged
	for i, p := range r.Positions {
		all = append(all, judge.At(i, p.Active, p.Anchor, r.Positions[0].Active))
	}
	return all
}

// SignOf is the sign that turns a value of a quantity into one on the name of the sense that the
// target asks for: a canine is drawn back by a distal force of 1 N, not by a mesial one of −1 N.
// Where it asks for none the sense is the trade's, but of a load on the anchor tooth that may go
// both ways it is that of value.
func (c Case) SignOf(q target.Quantity, value float64) float64 {
	k, anchor, ok := q.Component()
	if !ok {
		return 1
	}
	sign := c.Teeth.ClinicalSign(k)
	switch asked := c.Target.Sense(q); {
	case asked != 0:
		sign = asked
	case anchor && sign*value < 0:
		sign = -sign
	}
	return sign
}

// NameOf is the name of a quantity by the sense that the target asks for; where it may have
// both, by both: "mesial or distal force".
func (c Case) NameOf(q target.Quantity, say tooth.Say) string {
	if sense := c.Target.Sense(q); sense != 0 {
		return c.QuantityName(q, sense, say)
	}
	return c.EitherName(q, say)
}

// QuantityName is the name of a quantity of which sign·value is above 0.
func (c Case) QuantityName(q target.Quantity, sign float64, say tooth.Say) string {
	k, _, ok := q.Component()
	switch {
	case q == target.MomentToForce:
		return say("moment-to-force ratio")
	case !ok:
		return say("load-deflection rate")
	}
	return c.placed(q, say(c.MemberOf(q).LoadName(k, sign)), say)
}

// EitherName is the name of a quantity that may have either sign.
func (c Case) EitherName(q target.Quantity, say tooth.Say) string {
	k, _, ok := q.Component()
	if !ok {
		return c.QuantityName(q, 1, say)
	}
	return c.placed(q, c.MemberOf(q).LoadNames(k, say), say)
}

// MemberOf is the tooth that a quantity is of.
func (c Case) MemberOf(q target.Quantity) tooth.Member {
	if _, anchor, _ := q.Component(); anchor {
		return c.Teeth.AnchorMember()
	}
	return c.Teeth.ActiveMember()
}

// placed adds to the name of a component which tooth and which point it is of.
func (c Case) placed(q target.Quantity, name string, say tooth.Say) string {
	k, anchor, _ := q.Component()
	if anchor {
		name = say("%s on anchor tooth %d", name, int(c.Teeth.Anchor))
	}
	if c.Target.AtResistance && k.Couple() {
		name = say("%s at the centre of resistance", name)
	}
	return name
}
