package optimize

import (
	"math"
	"slices"
)

// cheapestFirst lists the places of costs, ties in their order.
func cheapestFirst(costs []float64) []int {
	places := make([]int, len(costs))
	for i := range places {
		places[i] = i
	}
	slices.SortStableFunc(places, func(a, b int) int { return compare(costs[a], costs[b]) })
	return places
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

// candidate is a set of values of a pattern's freedoms and its cost.
type candidate struct {
	x    []float64
	cost float64
}

// rank returns the best candidates, at most most of them, best first; ties keep their order.
func (s *searcher) rank(candidates []candidate, most int) []candidate {
	var solved []candidate
	for _, c := range candidates {
		if c.x != nil && !math.IsInf(c.cost, 0) {
			solved = append(solved, c)
		}
	}
	slices.SortStableFunc(solved, func(a, b candidate) int { return compare(a.cost, b.cost) })
	return solved[:min(len(solved), most)]
}

// compare orders numbers for sorting.
func compare(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}
