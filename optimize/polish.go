package optimize

import "slices"

// How many points are polished, by how many iterations each over all positions of the travel, for
// the target and for what is preferred beside it, and how many of them go on. With half or twice the
// iterations for what is preferred twelve random cases cost 0.7 and 1.7 % more; with none two-slot
// springs cost 2 % less, 12 springs with hooks 20 % more, and one missed its target. The rest are
// choices.
const (
	semifinalists    = 4
	lastIterations   = 10
	preferIterations = 15
	finalists        = 4
)

// polish is the second stage: the best points are brought to the target over the whole travel, and
// then to what is preferred beside it. It returns those found for the target alone, and the
// finalists, by what they cost in the bender's hand, both best first.
func polish(p *problem, crew *crew, plan plan, scattered []candidate) (free, finest []candidate) {
	best := scattered[:min(len(scattered), plan.effort*plan.semifinalists)]
	free = improved(p, crew, crew.workers, best, lastIterations)
	finest = make([]candidate, len(free))
	crew.share(crew.workers, len(free), func(i int, worker *objective) {
		finest[i] = priced(p, preferred(p, free[i], worker))
	})
	return free, rank(finest, inHand(), plan.effort*plan.finalists)
}

// priced fills in what a design costs beside its rows.
func priced(p *problem, d candidate) candidate {
	d.cost.bends, d.cost.fragility = p.bendsCost(d.x), p.fragility(d.x)
	return d
}

// preferred goes on from a candidate that was found for the target alone to what is better
// for a spring beside it, such as smaller bends, as long as the target does not suffer.
func preferred(p *problem, from candidate, worker *objective) candidate {
	to := p.descend(worker, inHand(), p.box, slices.Clone(from.x), preferIterations)
	if from.cost.met() && to.cost.misses > max(sparseWorst, from.cost.misses) {
		return from
	}
	return to
}
