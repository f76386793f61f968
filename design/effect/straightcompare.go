package effect

import (
	"context"

	"springwright/design"
	"springwright/design/solve"
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

// StraightWire is a straight wire of a spring's section and alloy, held at both ends as the
// spring is over the same travel, to be held against it.
type StraightWire struct {
	Spring spring.Spring
	// Positions are elastic figures over the travel; none where there are no figures.
	Positions []spring.Position
	// Superelastic and Unsolved say why there are none: the loads of a superelastic wire
	// depend on the way it went, or no equilibrium was found.
	Superelastic, Unsolved bool
}

// StraightWireBeside solves the straight wire of a case as an elastic one, which takes no
// longer than the search takes for one spring. The error is that of ctx.
func StraightWireBeside(ctx context.Context, c design.Case, s spring.Spring) (StraightWire, error) {
	straight := StraightWire{Spring: StraightSpring(c, "", s.Wire).Tied()}
	if s.Wire.IsSuperelastic() {
		straight.Superelastic = true
		return straight, nil
	}
	straight.Spring.Wire.TangentMPa = 0 // no history: beyond yield there are no figures here
	e, err := solve.Evaluate(ctx, straight.Spring, solve.Options{AllowYield: true})
	if stopped := ctx.Err(); stopped != nil {
		return StraightWire{}, stopped
	}
	straight.Unsolved = err != nil
	straight.Positions = e.Record.Positions
	return straight, nil
}

// Yields tells whether the straight wire yields anywhere on the travel: its first seat then
// sets it permanently, and elastic figures hold nowhere.
func (s StraightWire) Yields() bool {
	for _, p := range s.Positions {
		if p.StressRatio > 1 {
			return true
		}
	}
	return false
}

// Rests tells whether the straight wire, which has figures, does nothing that would show on a
// gauge.
func (s StraightWire) Rests() bool {
	const leastN, leastNMM = 0.005, 0.005 // what prints as zero
	first := s.Positions[0]
	return max(r3.Norm(first.Active.ForceN), r3.Norm(first.Anchor.ForceN)) < leastN &&
		max(r3.Norm(first.Active.CoupleNMM), r3.Norm(first.Anchor.CoupleNMM)) < leastNMM
}

// ElasticLeft is the longest way before the end of the travel that the wire takes without
// yielding, mm, or rad where the slot only turns, between positions in proportion.
func (s StraightWire) ElasticLeft() float64 {
	t, reach := s.Spring.Travel(), 0.0
	for i := len(s.Positions) - 1; i >= 0; i-- {
		p := s.Positions[i]
		if p.StressRatio > 1 {
			if i == len(s.Positions)-1 {
				return 0
			}
			next := s.Positions[i+1]
			share := (p.StressRatio - 1) / (p.StressRatio - next.StressRatio)
			return t.Left(p) + share*(t.Left(next)-t.Left(p))
		}
		reach = t.Left(p)
	}
	return reach
}
