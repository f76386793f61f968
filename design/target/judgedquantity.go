package target

import (
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
	Active, Anchor tooth.Load // about the points where the target is judged
	RateNPerMM     float64    // at the last position; before it 0
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

// Sense is the sign that all values have which the target asks of a quantity; 0 where they
// may have both.
func (t Target) Sense(q Quantity) float64 {
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
