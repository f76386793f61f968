package optimize

import (
	"math"
	"slices"
)

const (
	// Settled designs whose cost is within this of the best are near enough to become the
	// better one in a bender's hand: no difference in fragility could make up for more.
	nearEqual = fragileCost
	// Each number is tried out so many times, in turn with the others: more passes change
	// the share by less than its own error.
	steadyPasses = 2
)

// choose returns the best of the settled designs: those near the best are first moved on
// the grid, in settled, to where more springs of the sample meet the target. sample is nil
// for a perfect bender.
func (s *searcher) choose(settled []candidate, sample [][]float64) candidate {
	best := cheapest(settled)
	if sample == nil {
		return best
	}
	var near []int
	for i, c := range settled {
		if c.cost <= best.cost+nearEqual {
			near = append(near, i)
		}
	}
	steadied := make([]candidate, len(near))
	s.share(s.workers, len(near), func(i int, worker *objective) {
		steadied[i] = s.steady(settled[near[i]], worker, sample)
	})
	if s.ctx.Err() != nil {
		return best
	}
	for i, at := range near {
		settled[at] = steadied[i]
	}
	return cheapest(steadied)
}

// cheapest is the first of those that cost least.
func cheapest(candidates []candidate) candidate {
	best := candidates[0]
	for _, c := range candidates[1:] {
		if c.cost < best.cost {
			best = c
		}
	}
	return best
}

// steady moves one number after another by steps of its grid for as long as that makes a
// design better, fragility included. Bends that were given up stay so.
func (s *searcher) steady(from candidate, worker *objective, sample [][]float64) candidate {
	_, m := worker.size()
	r := make([]float64, m)
	// The fragility is looked at only where it can still decide.
	cost := func(x []float64, best float64) float64 {
		if !worker.residuals(x, r, nil) {
			return best
		}
		sum := worker.gridCost(r) + s.bendCost(x)
		if sum >= best {
			return best
		}
		return sum + s.fragility(x, sample)
	}
	best := from
	best.cost = cost(from.x, math.Inf(1))
	for range steadyPasses {
		before := best.cost
		for j, f := range s.pattern.Freedoms {
			if f.Grid <= 0 || f.Angle && best.x[j] == f.Neutral {
				continue
			}
			for _, change := range [...]float64{-f.Grid, f.Grid} {
				better := false
				for s.ctx.Err() == nil {
					trial := slices.Clone(best.x)
					trial[j] = s.onGrid(j, trial[j]+change)
					if trial[j] == best.x[j] {
						break
					}
					c := cost(trial, best.cost)
					if c >= best.cost {
						break
					}
					best.x, best.cost, better = trial, c, true
				}
				if better {
					break
				}
			}
		}
		if best.cost == before {
			break
		}
	}
	return best
}
