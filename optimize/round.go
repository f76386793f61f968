package optimize

import (
	"math/rand/v2"
	"slices"
)

const (
	// So many stages of giving up bends are brought onto the grid, and of one finalist at
	// most so many: of 2 twelve random cases cost 1.5 % more at 9 % less time, of 8 as much at 8 %
	// more.
	mostSettled     = 4
	mostOfAFinalist = 2
	explored        = 2 // of these the best are explored about
)

// round is the last stage: what promises most is brought onto numbers that a hand can bend, with
// no more bends than are allowed, and the best of it is kicked about for better numbers nearby.
func round(p *problem, crew *crew, plan plan, stages [][]thinned) []candidate {
	promising := mostPromising(stages, plan)
	settled := make([]candidate, len(promising))
	crew.share(crew.workers, len(promising), func(i int, worker *objective) {
		t := thinner{p, worker}.allowed(promising[i])
		settled[i] = newDescent(p, worker, t.within).settle(t.x)
		settled[i].cost.fragility = p.fragility(settled[i].x)
		crew.show(p, settled[i], showSettled)
	})
	best := make([]int, len(settled))
	for i := range best {
		best[i] = i
	}
	slices.SortStableFunc(best, func(a, b int) int { return cheaper(settled[a].cost, settled[b].cost, onGrid()) })
	crew.share(crew.workers, min(plan.effort*plan.explored, len(best)), func(i int, worker *objective) {
		numbers := rand.New(rand.NewPCG(p.c.Search.Seed, uint64(plan.pass)<<32|uint64(i)))
		at := &settled[best[i]]
		*at = explorer{p: p, worker: worker, numbers: numbers}.explore(*at)
		crew.show(p, *at, showSettled)
	})
	return settled
}

// mostPromising are the stages of all finalists that promise most: on the grid they will cost at
// least about what they cost with every number left free.
func mostPromising(stages [][]thinned, plan plan) []thinned {
	type place struct{ finalist, stage int }
	var places []place
	for i, list := range stages {
		for k := range list {
			places = append(places, place{i, k})
		}
	}
	costOf := func(a place) cost { return stages[a.finalist][a.stage].cost }
	slices.SortStableFunc(places, func(a, b place) int { return cheaper(costOf(a), costOf(b), inHand()) })
	var chosen []thinned
	taken := make([]int, len(stages))
	for _, a := range places {
		if taken[a.finalist] < mostOfAFinalist && len(chosen) < plan.effort*plan.settled {
			chosen = append(chosen, stages[a.finalist][a.stage])
			taken[a.finalist]++
		}
	}
	return chosen
}
