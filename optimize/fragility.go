package optimize

import (
	"context"

	"springwright/design"
	"springwright/design/beam"
	"springwright/design/spring"
)

// fragileCost is the cost of a design of which no bent spring would meet the target, beside
// one that always does. It is that of one aimed load at the edge of its tolerance: a design
// that does right on paper may be that much worse than another if a hand can bend it. A
// share of 4 % more then buys one more bend.
const fragileCost = 0.5

// sampleFor is the sample that all finalists of a search are judged by; nil for a perfect
// bender, in whose hands all are alike.
func (s *searcher) sampleFor(b design.Bender) [][]float64 {
	if b.Perfect() {
		return nil
	}
	return normalSample(fixedSample, len(sourcesOf(b, spring.Path{}))+len(s.pattern.Steps))
}

// fragility is the cost of the springs that the case's bender would bend in vain from the
// design x, by the linear model.
func (s *searcher) fragility(x []float64, sample [][]float64) float64 {
	if sample == nil {
		return 0
	}
	l, ok := s.linearAt(x)
	if !ok {
		return fragileCost
	}
	return fragileCost * (1 - l.share(sample))
}

// linearAt is the linear model of the case's bender about the design x. It reports false
// where there is none.
func (s *searcher) linearAt(x []float64) (linear, bool) {
	spring := s.c.SpringFor(s.pattern.PathFor(x))
	h := newHand(s.c, spring)
	return h.propagate(beam.NewSolver(spring.Rod(), beam.Origin(), searchAccuracy))
}

// bendInTrial fills in Robust and the record's spread, where the case asks for it and the
// spring is one whose elastic loads say what it does.
func (r *Result) bendInTrial(ctx context.Context, c design.Case, workers int) error {
	if c.Bender.Springs <= 0 || c.Bender.Perfect() || r.Evaluation.History || r.After.StressRatio > 1 {
		return nil
	}
	robust, err := Bent(ctx, c, r.Spring, c.Bender.Springs, c.Search.Seed, workers)
	if err != nil {
		return err
	}
	r.Robust = robust
	r.Evaluation.Record.Spread = &robust.Spread
	return nil
}
