package optimize

import (
	"math"
	"slices"
	"testing"

	"springwright/optimize/hand"
)

// aboutASpring is a search on one core and a design that meets its target.
func aboutASpring(t *testing.T) (s trial, x []float64) {
	t.Helper()
	c := demoCase(t)
	c.Search.Starts = 4
	s = trialOf(t, c)
	_, finest := s.polished(t)
	return s, finest[0].x
}

// The linear model that comes with the rows of a design is the one that the hand makes on its own.
func TestLinearModelComesWithTheRows(t *testing.T) {
	t.Parallel()
	compared := 0
	for _, name := range []string{"demo", "t-loop", "closed-vertical-loop", "cantilever-with-helix", "root-torque"} {
		for _, how := range []string{"tied", "seated"} {
			c := seatedAs(presetCase(t, name), how)
			c.Search.Starts = 3
			s := trialOf(t, c)
			_, finest := s.polished(t)
			x := s.settle(finest[0].x).x // of which some legs are not bent and are one straight
			want, ok := s.linearAt(x)
			got, okGot := s.worker.lookInHand(s.problem, x, newSlopedRows(s.worker))
			if !ok || !okGot {
				continue
			}
			if len(got.Values) != len(want.Values) || got.Sources() != want.Sources() {
				t.Fatalf("%s, %s: a model of other sources", name, how)
			}
			compared++
			for i := range want.Values {
				scale := want.Terms[i].Half()
				if d := math.Abs(got.Values[i] - want.Values[i]); d > 2e-2*scale {
					t.Errorf("%s, %s: term %d is %v, want %v", name, how, i, got.Values[i], want.Values[i])
				}
				for k, v := range want.Changes[i] {
					// The wire of a search is cut into other steps where straights join: within its accuracy.
					if d := math.Abs(got.Changes[i][k] - v); d > 2e-2*(scale+math.Abs(v)) {
						t.Errorf("%s, %s: term %d by source %d changes by %v, want %v", name, how, i, k, got.Changes[i][k], v)
					}
				}
			}
		}
	}
	if compared < 8 {
		t.Errorf("only %d designs could be compared", compared)
	}
}

// A climber's fragility of points about its centre is that of the linear model there, far better
// than with a spread that does not change.
func TestClimberKnowsTheFragility(t *testing.T) {
	t.Parallel()
	s, x := aboutASpring(t)
	for j, axis := range s.axes {
		x[j] = axis.Nearest(x[j])
	}
	trusted, steps := trustedAbout(s.problem, s.box, x)
	land, spread, ok := newModels(s.problem, s.worker, x, steps)
	if !ok {
		t.Fatal("no models")
	}
	exact := func(y []float64) float64 {
		l, ok := s.linearAt(y)
		if !ok {
			t.Fatal("cannot be solved")
		}
		return fragileCost * (1 - l.SmoothShare(s.sample[:climbSample]))
	}
	c := newClimber(s.problem, land, spread, trusted)
	c.start(x)
	if got, want := c.cost(math.Inf(1)).fragility, exact(x); math.Abs(got-want) > 1 {
		t.Errorf("fragility %v at the centre, want %v", got, want)
	}
	still := newClimber(s.problem, land, &spreadModel{here: spread.here, bends: make([][][]float64, len(x)), sample: s.sample}, trusted)
	var off, offStill float64
	for k := range 16 {
		y := slices.Clone(x)
		for j, step := range steps {
			if k>>(j%4)&1 == 1 {
				step = -step
			}
			y[j] = s.axes[j].Nearest(s.box.Clip(j, x[j]+step/4))
		}
		want := exact(y)
		for _, one := range []struct {
			c   *climber
			off *float64
		}{{c, &off}, {still, &offStill}} {
			one.c.start(y)
			*one.off += math.Abs(one.c.cost(math.Inf(1)).fragility - want)
		}
	}
	t.Logf("fragilities off by %v in all, by %v with a spread that does not change", off, offStill)
	if off > 16*3 {
		t.Errorf("fragilities off by %v in all", off)
	}
	// What moves are said to cost is what their end costs.
	c.start(x)
	c.cost(math.Inf(1))
	c.each(func(m ...move) {
		promised := c.cost(math.Inf(1), m...)
		if promised.misses > 1 {
			return
		}
		there := newClimber(s.problem, land, spread, trusted)
		y := slices.Clone(x)
		for _, one := range m {
			y[one.j] += one.by
		}
		if len(m) < 2 || m[0].j%4 != 1 {
			return
		}
		there.start(y)
		if got, want := there.cost(math.Inf(1)).total(onGrid()), promised.total(onGrid()); promised.fragility < fragileCost && math.Abs(got-want) > 1e-6 {
			t.Fatalf("moves %v promise %v, cost %v", m, want, got)
		}
	})
}

// Half a window's width beyond its edge nothing counts, as far within all; at the edge half does.
func TestSmoothlyMet(t *testing.T) {
	for beyond, want := range map[float64]float64{-1: 1, -0.05: 1, 0: 0.5, 0.05: 0, 1: 0} {
		if got := hand.SmoothlyMet(beyond); math.Abs(got-want) > 1e-12 {
			t.Errorf("%v beyond counts %v, want %v", beyond, got, want)
		}
	}
}
