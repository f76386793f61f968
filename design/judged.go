package design

import (
	"fmt"

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

// AnchorOffset is the same for the anchor tooth, which stays.
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
	j := Judge{spring: c.SpringFor(nil)}
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

// Naming is the name of a quantity in the words of the trade, and the sign that turns its
// value into one on that name.
func (c Case) Naming(q target.Quantity) (name string, sign float64) {
	k, _, ok := q.Component()
	if ok {
		sign = c.Teeth.ClinicalSign(k)
		return c.named(q, sign), sign
	}
	return c.named(q, 1), 1
}

// NamingOf is Naming with the word for the sense that the target asks for: a canine is drawn
// back by a distal force of 1 N, not by a mesial one of −1 N. Where the target lets a load
// on the anchor tooth go both ways, the word is for the sense of value.
func (c Case) NamingOf(q target.Quantity, value float64) (name string, sign float64) {
	_, sign = c.Naming(q)
	_, anchor, ok := q.Component()
	switch asked := c.Target.Sense(q); {
	case !ok:
	case asked != 0:
		sign = asked
	case anchor && sign*value < 0:
		sign = -sign
	}
	return c.named(q, sign), sign
}

// NameOf is the name of a quantity by the sense that the target asks for; where it may have
// both, by both: "mesial or distal force".
func (c Case) NameOf(q target.Quantity) string {
	k, anchor, ok := q.Component()
	if sense := c.Target.Sense(q); !ok || sense != 0 {
		return c.named(q, sense)
	}
	of := c.Teeth.ActiveMember()
	if anchor {
		of = c.Teeth.AnchorMember()
	}
	return c.placed(q, of.LoadNames(k, fmt.Sprintf))
}

// named is the name of a quantity of which sign·value is above 0.
func (c Case) named(q target.Quantity, sign float64) string {
	k, anchor, ok := q.Component()
	switch {
	case q == target.MomentToForce:
		return "moment-to-force ratio"
	case !ok:
		return "load-deflection rate"
	}
	of := c.Teeth.ActiveMember()
	if anchor {
		of = c.Teeth.AnchorMember()
	}
	return c.placed(q, of.LoadName(k, sign))
}

// placed adds to the name of a component which tooth and which point it is of.
func (c Case) placed(q target.Quantity, name string) string {
	k, anchor, _ := q.Component()
	if anchor {
		name += fmt.Sprintf(" on anchor tooth %d", c.Teeth.Anchor)
	}
	if c.Target.AtResistance && k.Couple() {
		name += " at the centre of resistance"
	}
	return name
}
