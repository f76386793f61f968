package optimize

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

const (
	steadyIterations = 8
	leastFragility   = 0.02 // below it a linear model promises too much
)

// leaning is a problem that has the fragility as one more residual, linear about a design.
type leaning struct {
	leastSquares
	at        []float64
	fragility float64
	slope     []float64
}

func (l *leaning) size() (variables, residuals int) {
	variables, residuals = l.leastSquares.size()
	return variables, residuals + 1
}

// fragilityAt is that of the linear model, and whether it is above what it may promise.
func (l *leaning) fragilityAt(x []float64) (fragility float64, above bool) {
	fragility = l.fragility + rise(l.slope, l.at, x)
	return max(fragility, leastFragility), fragility > leastFragility
}

// rise is how much a function of such a slope rises from one point to another.
func rise(slope, from, to []float64) float64 {
	var sum float64
	for j := range to {
		sum += slope[j] * (to[j] - from[j])
	}
	return sum
}

// residuals implements leastSquares: half the square of the last one is the fragility.
func (l *leaning) residuals(x, r []float64, jacobian *mat.Dense, enough float64) bool {
	last := len(r) - 1
	fragility, above := l.fragilityAt(x)
	var others *mat.Dense
	if jacobian != nil {
		jacobian.Zero()
		others = jacobian.Slice(0, last, 0, len(x)).(*mat.Dense)
	}
	if !l.leastSquares.residuals(x, r[:last], others, enough-fragility) {
		return false
	}
	r[last] = math.Sqrt(2 * fragility)
	if jacobian != nil && above {
		for j, slope := range l.slope {
			jacobian.Set(last, j, slope/r[last])
		}
	}
	return true
}

// finalist is a design with every number left free, and how much more fragile it gets by a
// unit of each.
type finalist struct {
	candidate
	tilt []float64
}

// steadied goes on from a candidate that meets the target to where a bender bends fewer
// springs in vain. It also returns the cost with the fragility.
func (s *searcher) steadied(from candidate, worker *objective, sample [][]float64) (steady finalist, inHand float64) {
	fragility := s.fragility(from.x, sample)
	trusted, steps := s.trustedAbout(from.x)
	steady = finalist{from, s.newSpreadModel(from.x, steps, sample).slope(s.grid())}
	if sample == nil || s.worst(from.x, worker) > 1 {
		return steady, from.cost + fragility
	}
	land := &leaning{leastSquares: worker, at: from.x, fragility: fragility, slope: steady.tilt}
	to := candidate{x: slices.Clone(from.x)}
	to.cost = newLevenberg(land, trusted, s.width).minimise(to.x, steadyIterations)
	promised, _ := land.fragilityAt(to.x)
	to.cost -= promised
	if found := s.fragility(to.x, sample); to.cost+found < from.cost+fragility {
		steady.candidate, fragility = to, found
	}
	return steady, steady.cost + fragility
}
