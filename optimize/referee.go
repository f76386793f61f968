package optimize

import (
	"slices"

	"springwright/optimize/hand"
)

const (
	// So many of the designs that cost least by the linear model of the hand are bent in trial before
	// one is chosen, with so many springs each, the same errors for all. Together with the model, which
	// is wrong about few of them, they tell a share within some two in a hundred (choices).
	refereed       = 4
	refereeSprings = 96
	// A design further behind is left out (choice: points that the model is seldom wrong by).
	refereeWithin = 15
)

// referee is the best of designs on the grid, after those that cost least have been bent in trial.
func referee(p *problem, crew *crew, plan plan, designs []candidate) candidate {
	best := rank(designs, onGrid(), len(designs))
	if len(best) == 0 {
		return designs[0]
	}
	best = slices.CompactFunc(best, func(a, b candidate) bool { return slices.Equal(a.x, b.x) })
	count := 1
	for count < min(len(best), plan.effort*refereed) && best[count].cost.total(onGrid()) <= best[0].cost.total(onGrid())+refereeWithin {
		count++
	}
	if p.sample == nil || plan.screening || count == 1 || !best[0].cost.met() {
		return best[0]
	}
	tried := best[:count]
	crew.share(crew.workers, len(tried), func(i int, _ *objective) {
		h := hand.New(p.c, p.spring(tried[i].x))
		if l, ok := h.Linear(); ok {
			if more, err := h.Beside(l, p.sample[:min(len(p.sample), refereeSprings)]); err == nil {
				tried[i].cost.fragility = fragileCost * (1 - l.SmoothShare(p.sample) - more)
				return
			}
		}
		tried[i].cost.fragility = fragileCost
	})
	return rank(tried, onGrid(), 1)[0]
}
