package course

import (
	"context"
	"errors"
	"math"

	"springwright/design"
	"springwright/design/effect"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// WhatIfRad is by how much the bend that is asked about is bent farther.
const WhatIfRad = 5 * degree

// whatIfBend is the number of that bend; springs with fewer have their last one asked about.
const whatIfBend = 3

// Answer is what a student is asked about a spring at the start, worked out.
type Answer struct {
	Active, Anchor tooth.Load
	Class          effect.GeometryClass // 0: no couple worth naming
	// ArmMM is from the centre of the anchor slot to that of the active one.
	ArmMM r3.Vec
	// Nothing is where a force alone, without a tipping couple, does the same to the active tooth as the spring: on
	// the line through both slots, mm along the arch from the anchor slot's centre. No such place where
	// HasNothing is false: what the spring gives is a couple and hardly any force across that line.
	NothingMM  float64
	HasNothing bool
	// WhatIf are the loads with one bend WhatIfRad more; it cannot be seated where Seated is false, and there is
	// no bend to ask about where Bend is 0.
	Bend   int
	Seated bool
	WhatIf [2]tooth.Load // on the active tooth and on the anchor
}

// leastAcrossN is a force below which the line of action lies nowhere near the teeth (choice: a couple of 1 N·mm
// is then 50 mm away).
const leastAcrossN = 0.02

// AnswerOf works out the answers. The errors are those of solve.Evaluate but for a spring that with one bend
// changed cannot be seated.
func AnswerOf(ctx context.Context, c design.Case, s spring.Spring, e solve.Evaluation) (Answer, error) {
	p := e.Record.Positions[0]
	a := Answer{Active: p.Active, Anchor: p.Anchor, Class: effect.ClassOf(p), ArmMM: c.Now.CentreMM}
	if p.HookMM != nil {
		a.ArmMM = r3.Add(*p.HookMM, r3.Vec{X: c.AnchorSlot.LengthMM / 2})
	}
	a.NothingMM, a.HasNothing = nothingAt(a.ArmMM, a.Active)
	numbers := s.Path.BendNumbers()
	steps := s.Path.Steps()
	at := -1
	for i, n := range numbers {
		if n > 0 && n <= whatIfBend {
			at = i
		}
	}
	if at < 0 {
		return a, nil
	}
	a.Bend = numbers[at]
	steps[at].AngleRad += math.Copysign(WhatIfRad, steps[at].AngleRad)
	s.Path, s.Shortfall = spring.PathOf(steps...), nil
	changed, err := solve.Evaluate(ctx, s, solve.Options{AllowYield: true})
	switch {
	case err == nil || errors.Is(err, solve.ErrYield):
		first := changed.Record.Positions[0]
		a.Seated, a.WhatIf = true, [2]tooth.Load{first.Active, first.Anchor}
	case ctx.Err() != nil:
		return a, ctx.Err()
	}
	return a, nil
}

// nothingAt is where along the arch, on the line from the anchor slot's centre to the active one's, the moment of what
// the active tooth gets about the y axis is nothing.
func nothingAt(armMM r3.Vec, active tooth.Load) (mm float64, ok bool) {
	// About a point t of the way along the arm the moment is C + ((1−t)·arm × F)y.
	across := r3.Cross(armMM, active.ForceN).Y
	length := math.Hypot(armMM.X, armMM.Z)
	if length == 0 || math.Abs(across)/length < leastAcrossN {
		return 0, false
	}
	return armMM.X * (1 + active.CoupleNMM.Y/across), true
}

// Balance is what the loads on both teeth and force times distance come to about the anchor slot's centre: nothing,
// but for the solver's tolerance. N and N·mm.
func (a Answer) Balance() (forceN, momentNMM r3.Vec) {
	return r3.Add(a.Active.ForceN, a.Anchor.ForceN),
		r3.Add(r3.Add(a.Active.CoupleNMM, a.Anchor.CoupleNMM), a.Lever())
}

// Lever is the moment of the force on the active tooth about the anchor slot's centre, N·mm.
func (a Answer) Lever() r3.Vec { return r3.Cross(a.ArmMM, a.Active.ForceN) }
