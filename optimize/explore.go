package optimize

import (
	"math/rand/v2"
	"slices"

	"springwright/optimize/lsq"
)

// Where a figure of cases is given, so many random ones were searched with the number and with
// another one (TestQualityCosts; the mean of twelve is good to about 2 %).
const (
	exploreRounds = 2  // choice; without exploring 21 cases cost 14 % more
	kicks         = 16 // with 8 twelve cases cost 1.4 % more at 6 % less time, with 32 as much at 14 % more
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
	// So many of its best points are tried out, and gone down from. From 1 twelve cases cost
	// 0.3 % more, from 4 0.2 % less at 3 % more time.
	surrogateTrials, surrogateDescents = 24, 2
	// A point that costs more than this, as a share of the best there is, is not gone down
	// from (choice).
	hopelessShare = 1.3
)

// explorer looks for better numbers about designs on the grid.
type explorer struct {
	p       *problem
	worker  *objective
	numbers *rand.Rand
}

// explore looks about a settled design on a surrogate of its loads, which is so cheap that
// it can be kicked about on the grid, and goes on from what holds for the loads themselves.
func (e explorer) explore(best candidate) candidate {
	for range exploreRounds {
		trusted, steps := trustedAbout(e.p, e.p.box, best.x)
		land, ok := newSurrogate(e.worker, best.x, steps)
		if !ok || e.p.ctx.Err() != nil {
			return best
		}
		spread := newSpreadModel(e.p, e.p.box, best.x)
		tilt := spread.slope(e.p)
		pool := e.kickAbout(best, land, trusted, spread, tilt)
		improved := false
		exact := newDescent(e.p, e.worker, e.p.box, e.p.fragility, tilt)
		for _, c := range e.triedOut(pool, exact, hopelessShare*best.cost.total(onGrid())) {
			if found := exact.down(c.x); cheaper(found.cost, best.cost, onGrid()) < 0 {
				best, improved = found, true
			}
		}
		if !improved {
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

// kickAbout returns the different points of the grid that kicks about a design lead to on a
// surrogate. Each goes on from the best so far.
func (e explorer) kickAbout(from candidate, land *surrogate, trusted lsq.Box, spread *spreadModel, tilt []float64) []candidate {
	fragility := func([]float64) float64 { return 0 }
	if spread != nil {
		room := newRows(land)
		fragility = func(x []float64) float64 {
			land.look(x, onGrid(), lsq.ToTheEnd, room)
			return spread.fragility(x, room.termLoads())
		}
	}
	d := newDescent(e.p, land, trusted, fragility, tilt)
	d.listed, d.visits = surrogateListed, surrogateVisits
	var pool []candidate
	for range kicks {
		x, held, ok := e.kicked(from.x, trusted)
		if !ok {
			continue
		}
		e.p.descend(land, inHand(), held, x, kickIterations)
		found := d.settle(x)
		if !slices.ContainsFunc(pool, func(c candidate) bool { return slices.Equal(c.x, found.x) }) {
			pool = append(pool, found)
		}
		if cheaper(found.cost, from.cost, onGrid()) < 0 {
			from = found
		}
	}
	return pool
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

// triedOut returns the best of a surrogate's points by their own loads, if they cost less than
// enough.
func (e explorer) triedOut(pool []candidate, exact *descent, enough float64) []candidate {
	var tried []candidate
	for _, c := range rank(pool, onGrid(), surrogateTrials) {
		if !exact.land.look(c.x, onGrid(), enough, exact.there) {
			continue
		}
		if c.cost = exact.priced(exact.there, c.x, 0); c.cost.total(onGrid()) < enough {
			c.cost.fragility = e.p.fragility(c.x)
			tried = append(tried, c)
		}
	}
	return rank(tried, onGrid(), surrogateDescents)
}
