package optimize

import (
	"cmp"
	"math"
	"slices"

	"springwright/optimize/lsq"
)

const (
	// A bend is given up while the target is still met with this share of its tolerances, after so
	// many iterations at half of the bend and at none (choices). Without giving up any 21 random
	// two-slot cases cost 0.4 % more at 12 % less time.
	sparseWorst      = 0.6
	sparseIterations = 4
	// Of so many of the best finalists; of all four twelve cases cost the same at 16 % more time.
	thinnedFinalists = 1
)

// thinned is a design on its way to fewer bends, and the bounds that keep those given up.
type thinned struct {
	candidate
	within lsq.Box
}

// thin is the third stage: bends that the target does not need are given up, one after the other,
// as long as the rest of the numbers can make up for it. It returns what becomes of each finalist
// on the way, the last one with the fewest bends, and what the bends of the best one cost.
func thin(p *problem, crew *crew, finest []candidate) ([][]thinned, []Spared) {
	stages := unthinned(p, finest)
	crew.each(crew.workers, min(len(finest), thinnedFinalists), func(i int, worker *objective) {
		stages[i] = thinner{p, worker}.thin(finest[i])
	})
	var spared []Spared
	if len(stages) > 0 && len(stages[0]) > 0 && stages[0][0].cost.met() {
		for _, t := range stages[0] {
			spared = append(spared, Spared{p.preBends(t.x), t.cost.misses})
		}
	}
	return stages, spared
}

// unthinned are the finalists with all their bends.
func unthinned(p *problem, finest []candidate) [][]thinned {
	stages := make([][]thinned, len(finest))
	for i, c := range finest {
		stages[i] = []thinned{{c, p.box}}
	}
	return stages
}

// thinner gives up the bends of one design after the other.
type thinner struct {
	p      *problem
	worker *objective
}

// thin gives up pre-activation bends, the smallest first.
func (t thinner) thin(finest candidate) []thinned {
	stages := []thinned{{finest, t.p.box}}
	if !finest.cost.met() {
		return stages
	}
	now := stages[0]
	var angles []int
	for j, f := range t.p.pattern.Freedoms {
		if f.Angle {
			angles = append(angles, j)
		}
	}
	bend := func(j int) float64 { return math.Abs(finest.x[j] - t.p.pattern.Freedoms[j].Neutral) }
	slices.SortStableFunc(angles, func(a, b int) int { return cmp.Compare(bend(a), bend(b)) })
	for _, j := range angles {
		trial, within := t.without(j, now)
		if trial.cost.solved() && trial.cost.misses <= max(sparseWorst, now.cost.misses) {
			now = thinned{priced(t.p, trial), within}
			stages = append(stages, now)
		}
	}
	return stages
}

// without searches again with number j at its neutral value, going there in two steps so that the
// others can follow. It has no solution where that fails.
func (t thinner) without(j int, from thinned) (candidate, lsq.Box) {
	neutral := t.p.pattern.Freedoms[j].Neutral
	trial := candidate{x: slices.Clone(from.x)}
	for _, v := range [...]float64{(neutral + from.x[j]) / 2, neutral} {
		trial = t.p.descend(t.worker, inHand(), from.within.Hold(j, v), trial.x, sparseIterations)
		if !trial.cost.solved() {
			break
		}
	}
	return trial, from.within.Hold(j, neutral)
}

// allowed goes on giving up bends until no more are left than the case allows, each time the
// one that is missed least, whether the target is still met or not.
func (t thinner) allowed(now thinned) thinned {
	for t.p.tooMany(now.x) > 0 && t.p.ctx.Err() == nil {
		best := thinned{candidate{cost: unsolved()}, now.within}
		for j, f := range t.p.pattern.Freedoms {
			if !f.Angle || f.Neutral != 0 || now.x[j] == 0 || f.Min > 0 || f.Max < 0 {
				continue
			}
			trial, within := t.without(j, now)
			if !trial.cost.solved() { // too far to follow: begin anew where the wire closes
				trial.x = slices.Clone(now.x)
				t.p.descend(newClosing(t.worker), inHand(), within, trial.x, closeIterations)
				trial = t.p.descend(t.worker, inHand(), within, trial.x, lastIterations)
			}
			if cheaper(trial.cost, best.cost, inHand()) < 0 {
				best = thinned{trial, within}
			}
		}
		if best.x == nil {
			break
		}
		now = best
	}
	return now
}
