package optimize

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"

	"springwright/design"
	"springwright/design/spring"
)

// bendCost is the cost of every bend that is not a plain corner.
const bendCost = 0.02

// bendCost is the cost of the pre-activation bends of a design, and of bends beyond what is
// allowed.
func (s *searcher) bendCost(x []float64) float64 {
	cost := bendCost * float64(s.preBends(x))
	if most := s.c.Limits.MostBends; most > 0 {
		cost += missCost * float64(max(0, s.bends(x)-most))
	}
	return cost
}

// searcher runs the stages of a search over one pattern.
type searcher struct {
	ctx     context.Context
	c       design.Case
	pattern spring.Pattern
	workers []*objective
	sketch  []*objective // with few positions, for the first stages
	box     box
	width   []float64
	// effort multiplies the numbers of points that go from one stage to the next: 1, but
	// for cases that ask for so many times the usual starting points, and for searches that
	// others are held against.
	effort int
	passes int // done before this one

	progress func(done, total int)
	mutex    sync.Mutex
	done     int
	total    int
}

func newSearcher(ctx context.Context, c design.Case, pattern spring.Pattern, o Options) *searcher {
	s := &searcher{ctx: ctx, c: c, pattern: pattern, effort: max(1, c.Search.Starts/defaultStarts), progress: o.Progress}
	n := o.Workers
	if n <= 0 {
		n = runtime.GOMAXPROCS(0)
	}
	few := c
	few.Positions = min(c.Positions, sketchPositions)
	for range n {
		s.workers = append(s.workers, newObjective(c, pattern))
		s.sketch = append(s.sketch, newObjective(few, pattern))
	}
	for _, f := range pattern.Freedoms {
		s.box.lower = append(s.box.lower, f.Min)
		s.box.upper = append(s.box.upper, f.Max)
		s.width = append(s.width, f.Max-f.Min)
	}
	return s
}

// each is share for a stage that progress counts.
func (s *searcher) each(workers []*objective, n int, f func(i int, worker *objective)) {
	s.share(workers, n, func(i int, worker *objective) {
		f(i, worker)
		s.tick()
	})
}

// share runs f for 0 … n−1 on all of the workers. Results must be stored by index, so that
// they do not depend on who ran what.
func (s *searcher) share(workers []*objective, n int, f func(i int, worker *objective)) {
	var next atomic.Int64
	var group sync.WaitGroup
	for _, worker := range workers {
		group.Go(func() {
			for {
				i := int(next.Add(1)) - 1
				if i >= n || s.ctx.Err() != nil {
					return
				}
				f(i, worker)
			}
		})
	}
	group.Wait()
}

func (s *searcher) tick() {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	s.done++
	if s.progress != nil {
		s.progress(min(s.done, s.total), s.total)
	}
}
