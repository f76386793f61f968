package optimize

import (
	"math/rand/v2"
	"slices"
)

const (
	explored      = 2 // settled designs that are explored about
	exploreRounds = 2
	kicks         = 16
	// A kick moves one number by up to so many steps of the grid; the others follow for so
	// many iterations before all are brought back onto it.
	kickLengthSteps, kickAngleSteps = 3, 9
	kickIterations                  = 6
	// The surrogate is trusted so many steps about its centre.
	trustLengthSteps, trustAngleSteps = 4, 10
	// Points of a surrogate that are listed and looked at in one descent: fewer than for the
	// loads themselves, for there are many descents and none of them has the last word.
	surrogateListed, surrogateVisits = 60, 5000
	// So many of its best points are tried out, and gone down from.
	surrogateTrials, surrogateDescents = 24, 2
	// A point that costs more than this, as a share of the best there is, is not gone down
	// from.
	hopelessShare = 1.3
)

// exploreBest replaces the best of the settled designs by better ones found about them.
func (s *searcher) exploreBest(settled []candidate, sample [][]float64) {
	costs := make([]float64, len(settled))
	for i, c := range settled {
		costs[i] = c.cost
	}
	places := cheapestFirst(costs)
	s.share(s.workers, min(s.effort*explored, len(places)), func(i int, worker *objective) {
		numbers := rand.New(rand.NewPCG(s.c.Search.Seed, uint64(s.passes)<<32|uint64(i)))
		at := &settled[places[i]]
		*at = s.explore(*at, worker, sample, numbers)
	})
}

// explore looks about a settled design on a surrogate of its loads, which is so cheap that
// it can be kicked about on the grid, and goes on from what holds for the loads themselves.
func (s *searcher) explore(best candidate, worker *objective, sample [][]float64, numbers *rand.Rand) candidate {
	fragility := func(x []float64) float64 { return s.fragility(x, sample) }
	for range exploreRounds {
		centre := best.x
		trusted, steps := s.trustedAbout(centre)
		land, ok := newSurrogate(worker, centre, steps)
		if !ok || s.ctx.Err() != nil {
			return best
		}
		spread := s.newSpreadModel(centre, steps, sample)
		tilt := spread.slope(s.grid())
		pool := s.kickAbout(best, land, trusted, spread, tilt, numbers)
		improved := false
		exact := s.newDescent(worker, s.box, fragility, tilt)
		for _, c := range s.triedOut(pool, worker, fragility, hopelessShare*best.cost) {
			if found := exact.down(c.x); found.cost < best.cost {
				best, improved = found, true
			}
		}
		if !improved {
			break
		}
	}
	return best
}

// trustedAbout is the part of the bounds in which models about a centre are trusted, and the
// steps that they are made from, 0 for what is held.
func (s *searcher) trustedAbout(centre []float64) (trusted box, steps []float64) {
	trusted = box{slices.Clone(s.box.lower), slices.Clone(s.box.upper)}
	steps = make([]float64, len(centre))
	for j, f := range s.pattern.Freedoms {
		if trusted.lower[j] == trusted.upper[j] || f.Grid <= 0 {
			continue
		}
		reach := trustLengthSteps * f.Grid
		if f.Angle {
			reach = trustAngleSteps * f.Grid
		}
		trusted.lower[j] = max(trusted.lower[j], centre[j]-reach)
		trusted.upper[j] = min(trusted.upper[j], centre[j]+reach)
		steps[j] = reach / 2
		if centre[j]+steps[j] > trusted.upper[j] {
			steps[j] = -steps[j]
		}
	}
	return trusted, steps
}

// grid is the step of each number, 0 for those without one.
func (s *searcher) grid() []float64 {
	steps := make([]float64, len(s.pattern.Freedoms))
	for j, f := range s.pattern.Freedoms {
		steps[j] = f.Grid
	}
	return steps
}

// kickAbout returns the different points of the grid that kicks about a design lead to on a
// surrogate. Each goes on from the best so far.
func (s *searcher) kickAbout(from candidate, land *surrogate, trusted box, spread *spreadModel, tilt []float64, numbers *rand.Rand) []candidate {
	fragility := func([]float64) float64 { return 0 }
	problem := leastSquares(land)
	if spread != nil {
		fragility = func(x []float64) float64 { return spread.fragility(x, land.loads(x)) }
		problem = &leaning{leastSquares: land, at: from.x, fragility: fragility(from.x), slope: tilt}
	}
	d := s.newDescent(land, trusted, fragility, tilt)
	d.listed, d.visits = surrogateListed, surrogateVisits
	var pool []candidate
	for range kicks {
		x, held, ok := s.kicked(from.x, trusted, numbers)
		if !ok {
			continue
		}
		newLevenberg(problem, held, s.width).minimise(x, kickIterations)
		found := d.settle(x)
		if !slices.ContainsFunc(pool, func(c candidate) bool { return slices.Equal(c.x, found.x) }) {
			pool = append(pool, found)
		}
		if found.cost < from.cost {
			from = found
		}
	}
	return pool
}

// kicked moves one number of a point of the grid within a box, and holds it there. It
// reports false where the number could not move.
func (s *searcher) kicked(from []float64, within box, numbers *rand.Rand) (x []float64, held box, ok bool) {
	x, held = slices.Clone(from), box{slices.Clone(within.lower), slices.Clone(within.upper)}
	j := numbers.IntN(len(x))
	f := s.pattern.Freedoms[j]
	most := kickLengthSteps
	if f.Angle {
		most = kickAngleSteps
	}
	steps := float64(1 + numbers.IntN(most))
	if numbers.IntN(2) == 0 {
		steps = -steps
	}
	x[j] = s.onGrid(j, within.clip(j, x[j]+steps*f.Grid))
	held.lower[j], held.upper[j] = x[j], x[j]
	return x, held, x[j] != from[j]
}

// triedOut returns the best of a surrogate's points by their own loads.
func (s *searcher) triedOut(pool []candidate, worker *objective, fragility func(x []float64) float64, enough float64) []candidate {
	_, m := worker.size()
	r := make([]float64, m)
	var tried []candidate
	for _, c := range s.rank(pool, surrogateTrials) {
		if !worker.residuals(c.x, r, nil, enough) {
			continue
		}
		if c.cost = halfSquares(r) + missedCost(worker) + s.bendCost(c.x); c.cost < enough {
			c.cost += fragility(c.x)
			tried = append(tried, c)
		}
	}
	return s.rank(tried, surrogateDescents)
}
