package optimize

import (
	"context"
	"errors"
	"fmt"
	"math"
	"sync"
	"testing"
	"time"

	"springwright/design"
	"springwright/design/family"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/optimize/internal/invented"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
)

// search is a whole search; slow under the race detector, so that only the tests of the
// workers themselves run in short mode.
func search(t *testing.T, c design.Case, o Options) Result {
	t.Helper()
	if testing.Short() {
		t.Skip("a whole search in short mode")
	}
	r, err := Search(t.Context(), c, o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// plainDemo is the whole search of the demo case without a trial, which several tests start from.
func plainDemo(t *testing.T) Result {
	t.Helper()
	if testing.Short() {
		t.Skip("a whole search in short mode")
	}
	r, err := searchedDemo()
	if err != nil {
		t.Fatal(err)
	}
	return r
}

var searchedDemo = sync.OnceValues(func() (Result, error) {
	c, err := invented.TiedLoop()
	if err != nil {
		return Result{}, err
	}
	c.Bender.Springs = 0
	return Search(context.Background(), c, Options{})
})

// checkOnGrid checks that a hand can bend every number.
func checkOnGrid(t *testing.T, r Result) {
	t.Helper()
	for _, s := range r.Settings {
		f := s.Freedom
		steps := (s.Value - f.Neutral) / f.Grid
		if math.Abs(steps-math.Round(steps)) > 1e-9 {
			t.Errorf("%s is %v, no multiple of %v", f.Name, s.Value, f.Grid)
		}
		if s.Value < f.Min-1e-9 || s.Value > f.Max+1e-9 {
			t.Errorf("%s is %v, outside %v to %v", f.Name, s.Value, f.Min, f.Max)
		}
	}
}

// checkMet works out from the record alone whether the target is met.
func checkMet(t *testing.T, c design.Case, r Result) {
	t.Helper()
	if !r.Met() {
		t.Errorf("misses %v, exceeded %v", r.Misses, r.Exceeded)
	}
	checkHook(t, r)
	for i, p := range r.Evaluation.Record.Positions {
		leftMM := r3.Norm(r3.Sub(c.Goal.CentreMM, c.Now.CentreMM)) * float64(c.Positions-1-i) / float64(c.Positions-1)
		check := func(name string, window target.LoadWindow, forces bool) {
			for k, v := range [...]float64{p.Active.ForceN.X, p.Active.ForceN.Y, p.Active.ForceN.Z} {
				if w := window.ForceN[k]; forces && w != (target.Window{}) && (v < w.Min || v > w.Max) { // the zero window asks for nothing
					t.Errorf("%s, %.2f mm left: force %d is %v N, outside %v to %v", name, leftMM, k, v, w.Min, w.Max)
				}
			}
			for k, v := range [...]float64{p.Active.CoupleNMM.X, p.Active.CoupleNMM.Y, p.Active.CoupleNMM.Z} {
				if w := window.CoupleNMM[k]; w != (target.Window{}) && (v < w.Min || v > w.Max) {
					t.Errorf("%s, %.2f mm left: couple %d is %v N·mm, outside %v to %v", name, leftMM, k, v, w.Min, w.Max)
				}
			}
		}
		check("travel", c.Target.Travel, leftMM > c.Target.ForceUntilMM-1e-9)
		if i == 0 {
			check("start", c.Target.Start, true)
		}
	}
}

// A case without the steps of its grid once ended on a leg of 8.319225376087505 mm that "met"
// its target.
func TestSearchRefusesAFaultyCase(t *testing.T) {
	t.Parallel()
	c := demoCase(t)
	c.Search = design.Search{Starts: 1}
	c.Positions = 0
	r, err := Search(t.Context(), c, Options{})
	if want := c.Validate(); err == nil || want == nil || err.Error() != want.Error() {
		t.Errorf("got %v, want %v", err, want)
	}
	if r.Met() || r.Settings != nil {
		t.Errorf("a spring all the same: met %t, %v", r.Met(), r.Settings)
	}
}

func TestNoResultMeetsNothing(t *testing.T) {
	t.Parallel()
	if (Result{}).Met() || (Result{}).Shortfall().None() {
		t.Error("a result without a spring is said to meet its target")
	}
}

func TestStudyCase(t *testing.T) {
	t.Parallel()
	c := studyCase()
	r := search(t, c, Options{})
	// What a plain search is known to reach is 0.11 N·mm at all seven positions, and
	// 0.02 N·mm with a wider range of the force.
	if r.Before.CoupleNMM > 0.05 {
		t.Errorf("couple before rounding %.3f N·mm, want at most 0.05", r.Before.CoupleNMM)
	}
	for _, p := range r.Evaluation.Record.Positions {
		if couple := p.Active.CoupleNMM.Y; math.Abs(couple) > 0.15 {
			t.Errorf("couple %.3f N·mm with %.2f mm left, want at most 0.15", couple, p.TravelLeftMM)
		}
		if p.TravelLeftMM < 0.5-1e-9 {
			continue
		}
		if side := math.Hypot(p.Active.ForceN.X, p.Active.ForceN.Y); side > 0.06 {
			t.Errorf("side force %.3f N with %.2f mm left, want at most 0.06", side, p.TravelLeftMM)
		}
		if p.Active.ForceN.Z <= 0 {
			t.Errorf("intrusive force %.3f N with %.2f mm left", p.Active.ForceN.Z, p.TravelLeftMM)
		}
	}
	checkOnGrid(t, r)
	checkMet(t, c, r)
	checkLimits(t, c, r)
}

func TestDemoIsMetFromAnySeed(t *testing.T) {
	t.Parallel()
	for _, seed := range []uint64{1, 2} {
		t.Run(fmt.Sprint("seed ", seed), func(t *testing.T) {
			t.Parallel()
			c := demoCase(t)
			c.Search.Seed = seed
			r := search(t, c, Options{})
			checkOnGrid(t, r)
			checkMet(t, c, r)
			checkLimits(t, c, r)
		})
	}
}

func TestSpatialTargetIsMet(t *testing.T) {
	t.Parallel()
	c := spatialCase()
	r := search(t, c, Options{})
	checkOnGrid(t, r)
	checkMet(t, c, r)
	checkLimits(t, c, r)
	// Without a first-order bend or twist it could not be.
	for _, s := range r.Spring.Path.Steps() {
		if s.Kind == spring.Twist || s.Kind == spring.Bend && s.Order == 1 {
			return
		}
	}
	t.Error("a spring that stays in its plane is said to reach a tooth beside it")
}

func TestSeedDecidesWhereASearchStarts(t *testing.T) {
	t.Parallel()
	start := func(seed uint64) [][]float64 {
		c := demoCase(t)
		c.Search.Seed = seed
		return newTrial(t, c, family.RectangularLoop(c)).startingPoints()
	}
	if !cmp.Equal(start(1), start(1)) || cmp.Equal(start(1), start(2)) {
		t.Error("starting points do not follow the seed")
	}
}

func TestMirroredMouthGetsTheSameSpring(t *testing.T) {
	t.Parallel()
	c := demoCase(t)
	c.Search.Starts = 3
	want, got := search(t, c, Options{}), search(t, c.Mirrored(), Options{})
	if diff := cmp.Diff(want.Spring.Path.Steps(), got.Spring.Path.Steps()); diff != "" {
		t.Errorf("(-this side +other side):\n%s", diff)
	}
}

// Out of the plane a mirrored spring has its first-order bends and twists the other way.
// No search is needed to compare: every residual must be the same.
func TestMirroredSpringHasTheSameResiduals(t *testing.T) {
	t.Parallel()
	c := spatialCase()
	c.Search.Starts = 4
	s := newTrial(t, c, family.RectangularLoop(c))
	twin := newTrial(t, c.Mirrored(), family.RectangularLoop(c.Mirrored())).worker
	_, m := twin.size()
	r, twinR := make([]float64, m), make([]float64, m)
	for _, x := range pointsNear(t, s, 3) {
		if !residuals(s.worker, x, r, nil) {
			t.Fatal("cannot be solved")
		}
		if !residuals(twin, s.pattern.MirroredValues(x), twinR, nil) {
			t.Fatal("cannot be solved mirrored")
		}
		kinds := rowKinds(twin)
		for i := range r {
			want := r[i]
			odd := kinds[i] == "load 1" || kinds[i] == "load 3" || kinds[i] == "load 5"
			if odd || kinds[i] == "bend" {
				want, twinR[i] = math.Abs(want), math.Abs(twinR[i])
			}
			if math.Abs(twinR[i]-want) > 1e-5*(1+math.Abs(want)) { // the solver's tolerance over the least slack
				t.Errorf("row %d (%s): %v, mirrored %v", i, kinds[i], r[i], twinR[i])
			}
		}
	}
}

// Seen from the other end the loop is another one, but mesial and distal only name room.
func TestActiveToothOnTheMesialSideSwapsTheRooms(t *testing.T) {
	t.Parallel()
	c := demoCase(t)
	c.Search.Starts = 3
	swapped := c
	swapped.Teeth = tooth.Pair{Anchor: c.Teeth.Active, Active: c.Teeth.Anchor}
	swapped.Limits.RoomMesialMM, swapped.Limits.RoomDistalMM = c.Limits.RoomDistalMM, c.Limits.RoomMesialMM
	want, got := search(t, c, Options{}), search(t, swapped, Options{})
	if diff := cmp.Diff(want.Spring.Path.Steps(), got.Spring.Path.Steps()); diff != "" {
		t.Errorf("(-distal +mesial):\n%s", diff)
	}
}

func TestSearchStopsWhenCancelled(t *testing.T) {
	t.Parallel()
	for _, after := range []int{0, 1, 5, defaultStarts + 1, defaultStarts + finalists + 1} {
		t.Run(fmt.Sprint("after ", after), func(t *testing.T) {
			t.Parallel()
			if after > 5 && testing.Short() {
				t.Skip("most of a search in short mode")
			}
			ctx, cancel := context.WithCancel(t.Context())
			defer cancel()
			var at time.Time
			stop := func() { at = time.Now(); cancel() }
			if after == 0 {
				stop()
			}
			r, err := Search(ctx, demoCase(t), Options{Workers: 2, Progress: func(done, _ int) {
				if done == after {
					stop()
				}
			}})
			if !errors.Is(err, context.Canceled) {
				t.Fatalf("got %v, want %v", err, context.Canceled)
			}
			if r.Settings != nil || r.Evaluation.Record.Positions != nil {
				t.Error("a cancelled search returns half a result")
			}
			// One start takes some 0.1 s on an idle machine.
			if late := time.Since(at); late > 3*time.Second {
				t.Errorf("returns %v after it was cancelled", late)
			}
		})
	}
}

func TestProgressCountsToItsTotal(t *testing.T) {
	t.Parallel()
	c := demoCase(t)
	for _, c.Search.Starts = range []int{2, 3} {
		last, most := 0, 0
		search(t, c, Options{Workers: 3, Progress: func(done, total int) {
			if done != last+1 || done > total || most > 0 && total != most {
				t.Errorf("%d of %d after %d of %d", done, total, last, most)
			}
			last, most = done, total
		}})
		if last != most || last < c.Search.Starts {
			t.Errorf("ends at %d of %d with %d starts", last, most, c.Search.Starts)
		}
	}
}
