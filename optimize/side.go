package optimize

import (
	"context"

	"springwright/design"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/target"
)

// A case on the other side of the mouth is to get the mirrored spring. The mechanics sees to
// that, but random numbers, steps of differences and ties have a hand: they would lead a
// search on one side elsewhere than on the other. So the search itself runs in one hand,
// that of design.Case.Hand above 0, and what it finds for the other is mirrored.

// findInOneHand is find in the hand of all searches, in the numbers of the problem's own pattern.
func findInOneHand(p *problem, o Options) (found, error) {
	twin := p
	if p.c.Hand() < 0 {
		twin = newProblem(p.ctx, p.c.Mirrored(), p.pattern.Mirrored())
	}
	crew, err := newCrew(twin, o)
	if err != nil {
		return found{}, err
	}
	if o.Better != nil {
		crew.better = func(x []float64) {
			if twin != p {
				x = p.pattern.MirroredValues(x)
			}
			o.Better(p.c, p.spring(x))
		}
	}
	f, err := find(twin, crew, planFor(twin.c, o))
	if err != nil {
		return found{}, err
	}
	if twin == p {
		return f, nil
	}
	for _, c := range []*candidate{&f.free, &f.chosen} {
		c.x = p.pattern.MirroredValues(c.x)
	}
	for i := range f.settled {
		f.settled[i].x = p.pattern.MirroredValues(f.settled[i].x)
	}
	return f, nil
}

// Mirrored is what a search for the same case on the other side of the mouth comes to, without searching: its
// case, its spring and the spring's loads. The error is that of solve.Evaluate.
func (c Chosen) Mirrored(ctx context.Context) (design.Case, spring.Spring, solve.Evaluation, error) {
	twin, mirrored := c.Case.Mirrored(), c.Spring.Mirrored()
	mirrored.Shortfall = nil
	e, err := solve.Evaluate(ctx, mirrored, solve.Options{})
	if err != nil {
		return twin, mirrored, e, err
	}
	// What was found of springs bent in trial and of limits is the same in the mirror.
	short := target.Shortfall{Misses: twin.Misses(e.Record), Exceeded: c.Exceeded}
	e.Record.Spread, e.Record.Chosen, e.Record.Verdict = c.Evaluation.Record.Spread, c.Evaluation.Record.Chosen, &short
	if !short.None() {
		mirrored.Shortfall = &short
	}
	return twin, mirrored, e, nil
}
