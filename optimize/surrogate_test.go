package optimize

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"springwright/optimize/lsq"
)

// A second-order surrogate is off by the third power of the way from its centre, and its
// Jacobian by the second.
func TestSurrogateIsOfSecondOrder(t *testing.T) {
	t.Parallel()
	c := demoCase(t)
	c.Search.Starts = 3
	s := trialOf(t, c)
	free, _ := s.polished(t)
	at, o := free[0].x, s.worker
	for j, f := range s.pattern.Freedoms {
		if f.Angle && math.Abs(at[j]-f.Neutral) < degree(3) { // the length of a bend's arc has a kink at no bend
			at[j] = f.Neutral + degree(3)
		}
	}
	steps := make([]float64, len(at))
	for j := range steps {
		steps[j] = 1e-3 * s.width[j] // small, so that its own error does not show
	}
	land, ok := newSurrogate(o, at, steps)
	if !ok {
		t.Fatal("no surrogate")
	}
	want, got := newSlopedRows(o), newSlopedRows(land)
	off := func(share float64) (worst float64) {
		x := slices.Clone(at)
		for j := range x {
			x[j] += share * s.width[j] * math.Sin(float64(3*j+1))
		}
		if !o.look(x, onGrid(), lsq.ToTheEnd, want) {
			t.Fatal("cannot be solved beside the centre")
		}
		land.look(x, onGrid(), lsq.ToTheEnd, got)
		for i, k := range want.kinds {
			if k.part != limits { // limits turn from one place of the wire to another
				worst = max(worst, math.Abs(got.values[i]-want.values[i]))
			}
		}
		return worst
	}
	if o := off(0); o > 1e-9 {
		t.Errorf("off by %v at its centre", o)
	}
	if far, near := off(0.02), off(0.01); near > far/5 {
		t.Errorf("off by %v, %v at half the way: want an eighth", far, near)
	}
}

// What exploring finds is better, on the grid, within bounds, and what it is said to cost.
func TestExploringImproves(t *testing.T) {
	t.Parallel()
	c := demoCase(t)
	c.Search.Starts = 3
	s := trialOf(t, c)
	_, finest := s.polished(t)
	from := s.settle(finest[0].x)
	to := explorer{p: s.problem, worker: s.worker, numbers: rand.New(rand.NewPCG(c.Search.Seed, 0))}.explore(from)
	// From 3 and 4 starts of the seeds 1 to 3 it takes 6 to 24 % off the demo's cost.
	if to.cost.total(onGrid()) > 0.99*from.cost.total(onGrid()) {
		t.Errorf("costs %v, %v before", to.cost, from.cost)
	}
	if cost := s.costAt(to.x); math.Abs(cost.total(onGrid())-to.cost.total(onGrid())) > 1e-6 {
		t.Errorf("costs %v, was said to cost %v", cost, to.cost)
	}
	for j, f := range s.pattern.Freedoms {
		if v := to.x[j]; v != s.axes[j].Nearest(v) || v < f.Min-1e-9 || v > f.Max+1e-9 {
			t.Errorf("%s is %v", f.Name, v)
		}
	}
}

// As soon as a sum of squares is enough the rest may be left out; below, nothing is.
func TestResidualsStopWhereEnoughIsEnough(t *testing.T) {
	t.Parallel()
	c := demoCase(t)
	s := trialOf(t, c)
	x := s.startingPoints()[0]
	s.closed(x)
	all, some := newRows(s.worker), newRows(s.worker)
	if !s.worker.look(x, onGrid(), lsq.ToTheEnd, all) {
		t.Fatal("cannot be solved")
	}
	whole := all.halfSquares(onGrid())
	s.worker.look(x, onGrid(), whole*1.001, some)
	if !slices.Equal(all.values, some.values) {
		t.Error("left something out though it was not enough")
	}
	s.worker.look(x, onGrid(), whole/100, some)
	if part := some.halfSquares(onGrid()); part <= whole/100 || part >= whole {
		t.Errorf("half the squares are %v, of %v, where %v was enough", part, whole, whole/100)
	}
}
