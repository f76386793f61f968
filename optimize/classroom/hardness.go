package classroom

import (
	"math"
	"slices"

	"springwright/design"
	"springwright/design/course"
	"springwright/design/spring"
	"springwright/optimize/hand"
)

const degree = math.Pi / 180

// springsInTrial tell a share to 2 in 100, one standard deviation (choice).
const springsInTrial = 400

// StudentHand is the hand of a student: ±5° a bend, ±1 mm a leg (common practice), taken as what 19 of 20 keep
// within, two standard deviations. What else a case's bender is off by stays.
func StudentHand(b design.Bender) design.Bender {
	b.AngleSDRad, b.LengthSDMM = 2.5*degree, 0.5
	return b
}

// hardnessOf measures a spring that meets its target.
func hardnessOf(s spring.Spring, r hand.Robustness) course.Hardness {
	h := course.Hardness{Bends: s.Path.Bends(), Share: r.Spread.Share(), LeastToleranceRad: math.Inf(1)}
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

// usualHardness is that in the middle of what was drawn, number by number, of those that meet their target with the
// bends of the teacher's spring.
func usualHardness(drawn []drawnVariant) course.Hardness {
	var usual course.Hardness
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
