package optimize

import (
	"math"
	"slices"
	"testing"

	"springwright/design"
	"springwright/design/family"

	"gonum.org/v1/gonum/mat"
)

// A second-order surrogate is off by the third power of the way from its centre, and its
// Jacobian by the second.
func TestSurrogateIsOfSecondOrder(t *testing.T) {
	t.Parallel()
	c := demoCase(t)
	c.Search.Starts = 3
	s := exploredSearcher(t, c)
	free, _ := s.continuous(nil)
	at, o := free[0].x, s.workers[0]
	steps := make([]float64, len(at))
	for j := range steps {
		steps[j] = 1e-3 * s.width[j] // small, so that its own error does not show
	}
	land, ok := newSurrogate(o, at, steps)
	if !ok {
		t.Fatal("no surrogate")
	}
	n, m := o.size()
	want, got := make([]float64, m), make([]float64, m)
	kinds := make([]rowKind, m)
	jacobian := mat.NewDense(m, n, nil)
	off := func(share float64) (worst float64) {
		x := slices.Clone(at)
		for j := range x {
			x[j] += share * s.width[j] * math.Sin(float64(3*j+1))
		}
		if !o.foresee(x, want, jacobian, kinds) {
			t.Fatal("cannot be solved beside the centre")
		}
		land.foresee(x, got, jacobian, kinds)
		for i := range m {
			if !kinds[i].limit { // limits turn from one place of the wire to another
				worst = max(worst, math.Abs(got[i]-want[i]))
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
	s := exploredSearcher(t, c)
	worker, sample := s.workers[0], s.sampleFor(c.Bender)
	_, finest := s.continuous(sample)
	from := s.settle(finest[0].x, s.box, worker, finest[0].tilt, sample)
	settled := []candidate{from}
	s.exploreBest(settled, sample)
	to := settled[0]
	// From 3 and 4 starts of the seeds 1 to 3 it takes 6 to 24 % off the demo's cost.
	if to.cost > 0.99*from.cost {
		t.Errorf("costs %v, %v before", to.cost, from.cost)
	}
	_, m := worker.size()
	r := make([]float64, m)
	worker.residuals(to.x, r, nil, toTheEnd)
	cost := halfSquares(r) + missedCost(worker) + s.bendCost(to.x) + s.fragility(to.x, sample)
	if math.Abs(cost-to.cost) > 1e-6 {
		t.Errorf("costs %v, was said to cost %v", cost, to.cost)
	}
	for j, f := range s.pattern.Freedoms {
		if v := to.x[j]; v != s.onGrid(j, v) || v < f.Min-1e-9 || v > f.Max+1e-9 {
			t.Errorf("%s is %v", f.Name, v)
		}
	}
}

// As soon as a sum of squares is enough the rest may be left out; below, nothing is.
func TestResidualsStopWhereEnoughIsEnough(t *testing.T) {
	t.Parallel()
	c := demoCase(t)
	s := exploredSearcher(t, c)
	o := s.workers[0]
	x := s.startingPoints()[0]
	newLevenberg(newClosing(s.workers[0]), s.box, s.width).minimise(x, closeIterations)
	_, m := o.size()
	all, some := make([]float64, m), make([]float64, m)
	if !o.residuals(x, all, nil, toTheEnd) {
		t.Fatal("cannot be solved")
	}
	whole := halfSquares(all)
	o.residuals(x, some, nil, whole*1.001)
	if !slices.Equal(all, some) {
		t.Error("left something out though it was not enough")
	}
	o.residuals(x, some, nil, whole/100)
	if part := halfSquares(some); part <= whole/100 || part >= whole {
		t.Errorf("half the squares are %v, of %v, where %v was enough", part, whole, whole/100)
	}
}

func exploredSearcher(t *testing.T, c design.Case) *searcher {
	t.Helper()
	pattern, err := family.PatternFor(c)
	if err != nil {
		t.Fatal(err)
	}
	return newSearcher(t.Context(), c, pattern, Options{Workers: 1})
}
