package classroom

import (
	"math"
	"slices"

	"springwright/design"
	"springwright/design/spring"
	"springwright/optimize/hand"
)

const degree = math.Pi / 180

// Hardness is how hard a spring is to bend.
type Hardness struct {
	Bends           int     // and twists
	Share           float64 // of springs bent by a student's hand that meet the target
	LargestAngleRad float64 // of a bend or twist
	// LeastToleranceRad is by how much the most exacting bend alone may be off before the target is missed.
	LeastToleranceRad float64
}

// What still counts as equally hard: so much beside the usual (choices). The share of 400 springs
// is good to 2 in 100, one standard deviation.
const (
	shareApart          = 0.12
	angleApartRad       = 20 * degree
	leastToleranceShare = 0.5 // of the usual tolerance, and no more than the inverse of it
	springsInTrial      = 400
)

// StudentHand is the hand of a student: ±5° a bend, ±1 mm a leg (common practice), taken as what 19 of 20 keep
// within, two standard deviations. What else a case's bender is off by stays.
func StudentHand(b design.Bender) design.Bender {
	b.AngleSDRad, b.LengthSDMM = 2.5*degree, 0.5
	return b
}

// hardnessOf measures a spring that meets its target.
func hardnessOf(s spring.Spring, r hand.Robustness) Hardness {
	h := Hardness{Bends: s.Path.Bends(), Share: r.Spread.Share(), LeastToleranceRad: math.Inf(1)}
	for _, step := range s.Path.Steps() {
		if step.Kind != spring.Straight {
			h.LargestAngleRad = max(h.LargestAngleRad, math.Abs(step.AngleRad))
		}
	}
	for _, t := range r.Spread.Tolerances {
		if t.Angle {
			h.LeastToleranceRad = min(h.LeastToleranceRad, t.Less, t.More)
		}
	}
	if math.IsInf(h.LeastToleranceRad, 1) { // no bend at all, or nothing told
		h.LeastToleranceRad = 0
	}
	return h
}

// AsHardAs tells whether two springs are equally hard.
func (h Hardness) AsHardAs(o Hardness) bool {
	low, high := o.LeastToleranceRad*leastToleranceShare, o.LeastToleranceRad/leastToleranceShare
	return h.Bends == o.Bends && math.Abs(h.Share-o.Share) <= shareApart &&
		math.Abs(h.LargestAngleRad-o.LargestAngleRad) <= angleApartRad &&
		h.LeastToleranceRad >= low && h.LeastToleranceRad <= high
}

// usualHardness is that in the middle of what was drawn, number by number, of those that meet their target with the
// bends of the teacher's spring.
func usualHardness(drawn []drawnVariant) Hardness {
	var usual Hardness
	var shares, angles, tolerances []float64
	for _, d := range drawn {
		if d.why != taken {
			continue
		}
		h := d.student.Hardness
		usual.Bends = h.Bends
		shares, angles, tolerances = append(shares, h.Share), append(angles, h.LargestAngleRad), append(tolerances, h.LeastToleranceRad)
	}
	usual.Share, usual.LargestAngleRad, usual.LeastToleranceRad = middle(shares), middle(angles), middle(tolerances)
	return usual
}

// middle is the median, 0 of nothing.
func middle(values []float64) float64 {
	if len(values) == 0 {
		return 0
	}
	slices.Sort(values)
	return values[len(values)/2]
}
