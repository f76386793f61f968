package optimize

import (
	"math"
	"slices"
	"testing"
)

// aboutASpring is a searcher for a case, a design that meets its target, and the loads that
// its terms judge at a design.
func aboutASpring(t *testing.T) (s trial, x []float64, loads func(x []float64) []float64) {
	t.Helper()
	c := demoCase(t)
	c.Search.Starts = 4
	s = trialOf(t, c)
	_, finest := s.polished(t)
	loads = func(x []float64) []float64 {
		l, ok := s.linearAt(x)
		if !ok {
			t.Fatal("cannot be solved")
		}
		return l.Values
	}
	return s, finest[0].x, loads
}

func TestSpreadModelMatchesTheSpread(t *testing.T) {
	t.Parallel()
	s, x, loads := aboutASpring(t)
	_, steps := trustedAbout(s.problem, s.box, x)
	m := newSpreadModel(s.problem, s.box, x)
	if m == nil {
		t.Fatal("no model")
	}
	if got, want := m.fragility(x, loads(x)), s.fragility(x); got != want {
		t.Errorf("fragility %v at the model's own place, want %v", got, want)
	}
	// All numbers half a reach away at once, this way and that: the spread is told far better
	// than by taking it as it is at the model's place.
	still := *m
	still.bends = make([][][]float64, len(x))
	var off, offStill float64
	for k := range 16 {
		y := slices.Clone(x)
		for j, step := range steps {
			if k>>(j%4)&1 == 1 {
				step = -step
			}
			y[j] = s.box.Clip(j, x[j]+step/2)
		}
		want := s.fragility(y)
		off += math.Abs(m.fragility(y, loads(y)) - want)
		offStill += math.Abs(still.fragility(y, loads(y)) - want)
	}
	if off > offStill/3 {
		t.Errorf("fragilities off by %v in all, by %v with a spread that does not change", off, offStill)
	}
	for j, slope := range (*spreadModel)(nil).slope(s.problem) {
		if slope != 0 {
			t.Errorf("without a model number %d has the slope %v", j, slope)
		}
	}
}
