package optimize

import (
	"errors"
	"math"
	"slices"
	"testing"

	"springwright/design/beam"
	"springwright/design/family"
	"springwright/design/notice"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/optimize/hand"

	"gonum.org/v1/gonum/spatial/r3"
)

// finelyDrawn is a shape of a design on a mesh so fine that its points tell how far it
// reaches: a chord of 2° lies within 0.0002 radii of its arc.
func finelyDrawn(t *testing.T, spring spring.Spring, position int) []beam.Node {
	t.Helper()
	solver := beam.NewSolver(spring.Rod(), beam.Origin(), beam.Options{StepMM: 0.1, StepRad: math.Pi / 90})
	for i := range position + 1 {
		if err := solver.Follow(spring.HoldAt(spring.SeatAt(i))); err != nil {
			t.Fatal(err)
		}
	}
	return solver.AppendNodes(nil)
}

// The search's own mesh must find how far the wire reaches, over the tops of its bends too.
func TestReachOfACoarseMeshIsThatOfAFineOne(t *testing.T) {
	t.Parallel()
	c := spatialCase()
	c.Limits.BitingReachMM, c.Limits.CheekBulgeMM = 3, 3
	c.Limits.BendRadiusMM = 2
	c.Search.Starts, c.Search.Seed = 4, 2
	s := newTrial(t, c, family.RectangularLoop(c))
	for _, x := range pointsNear(t, s, 3) {
		spring := c.SpringFor(s.pattern.PathFor(x))
		for position := -1; position < 2; position++ {
			coarse := beam.NewSolver(spring.Rod(), beam.Origin(), hand.Accuracy)
			for i := range position + 1 {
				if err := coarse.Follow(spring.HoldAt(spring.SeatAt(i))); err != nil {
					t.Fatal(err)
				}
			}
			fine := finelyDrawn(t, spring, position)
			for _, term := range s.worker.reaches {
				got := term.reach(coarse.AppendNodes(nil))
				want := math.Inf(-1)
				low := math.Inf(1)
				for i, n := range fine {
					begins := i+1 < len(fine) && fine[i+1].Piece == term.first
					if n.Piece >= term.first && n.Piece <= term.last || begins {
						want, low = max(want, r3.Dot(term.axis, n.Pose.At)), min(low, r3.Dot(term.axis, n.Pose.At))
					}
				}
				if term.extent {
					want -= low
				}
				// 0.001 radii at both ends of an extent, and what the loads' own mesh error
				// of 0.05 % moves a spring that is bent by some millimetres.
				if math.Abs(got-want) > 0.008 {
					t.Errorf("%s, position %d: reaches %v mm, on a fine mesh %v", term.limit, position, got, want)
				}
			}
		}
	}
}

// Limits on the biting side and the cheek are kept by a design that would go beyond them.
func TestBitingAndCheekLimitsAreKept(t *testing.T) {
	t.Parallel()
	c := spatialCase()
	reach := func(r Result) (bitingMM, cheekMM float64) {
		for _, position := range []int{-1, 0, c.Positions - 1} {
			seat := c.SpringFor(spring.Path{}).SeatAt(max(position, 0))
			if position < 0 {
				seat = c.SpringFor(spring.Path{}).End
			}
			low, out := min(0, seat.AtMM.Z), max(0, seat.AtMM.Y)
			for _, n := range finelyDrawn(t, r.Spring, position) {
				bitingMM = max(bitingMM, low-n.Pose.At.Z+c.Wire.HeightMM()/2)
				cheekMM = max(cheekMM, n.Pose.At.Y*c.Teeth.BuccalSign()-out+c.Wire.DepthMM()/2)
			}
		}
		return bitingMM, cheekMM
	}
	if c.Teeth.BuccalSign() < 0 {
		t.Fatal("the case's tooth does not stand on the cheek's side")
	}
	free := search(t, c, Options{})
	biting, cheek := reach(free)
	c.Limits.BitingReachMM, c.Limits.CheekBulgeMM = max(0.5, 0.9*biting), max(0.5, 0.9*cheek)
	kept := search(t, c, Options{})
	if b, k := reach(kept); len(kept.Exceeded) == 0 && (b > c.Limits.BitingReachMM+reachToleranceMM || k > c.Limits.CheekBulgeMM+reachToleranceMM) {
		t.Errorf("reaches %.3f mm to the biting side and %.3f mm into the cheek, allowed %.3f and %.3f", b, k, c.Limits.BitingReachMM, c.Limits.CheekBulgeMM)
	}
	if len(kept.Exceeded) > 0 {
		t.Errorf("exceeded %v", kept.Exceeded)
	}
}

func TestMostBendsAreKeptOrNamed(t *testing.T) {
	t.Parallel()
	c := demoCase(t)
	c.Bender.Springs = 0
	plain := plainDemo(t)
	corners := 4 // of a rectangular loop
	c.Limits.MostBends = max(corners, plain.Traits.Bends-1)
	fewer := search(t, c, Options{})
	if got := fewer.Spring.Path.Bends(); got > c.Limits.MostBends || slices.ContainsFunc(fewer.Exceeded, func(e target.Excess) bool { return e.Limit == target.BendsLimit }) {
		t.Errorf("%d bends, allowed %d; exceeded %v", got, c.Limits.MostBends, fewer.Exceeded)
	}
	c.Limits.MostBends = corners - 1
	c.Search.Starts = 4
	none := search(t, c, Options{})
	if !slices.Contains(none.Exceeded, target.Excess{Limit: target.BendsLimit, Beyond: 1}) || !slices.Contains(none.Binding, notice.Notice(notice.LimitInWay{Limit: target.BendsLimit})) {
		t.Errorf("exceeded %v, binding %v: four corners are one more than allowed", none.Exceeded, none.Binding)
	}
	if none.Met() {
		t.Error("said to be met all the same")
	}
}

func TestStressLimitIsKept(t *testing.T) {
	t.Parallel()
	c := demoCase(t)
	c.Bender.Springs = 0
	plain := plainDemo(t)
	c.Limits.LargestStressRatio = 0.7 * plain.After.StressRatio
	r, err := Search(t.Context(), c, Options{})
	if err != nil && !errors.Is(err, solve.ErrYield) {
		t.Fatal(err)
	}
	named := slices.ContainsFunc(r.Exceeded, func(e target.Excess) bool { return e.Limit == target.StressLimit })
	if named != (r.After.StressRatio > c.Limits.LargestStressRatio) {
		t.Errorf("stress ratio %v, allowed %v, exceeded %v", r.After.StressRatio, c.Limits.LargestStressRatio, r.Exceeded)
	}
	if r.After.StressRatio >= plain.After.StressRatio {
		t.Errorf("stress ratio %v with a limit of %v, %v without", r.After.StressRatio, c.Limits.LargestStressRatio, plain.After.StressRatio)
	}
}

// Each reason is named once, and what lies at a bound without hindering is not named.
func TestBindingNamesEachReasonOnce(t *testing.T) {
	t.Parallel()
	c := demoCase(t)
	c.Bender.Springs = 0
	c.Search.Starts = 4
	c.Limits.LoopHeightMM = 2
	r := search(t, c, Options{})
	for i, name := range r.Binding {
		if slices.Contains(r.Binding[:i], name) {
			t.Errorf("%v is named twice in %v", name, r.Binding)
		}
	}
	// The height, what room is left beside it, and what a hand can do there.
	if n := len(r.Binding); n == 0 || n > 5 {
		t.Errorf("%d reasons for one missing height: %v", n, r.Binding)
	}
}
