package optimize

import (
	"math/rand/v2"
	"testing"

	"springwright/design"
	"springwright/design/spring"
	"springwright/presets"

	"github.com/google/go-cmp/cmp"
)

// A cantilever's force needs only to lie in a window: moved by exploring to where a stiffer or softer
// wire still meets it, far more springs do.
func TestExploringCentresTheForceInAHand(t *testing.T) {
	t.Parallel()
	_, c, err := presets.Case("cantilever")
	if err != nil {
		t.Fatal(err)
	}
	c.Wire = c.Choice.OtherWires[0]
	c.Goal.CentreMM.Z = 3.5 // half the travel, so that both its ends have room in their windows
	c.Bender = design.Bender{StiffnessSD: 0.125}
	c.Search.Starts = 4
	s := trialOf(t, c)
	best, _ := s.polished(t)
	settled := s.settle(best[0].x)
	before := s.fragility(settled.x)
	after := explorer{p: s.problem, worker: s.worker, numbers: rand.New(rand.NewPCG(1, 2))}.explore(settled)[0]
	if f := s.fragility(after.x); before < 10 || f > before/2 {
		t.Errorf("fragility %v where nobody looks at it, %v where it counts", before, f)
	}
	for j, v := range after.x {
		if f := s.pattern.Freedoms[j]; v < f.Min-1e-9 || v > f.Max+1e-9 || v != s.axes[j].Nearest(v) {
			t.Errorf("%s is %v, off its grid or bounds", f.Name, v)
		}
	}
}

// Neither family nor number of workers changes what a seed gives.
func TestEveryFamilyOnAnyNumberOfWorkers(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("two searches of every family in short mode")
	}
	seen := map[string]bool{}
	for _, name := range presets.Names() {
		c := presetCase(t, name)
		if seen[c.Family] { // another case of the same pattern
			continue
		}
		seen[c.Family] = true
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			c.Search.Starts, c.Positions = 2, 3
			c.Bender.Springs = 0
			one, errOne := Search(t.Context(), c, Options{Workers: 1})
			three, errThree := Search(t.Context(), c, Options{Workers: 3})
			if diff := cmp.Diff(one, three, cmp.AllowUnexported(spring.Path{})); diff != "" {
				t.Errorf("(-1 worker, +3 workers):\n%s", diff)
			}
			if (errOne == nil) != (errThree == nil) {
				t.Errorf("errors %v and %v", errOne, errThree)
			}
		})
	}
}

// The whole answer, bent springs included, must not depend on how many workers there are, on their order, or on an
// earlier run; compared bit by bit.
func TestSearchWithBenderOnAnyNumberOfWorkers(t *testing.T) {
	t.Parallel()
	c := demoCase(t)
	c.Search.Starts, c.Bender.Springs = 3, 64
	counts := []int{1, 1, 3}
	if testing.Short() {
		c.Search.Starts, counts = 2, []int{1, 3}
	}
	var first Result
	for i, workers := range counts {
		r, err := Search(t.Context(), c, Options{Workers: workers})
		if err != nil {
			t.Fatal(err)
		}
		if i == 0 {
			first = r
		}
		if diff := cmp.Diff(first, r, cmp.AllowUnexported(spring.Path{})); diff != "" {
			t.Errorf("%d workers (-first +again):\n%s", workers, diff)
		}
	}
	if first.Robust.Spread.Springs != 64 || first.Evaluation.Record.Spread == nil {
		t.Errorf("bent %d springs, want 64", first.Robust.Spread.Springs)
	}
}
