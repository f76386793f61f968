package optimize

import (
	"errors"
	"slices"
)

// found is what the stages of a search come to.
type found struct {
	free    candidate   // the best with every number left free, found for the target
	settled []candidate // the finalists on bendable numbers
	chosen  candidate
	spared  []Spared    // of the best
	sample  [][]float64 // what fragility was judged by
}

// A target that takes more than hardCost, about a whole tolerance for the worst load and half
// of one for others, gets further passes from other starting points, unless it is hopeless:
// missed by more than a whole tolerance.
const (
	hardCost     = 1
	hopelessCost = missCost
	mostPasses   = 2
)

// find runs the passes of the search: one, unless the target is hard. The errors are
// ErrNothingSolved and that of the searcher's context.
func (s *searcher) find() (found, error) {
	f, err := s.onePass()
	if s.c.Search.Starts > 0 { // as many as were asked for, and no more
		return f, err
	}
	for s.passes = 1; s.passes < mostPasses && err == nil && f.chosen.cost > hardCost && f.chosen.cost < hopelessCost; s.passes++ {
		more, again := s.onePass()
		switch {
		case errors.Is(again, ErrNothingSolved):
		case again != nil:
			err = again
		case more.chosen.cost < f.chosen.cost:
			more.settled = append(f.settled, more.settled...)
			f = more
		default:
			f.settled = append(f.settled, more.settled...)
		}
	}
	return f, err
}

// onePass runs the stages of the search once.
func (s *searcher) onePass() (found, error) {
	few := func(n int) int { return min(s.starts(), s.effort*n) }
	s.total += s.starts() + few(semifinalists) + few(quarterfinalists) + few(finalists)
	sample := s.sampleFor(s.c.Bender)
	free, finest := s.continuous(sample)
	f := found{sample: sample}
	if err := s.ctx.Err(); err != nil {
		return found{}, err
	}
	if len(free) == 0 {
		return found{}, ErrNothingSolved
	}
	stages := make([][]stage, len(finest))
	spared := make([][]Spared, len(finest))
	s.each(s.workers, len(finest), func(i int, worker *objective) {
		stages[i], spared[i] = s.sparse(finest[i], worker)
		for k, t := range stages[i] {
			stages[i][k].promised = s.promise(t, sample)
		}
	})
	promising := s.promising(stages)
	f.settled = make([]candidate, len(promising))
	s.share(s.workers, len(promising), func(i int, worker *objective) {
		f.settled[i] = s.settleStage(promising[i], worker, sample)
	})
	if err := s.ctx.Err(); err != nil {
		return found{}, err
	}
	f.spared = spared[0]
	s.exploreBest(f.settled, sample)
	f.chosen = cheapest(f.settled)
	f.free = s.loosened(f.chosen, free[0])
	return f, s.ctx.Err()
}

// loosened is what becomes of a design on bendable numbers with every number left free
// again, or another free design where that meets the target better.
func (s *searcher) loosened(settled, other candidate) candidate {
	s.prefer(freePreference)
	defer s.prefer(1)
	free := candidate{x: slices.Clone(settled.x)}
	free.cost = newLevenberg(s.workers[0], s.box, s.width).minimise(free.x, lastIterations)
	if free.cost < other.cost {
		return free
	}
	return other
}
