package optimize

import (
	"math/rand/v2"
	"slices"

	"springwright/optimize/lsq"
)

// Where a figure of cases is given, so many random ones were searched with the number and with
// another one (TestQualityCosts; the mean of twelve is good to about 2 %).
const (
	exploreRounds = 4
	enoughGain    = 0.3 // points: a round that gains less is the last (choice)
	kicks         = 8
	// A kick moves one number by up to so many steps of the grid; the others follow for so
	// many iterations before all are brought back onto it (choices).
	kickLengthSteps, kickAngleSteps = 3, 9
	kickIterations                  = 6
	// The surrogate is trusted so many steps about its centre, a little more than a kick: with half
	// of it twelve cases cost the same, with twice of it seven cost 17 % more.
	trustLengthSteps, trustAngleSteps = 4, 10
	// Points of a surrogate that are listed and looked at in one descent: fewer than for the
	// loads themselves, for there are many descents and none of them has the last word (choice).
	surrogateListed, surrogateVisits = 60, 5000
	surrogateTrials                  = 6 // of its best points that are tried out
)

// explorer looks for better numbers about designs on the grid.
type explorer struct {
	p       *problem
	worker  *objective
	numbers *rand.Rand
}

// explore looks about a settled design on models of its loads and of their spread, which are so
// cheap that it can be kicked about on the grid, and goes on from what holds for the loads themselves.
func (e explorer) explore(best candidate) candidate {
	for range exploreRounds {
		trusted, steps := trustedAbout(e.p, e.p.box, best.x)
		land, spread, ok := newModels(e.p, e.worker, best.x, steps)
		if !ok || e.p.ctx.Err() != nil {
			return best
		}
		better := e.triedOut(e.kickAbout(best, land, trusted, spread), best)
		gain := best.cost.total(onGrid()) - better.cost.total(onGrid())
		best = better
		if gain < enoughGain {
			break
		}
	}
	return best
}

// trustedAbout is the part of bounds in which models about a centre are trusted, and the
// steps that they are made from, 0 for what is held.
func trustedAbout(p *problem, within lsq.Box, centre []float64) (trusted lsq.Box, steps []float64) {
	trusted, steps = within.Clone(), make([]float64, len(centre))
	for j, f := range p.pattern.Freedoms {
		if trusted.Fixed(j) || f.Grid <= 0 {
			continue
		}
		reach := trustLengthSteps * f.Grid
		if f.Angle {
			reach = trustAngleSteps * f.Grid
		}
		trusted.Lower[j] = max(trusted.Lower[j], centre[j]-reach)
		trusted.Upper[j] = min(trusted.Upper[j], centre[j]+reach)
		steps[j] = reach / 2
		if centre[j]+steps[j] > trusted.Upper[j] {
			steps[j] = -steps[j]
		}
	}
	return trusted, steps
}

// kickAbout returns the different points of the grid that kicks about a design lead to on the
// models, best first. Each goes on from the best so far.
func (e explorer) kickAbout(from candidate, land *surrogate, trusted lsq.Box, spread *spreadModel) []candidate {
	c := newClimber(e.p, land, spread, trusted)
	d := newDescent(e.p, land, trusted, func([]float64) float64 { return 0 }, make([]float64, len(from.x)))
	d.listed, d.visits = surrogateListed, surrogateVisits
	from = c.climb(from.x)
	pool := []candidate{from}
	for range kicks {
		x, held, ok := e.kicked(from.x, trusted)
		if !ok {
			continue
		}
		e.p.descend(land, inHand(), held, x, kickIterations)
		found := c.climb(d.settle(x).x)
		if !slices.ContainsFunc(pool, func(c candidate) bool { return slices.Equal(c.x, found.x) }) {
			pool = append(pool, found)
		}
		if cheaper(found.cost, from.cost, onGrid()) < 0 {
			from = found
		}
	}
	return rank(pool, onGrid(), surrogateTrials)
}

// kicked moves one number of a point of the grid within a box, and holds it there. It
// reports false where the number could not move.
func (e explorer) kicked(from []float64, within lsq.Box) (x []float64, held lsq.Box, ok bool) {
	x = slices.Clone(from)
	j := e.numbers.IntN(len(x))
	axis, most := e.p.axes[j], kickLengthSteps
	if e.p.pattern.Freedoms[j].Angle {
		most = kickAngleSteps
	}
	steps := float64(1 + e.numbers.IntN(most))
	if e.numbers.IntN(2) == 0 {
		steps = -steps
	}
	x[j] = axis.Nearest(within.Clip(j, x[j]+steps*axis.Step))
	return x, within.Hold(j, x[j]), x[j] != from[j]
}

// triedOut is the best of a pool and of a design by their own loads and spread.
func (e explorer) triedOut(pool []candidate, best candidate) candidate {
	rows := newRows(e.worker)
	for _, c := range pool {
		total := best.cost.total(onGrid())
		if slices.Equal(c.x, best.x) || !e.worker.look(c.x, onGrid(), lsq.ToTheEnd, rows) {
			continue
		}
		c.cost = rows.cost()
		c.cost.bends = e.p.bendsCost(c.x)
		if c.cost.total(onGrid()) >= total {
			continue
		}
		if c.cost.fragility = e.p.fragility(c.x); c.cost.total(onGrid()) < total {
			best = c
		}
	}
	return best
}
