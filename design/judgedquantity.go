package design

import (
	"fmt"
	"math"

	"springwright/design/tooth"
)

// Quantity is a number that a target may ask for: a component of the load on either tooth,
// MomentToForce or Rate.
type Quantity int

const (
	firstAnchor = Quantity(tooth.Components)
	// MomentToForce is the couple about y over the force along x on the active tooth, mm.
	// Positive, the couple carries the root the way the force pushes the crown.
	MomentToForce = 2 * firstAnchor
	// Rate is the loss of force along the travel by its length, N/mm, known once it is done.
	Rate       = MomentToForce + 1
	Quantities = Rate + 1 // how many there are
)

// OfActive is a component of the load on the active tooth.
func OfActive(k tooth.Component) Quantity { return Quantity(k) }

// OfAnchor is a component of the load on the anchor tooth.
func OfAnchor(k tooth.Component) Quantity { return firstAnchor + Quantity(k) }

// Component returns the component that q is, and whether it is that of the anchor tooth; ok
// is false for MomentToForce and Rate.
func (q Quantity) Component() (k tooth.Component, anchor, ok bool) {
	switch {
	case q < firstAnchor:
		return tooth.Component(q), false, true
	case q < MomentToForce:
		return tooth.Component(q - firstAnchor), true, true
	}
	return 0, false, false
}

// Couple tells whether q is a component of a couple.
func (q Quantity) Couple() bool {
	k, _, ok := q.Component()
	return ok && k.Couple()
}

// Unit is the unit of q's values: N, N·mm, mm or N/mm.
func (q Quantity) Unit() string {
	switch {
	case q == MomentToForce:
		return "mm"
	case q == Rate:
		return "N/mm"
	case q.Couple():
		return "N·mm"
	}
	return "N"
}

// Judged is what a target is about at one position of the travel, or its change.
type Judged struct {
	Active, Anchor Load    // about the points where the target is judged
	RateNPerMM     float64 // at the last position; before it 0
}

// JudgedAt turns loads on both teeth, couples about the slots' centres, into what the
// target's windows are for while the active slot is at seat. The same goes for changes of
// the loads.
func (c Case) JudgedAt(active, anchor Load, seat Seat) Judged {
	j := Judged{Active: c.JudgedLoad(active, seat), Anchor: anchor}
	if c.Target.AtResistance {
		j.Anchor = anchor.AtResistance(c.AnchorOffset())
	}
	return j
}

// JudgedRecord is JudgedAt for every position of a record, with the rate at the last one.
func (c Case) JudgedRecord(r Record) []Judged {
	var all []Judged
	for _, p := range r.Positions {
		all = append(all, c.JudgedAt(p.Active, p.Anchor, p.Seat))
	}
	if n := len(all); n > 0 {
		all[n-1].RateNPerMM = c.SpringFor(nil).RateNPerMM(all[0].Active, all[n-1].Active)
	}
	return all
}

// leastForceN is the smallest force along x, with its sign, that a ratio is taken over: half
// of the least that the target asks for. Without it the ratio would have no value where the
// force changes sign; a spring whose force is that small misses the target all the same.
func (t Target) leastForceN() float64 {
	switch w := t.Travel.ForceN[0]; {
	case w.Free():
		return 0
	case w.Min > 0:
		return w.Min / 2
	case w.Max < 0:
		return w.Max / 2
	}
	return 0
}

// Value is the value of q; NaN for a ratio that the target cannot ask for.
func (t Target) Value(q Quantity, j Judged) float64 {
	k, anchor, ok := q.Component()
	switch {
	case anchor:
		return j.Anchor.Component(k)
	case ok:
		return j.Active.Component(k)
	case q == Rate:
		return j.RateNPerMM
	}
	force, _ := t.ratioForceN(j)
	return j.Active.CoupleNMM.Y / force
}

// ratioForceN is the force that the ratio is taken over, and whether it is that of the
// spring.
func (t Target) ratioForceN(j Judged) (forceN float64, own bool) {
	least := t.leastForceN()
	if least == 0 {
		return math.NaN(), false
	}
	if force := j.Active.ForceN.X; force*math.Copysign(1, least) >= math.Abs(least) {
		return force, true
	}
	return least, false
}

