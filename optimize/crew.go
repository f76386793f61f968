package optimize

import (
	"context"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"springwright/design/spring"
)

// crew shares out the work of a search. Every worker has an objective of its own.
type crew struct {
	ctx     context.Context
	workers []*objective
	tied    []*objective // of wires tied fast, where those of workers are not; else workers
	sketch  []*objective // of wires tied fast, with few positions, for the first stages

	progress func(done, total int)
	better   func(x []float64) // may be nil
	mutex    sync.Mutex
	done     int
	total    int
	shown    candidate // that better was told of last
	stage    int       // of it
}

// sketchPositions: loads change smoothly over the travel, so that the first stages look at so many
// positions (choice).
const sketchPositions = 4

// newCrew is the crew of a search. The error is that of solve.NewSeatedPath.
func newCrew(p *problem, o Options) (*crew, error) {
	n := workersOf(o.Workers)
	few := p.c
	few.Positions = min(few.Positions, sketchPositions)
	w := &crew{ctx: p.ctx, progress: o.Progress, shown: candidate{cost: unsolved()}}
	seated := p.searched()
	for range n {
		worker, err := newObjective(p.c, p.pattern, seated)
		if err != nil {
			return nil, err
		}
		tied := worker
		if !seated.Plain() {
			if tied, err = newObjective(p.c, p.pattern, seated.Clamped()); err != nil {
				return nil, err
			}
		}
		sketch, err := newObjective(few, p.pattern, few.SeatedSpring(spring.Path{}).Clamped())
		if err != nil {
			return nil, err
		}
		w.workers, w.tied, w.sketch = append(w.workers, worker), append(w.tied, tied), append(w.sketch, sketch)
	}
	return w, nil
}

// workersOf is how many goroutines are asked for: 0 is one for each core.
func workersOf(n int) int {
	if n <= 0 {
		return runtime.GOMAXPROCS(0)
	}
	return n
}

// evaluations is how many springs were solved over their travel.
func (w *crew) evaluations() int {
	count := 0
	for i := range w.workers {
		count += w.workers[i].count + w.sketch[i].count
		if w.tied[i] != w.workers[i] {
			count += w.tied[i].count
		}
	}
	return count
}

// each is share for a stage that progress counts.
func (w *crew) each(workers []*objective, n int, f func(i int, worker *objective)) {
	w.share(workers, n, func(i int, worker *objective) {
		f(i, worker)
		w.tick()
	})
}

// share runs f for 0 … n−1 on all of the workers. Results must be stored by index, so that
// they do not depend on who ran what.
func (w *crew) share(workers []*objective, n int, f func(i int, worker *objective)) {
	var next atomic.Int64
	var group sync.WaitGroup
	for _, worker := range workers {
		group.Go(func() {
			for {
				i := int(next.Add(1)) - 1
				if i >= n || w.ctx.Err() != nil {
					return
				}
				f(i, worker)
			}
		})
	}
	group.Wait()
}

func (w *crew) tick() {
	w.mutex.Lock()
	defer w.mutex.Unlock()
	w.done++
	if w.progress != nil {
		w.progress(min(w.done, w.total), w.total)
	}
}

// How far a design that is shown has come.
const (
	showScattered = iota
	showPolished
	showSettled // on bendable numbers
)

// show tells of the best design so far, by what its stage goes by; of one of an earlier stage only
// where none has come farther.
func (w *crew) show(p *problem, c candidate, stage int) {
	w.mutex.Lock()
	defer w.mutex.Unlock()
	if w.better == nil || !c.cost.solved() || stage < w.stage {
		return
	}
	by := [...]weights{showScattered: forTarget(), showPolished: inHand(), showSettled: onGrid()}[stage]
	if stage == w.stage && w.shown.cost.solved() && cheaper(c.cost, w.shown.cost, by) >= 0 {
		return
	}
	w.stage, w.shown = stage, c
	x := slices.Clone(c.x)
	for j, axis := range p.axes {
		x[j] = axis.Nearest(x[j])
	}
	w.better(x)
}
