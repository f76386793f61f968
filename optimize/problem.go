package optimize

import (
	"context"
	"math"

	"springwright/design"
	"springwright/design/spring"
	"springwright/optimize/hand"
	"springwright/optimize/lattice"
	"springwright/optimize/lsq"
)

// problem is a pattern that is to be fitted to a case: what stays the same over a search, and what
// can be said of a design without solving it over its travel. A design is a value x of each of the
// pattern's freedoms, mm or rad.
type problem struct {
	ctx     context.Context
	c       design.Case
	pattern spring.Pattern
	box     lsq.Box
	width   []float64      // of the box
	axes    []lattice.Axis // of the numbers that a hand can bend
	// sample is what all designs are judged by in the hand of the case's bender; nil for a
	// perfect one.
	sample [][]float64
}

func newProblem(ctx context.Context, c design.Case, pattern spring.Pattern) *problem {
	p := &problem{ctx: ctx, c: c, pattern: pattern, sample: hand.SampleFor(c.Bender, len(pattern.Steps))}
	for _, f := range pattern.Freedoms {
		p.box.Lower = append(p.box.Lower, f.Min)
		p.box.Upper = append(p.box.Upper, f.Max)
		p.width = append(p.width, f.Max-f.Min)
		// Angles count from their neutral value, so that "no bend" is always on the grid.
		p.axes = append(p.axes, lattice.Axis{Min: f.Min, Max: f.Max, Origin: f.Neutral, Step: f.Grid})
	}
	return p
}

// spring is the one of a design.
func (p *problem) spring(x []float64) spring.Spring {
	return p.c.SeatedSpring(p.pattern.PathFor(x))
}

// searched is a spring as the search holds it, without a path.
func (p *problem) searched() spring.Spring { return p.c.SeatedSpring(spring.Path{}) }

// bends counts the bends and twists of a design, plain corners included.
func (p *problem) bends(x []float64) int { return p.pattern.PathFor(x).Bends() }

// preBends counts the pre-activation bends of a design, however small.
func (p *problem) preBends(x []float64) int {
	count := 0
	for j, f := range p.pattern.Freedoms {
		if f.Angle && math.Abs(x[j]-f.Neutral) > 1e-9 {
			count++
		}
	}
	return count
}

// tooMany is how many bends a design has beyond what is allowed.
func (p *problem) tooMany(x []float64) int {
	if most := p.c.Limits.MostBends; most > 0 {
		return max(0, p.bends(x)-most)
	}
	return 0
}

// What bends cost, in points: one of a hundred springs more then buys one more bend that is not a
// plain corner, and one in five an angle that a protractor has no long line for (choices: each is
// one more thing to make and to check on the bench).
const (
	bendCost   = 1
	unevenCost = 0.2
	evenRad    = 5 * math.Pi / 180
)

// bendsCost is the cost of the pre-activation bends of a design, and of bends beyond what is
// allowed.
func (p *problem) bendsCost(x []float64) float64 {
	sum := missedCost * float64(p.tooMany(x))
	for j, f := range p.pattern.Freedoms {
		if !f.Angle || math.Abs(x[j]-f.Neutral) <= 1e-9 {
			continue
		}
		sum += bendCost
		if lines := x[j] / evenRad; math.Abs(lines-math.Round(lines)) > 1e-9 {
			sum += unevenCost
		}
	}
	return sum
}

// fragileCost is the cost of a design of which no bent spring would meet the target: a point for
// each of a hundred.
const fragileCost = 100

// fragility is the cost of the springs that the case's bender would bend in vain from a design,
// by the linear model.
func (p *problem) fragility(x []float64) float64 {
	if p.sample == nil {
		return 0
	}
	l, ok := p.linearAt(x)
	if !ok {
		return fragileCost
	}
	return fragileCost * (1 - l.SmoothShare(p.sample))
}

// linearAt is the linear model of the case's bender about a design. It reports false where there
// is none.
func (p *problem) linearAt(x []float64) (hand.Linear, bool) {
	h := hand.New(p.c, p.spring(x))
	return h.Linear()
}

// share is that of the springs bent from a design that meet the target, by the linear model.
func (p *problem) share(x []float64) float64 {
	if p.sample == nil {
		return 1
	}
	l, ok := p.linearAt(x)
	if !ok {
		return 0
	}
	return l.Share(p.sample)
}
