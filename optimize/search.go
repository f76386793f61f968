package optimize

import (
	"context"
	"errors"
	"slices"

	"springwright/design"
)

// Search returns the best spring for a case. Where the target cannot be met the result is
// the nearest spring and says what it misses and exceeds. The errors are those of
// design.Case.Validate, solve.NewSeatedPath, ErrNothingSolved, that of ctx, and those of design.PatternFor and
// design.Evaluate; with ErrYield the result is complete all the same.
func Search(ctx context.Context, c design.Case, o Options) (Result, error) {
	if err := c.Validate(); err != nil {
		return Result{}, err
	}
	return bestSpring(ctx, c, o)
}

// bestSpring is Search for a case that may go beyond what Validate allows, such as one with more
// room than there is.
func bestSpring(ctx context.Context, c design.Case, o Options) (Result, error) {
	r, _, err := costedSpring(ctx, c, o)
	return r, err
}

// costedSpring is bestSpring with what the spring costs on bendable numbers.
func costedSpring(ctx context.Context, c design.Case, o Options) (Result, float64, error) {
	pattern, err := o.patternFor(c)
	if err != nil {
		return Result{}, 0, err
	}
	p := newProblem(ctx, c, pattern)
	f, err := findInOneHand(p, o)
	if err != nil {
		return Result{}, 0, err
	}
	worker, err := newObjective(p.c, p.pattern, p.searched())
	if err != nil {
		return Result{}, 0, err
	}
	total := f.chosen.cost.total(onGrid())
	r, yields := newResult(p, worker, f)
	if yields != nil {
		return r, total, yields
	}
	r.Traits = traits(p, r.Spring, r.Evaluation, f.chosen.x)
	if len(p.pattern.Alike) > 0 && r.Met() && !o.screening {
		r.Evaluation.Record.Chosen = append(r.Evaluation.Record.Chosen, shapeOf(p, f))
	}
	if o.screening {
		return r, total, nil
	}
	r.Spared = f.spared
	if r.Met() {
		r.Alternatives = alternatives(p, worker, f.settled, f.chosen, r.Traits)
	}
	return r, total, r.bendInTrial(ctx, c, o.Workers)
}

// found is what the stages of a search come to.
type found struct {
	free        candidate   // the best with every number left free, found for the target
	settled     []candidate // the finalists on bendable numbers
	chosen      candidate   // the best of them
	spared      []Spared    // of the best finalist
	evaluations int
}

// plan is how a pass goes about it.
type plan struct {
	pass   int // from 0
	starts int // points that are scattered
	// effort multiplies the numbers of points that go from one stage to the next: 1, but for
	// cases that ask for so many times the usual starting points, and for searches that others
	// are held against.
	effort int
	ranks
	screening, yesOrNo bool // as in Options
}

// ranks are how many points or designs go into each stage of a pass, before its effort.
type ranks struct{ quarterfinalists, semifinalists, finalists, settled, explored int }

func planFor(c design.Case, o Options) plan {
	if o.screening {
		return plan{starts: screeningStarts, effort: 1, ranks: screeningRanks(), screening: true, yesOrNo: o.yesOrNo}
	}
	q := plan{
		starts: c.Search.Starts, effort: max(1, c.Search.Starts/defaultStarts),
		ranks: ranks{quarterfinalists, semifinalists, finalists, mostSettled, explored},
	}
	if q.starts <= 0 {
		q.starts = q.effort * defaultStarts
	}
	return q
}

// A target that is missed gets another pass from other starting points, unless it is hopeless:
// missed by more than twice a tolerance or slack. On case idle-23 of the tests only the second pass
// meets the target.
const (
	hopelessMiss = 3
	mostPasses   = 2
)

// find runs the passes of the search: one, unless the target is hard. The errors are
// ErrNothingSolved and that of the problem's context.
func find(p *problem, crew *crew, plan plan) (found, error) {
	f, err := pass(p, crew, plan)
	if p.c.Search.Starts > 0 || plan.screening { // as many as were asked for, and no more
		f.evaluations = crew.evaluations()
		return f, err
	}
	for err == nil && plan.pass+1 < mostPasses && f.chosen.cost.hard() {
		plan.pass++
		more, again := pass(p, crew, plan)
		switch {
		case errors.Is(again, ErrNothingSolved):
		case again != nil:
			err = again
		case cheaper(more.chosen.cost, f.chosen.cost, onGrid()) < 0:
			more.settled = append(f.settled, more.settled...)
			f = more
		default:
			f.settled = append(f.settled, more.settled...)
		}
	}
	f.evaluations = crew.evaluations()
	return f, err
}

// hard tells whether a target that costs so much gets another pass.
func (c cost) hard() bool {
	return !c.met() && c.misses < hopelessMiss
}

// pass runs the stages of the search once.
func pass(p *problem, crew *crew, plan plan) (found, error) {
	few := func(n int) int { return min(plan.starts, plan.effort*n) }
	crew.total += plan.starts + few(plan.quarterfinalists) + few(plan.semifinalists) + min(thinnedFinalists, few(plan.finalists))

	free, finest := polish(p, crew, plan, scatter(p, crew, plan))
	if err := p.ctx.Err(); err != nil {
		return found{}, err
	}
	if len(finest) == 0 {
		return found{}, ErrNothingSolved
	}
	crew.show(p, finest[0], showPolished)
	if plan.yesOrNo && finest[0].cost.misses > farFromMet {
		return found{}, errFarFromMet
	}
	stages, spared := unthinned(p, finest), []Spared(nil)
	if !plan.screening {
		stages, spared = thin(p, crew, finest)
	}
	rounded := round(p, crew, plan, stages)
	if err := p.ctx.Err(); err != nil {
		return found{}, err
	}
	chosen := slices.MinFunc(rounded, func(a, b candidate) int { return cheaper(a.cost, b.cost, onGrid()) })
	return found{
		free: loosened(p, crew.workers[0], chosen, free[0]), settled: rounded, chosen: chosen, spared: spared,
	}, p.ctx.Err()
}

// loosened is what becomes of a design on bendable numbers with every number left free
// again, or another free design where that meets the target better.
func loosened(p *problem, worker *objective, settled, other candidate) candidate {
	free := p.descend(worker, forTarget(), p.box, slices.Clone(settled.x), lastIterations)
	if cheaper(free.cost, other.cost, forTarget()) < 0 {
		return free
	}
	return other
}
