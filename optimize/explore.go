package optimize

import (
	"fmt"
	"math/rand/v2"
	"os"
	"slices"

	"springwright/optimize/lsq"
)

// Where a figure of cases is given, so many random ones were searched with the number and with
// another one (TestQualityCosts; the mean of twelve is good to about 2 %).
const (
	exploreRounds = 6
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
	rows    *rows // room
}

// explore looks about a settled design on models of its loads and of their spread, which are so
// cheap that it can be kicked about on the grid, and goes on from what holds for the loads themselves.
func (e explorer) explore(best candidate) candidate {
	e.rows = newRows(e.worker)
	for round := range exploreRounds {
		trusted, steps := trustedAbout(e.p, e.p.box, best.x)
		land, spread, ok := newModels(e.p, e.worker, best.x, steps)
		if os.Getenv("DBG") != "" {
			fmt.Fprintf(os.Stderr, "  round %d total %.2f frag %.2f ok %v\n", round, best.cost.total(onGrid()), best.cost.fragility, ok)
		}
		if !ok || e.p.ctx.Err() != nil {
			return best
		}
		c := newClimber(e.p, land, spread, trusted)
		d := newDescent(e.p, land, trusted)
		d.listed, d.visits = surrogateListed, surrogateVisits
		better := e.triedOut(e.kickAbout(best.x, c, d), best)
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

// kickAbout returns the ways, each of points of the grid, that kicks about a design lead on by the
// models; what ends best comes first. Each goes on from the best end so far.
func (e explorer) kickAbout(from []float64, c *climber, d *descent) [][]candidate {
	end := func(way []candidate) candidate { return way[len(way)-1] }
	best := c.climb(from)
	ways := [][]candidate{best}
	for range kicks {
		x, held, ok := e.kicked(end(best).x, c.within)
		if !ok {
			continue
		}
		e.p.descend(d.land, inHand(), held, x, kickIterations)
		way := c.climb(d.settle(x).x)
		if slices.ContainsFunc(ways, func(w []candidate) bool { return slices.Equal(end(w).x, end(way).x) }) {
			continue
		}
		ways = append(ways, way)
		if cheaper(end(way).cost, end(best).cost, onGrid()) < 0 {
			best = way
		}
	}
	slices.SortStableFunc(ways, func(a, b []candidate) int { return cheaper(end(a).cost, end(b).cost, onGrid()) })
	return ways[:min(len(ways), surrogateTrials)]
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

// triedOut is the best of ways that start at a design by their own loads and spread: of each that ends
// worse than the design the middle is looked at, and so on back, for models are the better the nearer.
func (e explorer) triedOut(ways [][]candidate, best candidate) candidate {
	for _, way := range ways {
		for at := len(way) - 1; ; at /= 2 {
			if c, ok := e.betterThan(way[at].x, best); ok {
				best = c
				break
			}
			if at <= 1 {
				break
			}
		}
	}
	return best
}

// betterThan tells whether a point costs less than a design by its own loads and spread, and how much.
func (e explorer) betterThan(x []float64, best candidate) (candidate, bool) {
	total := best.cost.total(onGrid())
	if slices.Equal(x, best.x) || !e.worker.look(x, onGrid(), total, e.rows) {
		return best, false
	}
	c := candidate{x, e.rows.cost()}
	c.cost.bends = e.p.bendsCost(x)
	if c.cost.total(onGrid()) >= total {
		return best, false
	}
	c.cost.fragility = e.p.fragility(x)
	return c, c.cost.total(onGrid()) < total
}
