package optimize

import (
	"testing"

	"springwright/design"
	"springwright/presets"

	"github.com/google/go-cmp/cmp"
)

// A cantilever's force needs only to lie in a window: moved to where a stiffer or softer
// wire still meets it, far more springs do.
func TestSteadyCentresTheForce(t *testing.T) {
	t.Parallel()
	_, c, err := presets.Case("cantilever")
	if err != nil {
		t.Fatal(err)
	}
	c.Bender = design.Bender{StiffnessSD: 0.125}
	c.Search.Starts = 4
	pattern, err := design.PatternFor(c)
	if err != nil {
		t.Fatal(err)
	}
	s := newSearcher(t.Context(), c, pattern, Options{Workers: 1})
	worker, sample := s.workers[0], s.sampleFor(c.Bender)
	best := s.continuous()
	if len(best) == 0 {
		t.Fatal("nothing solved")
	}
	settled := s.settle(best[0], s.box, worker)
	x := settled.x
	before := s.fragility(x, sample)
	after := s.steady(settled, worker, sample)
	if f := s.fragility(after.x, sample); before < 0.1 || f > before/2 {
		t.Errorf("fragility %v before, %v after", before, f)
	}
	for j, v := range after.x {
		if f := pattern.Freedoms[j]; v < f.Min-1e-9 || v > f.Max+1e-9 || v != s.onGrid(j, v) {
			t.Errorf("%s is %v, off its grid or bounds", f.Name, v)
		}
	}
	if got := s.choose([]candidate{{x: x, cost: 1}, {x: after.x, cost: 1}}, nil); !cmp.Equal(got.x, x) {
		t.Error("a perfect hand changes the order")
	}
}

// With a bender the whole answer, bent springs included, still does not depend on the
// number of workers.
func TestSearchWithBenderOnAnyNumberOfWorkers(t *testing.T) {
	t.Parallel()
	c := demoCase(t)
	c.Search.Starts = 4
	c.Bender.Springs = 64
	one := search(t, c, Options{Workers: 1})
	two := search(t, c, Options{Workers: 3})
	if diff := cmp.Diff(one, two); diff != "" {
		t.Errorf("(-1 worker, +3 workers):\n%s", diff)
	}
	if one.Robust.Spread.Springs != 64 || one.Evaluation.Record.Spread == nil {
		t.Errorf("bent %d springs, want 64", one.Robust.Spread.Springs)
	}
}