// Slope is the change of the value of q at j by a small change of j.
func (t Target) Slope(q Quantity, j, change Judged) float64 {
	if q != MomentToForce {
		return t.Value(q, change)
	}
	force, own := t.ratioForceN(j)
	slope := change.Active.CoupleNMM.Y / force
	if own {
		slope -= j.Active.CoupleNMM.Y * change.Active.ForceN.X / (force * force)
	}
	return slope
}

// WindowAt returns the window of a quantity with leftMM of travel left: that at the start
// of the travel, or that over the whole of it.
func (t Target) WindowAt(q Quantity, leftMM float64, atStart bool) Window {
	const hairMM = 1e-9
	k, anchor, ok := q.Component()
	w := t.Travel
	switch {
	case atStart && (anchor || !ok):
		return FreeWindow()
	case q == Rate:
		if t.MaxRateNPerMM <= 0 || leftMM > hairMM {
			return FreeWindow()
		}
		return Window{Min: math.Inf(-1), Max: t.MaxRateNPerMM}
	case q == MomentToForce && (t.leastForceN() == 0 || leftMM < t.ForceUntilMM-hairMM):
		return FreeWindow()
	case q == MomentToForce:
		return t.MomentToForceMM.orFree()
	case anchor:
		w = t.Anchor
	case atStart:
		w = t.Start
	}
	switch {
	case k.Couple():
		return w.CoupleNMM[k-tooth.CoupleX].orFree()
	case !atStart && leftMM < t.ForceUntilMM-hairMM:
		return FreeWindow()
	}
	return w.ForceN[k].orFree()
}

// AllFree tells whether the target asks for nothing.
func (t Target) AllFree() bool {
	for _, l := range [...]LoadWindow{t.Start, t.Travel, t.Anchor} {
		for i := range 3 {
			if !l.ForceN[i].Free() || !l.CoupleNMM[i].Free() {
				return false
			}
		}
	}
	return t.MomentToForceMM.Free() && t.MaxRateNPerMM <= 0
}

// Naming is the name of a quantity in the words of the trade, and the sign that turns its
// value into one on that name.
func (c Case) Naming(q Quantity) (name string, sign float64) {
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
func (c Case) NamingOf(q Quantity, value float64) (name string, sign float64) {
	_, sign = c.Naming(q)
	_, anchor, ok := q.Component()
	switch asked := c.Target.sense(q); {
	case !ok:
	case asked != 0:
		sign = asked
	case anchor && sign*value < 0:
		sign = -sign
	}
	return c.named(q, sign), sign
}

// Wants tells whether the target asks for a component of the load on the active tooth to be
// other than nothing.
func (t Target) Wants(k tooth.Component) bool {
	for _, atStart := range [...]bool{true, false} {
		if w := t.WindowAt(OfActive(k), math.Inf(1), atStart); w.Asked() && w.Misses(0) > 0 {
			return true
		}
	}
	return false
}

// NameOf is the name of a quantity by the sense that the target asks for; where it may have
// both, by both: "mesial or distal force".
func (c Case) NameOf(q Quantity) string {
	k, anchor, ok := q.Component()
	if sense := c.Target.sense(q); !ok || sense != 0 {
		return c.named(q, sense)
	}
	of := c.Teeth.ActiveMember()
	if anchor {
		of = c.Teeth.AnchorMember()
	}
	return c.placed(q, of.LoadNames(k, fmt.Sprintf))
}

// sense is the sign that all values have which the target asks of a quantity; 0 where they
// may have both.
func (t Target) sense(q Quantity) float64 {
	for _, atStart := range [...]bool{true, false} {
		switch w := t.WindowAt(q, math.Inf(1), atStart); {
		case w.Min > 0 || w.Min == 0 && w.Max > 0:
			return 1
		case w.Max < 0 || w.Max == 0 && w.Min < 0:
			return -1
		}
	}
	return 0
}

// named is the name of a quantity of which sign·value is above 0.
func (c Case) named(q Quantity, sign float64) string {
	k, anchor, ok := q.Component()
	switch {
	case q == MomentToForce:
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
func (c Case) placed(q Quantity, name string) string {
	k, anchor, _ := q.Component()
	if anchor {
		name += fmt.Sprintf(" on anchor tooth %d", c.Teeth.Anchor)
	}
	if c.Target.AtResistance && k.Couple() {
		name += " at the centre of resistance"
	}
	return name
}
