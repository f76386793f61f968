package spring_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"springwright/design/beam"
	"springwright/design/designtest"
	"springwright/design/spring"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
)

// The bending rules of the package comment, each worked out by hand.
func TestStepsTurnTheWireAsThePackageCommentSays(t *testing.T) {
	t.Parallel()
	const right = math.Pi / 2
	for _, test := range []struct {
		name   string
		step   spring.Step
		at     r3.Vec
		d1, d2 r3.Vec
		length float64
	}{
		{"straight", spring.StraightStep(3), r3.Vec{X: 3}, r3.Vec{X: 1}, r3.Vec{Y: 1}, 3},
		// Towards the thickness side, z, and away from it.
		{"second order", spring.BendStep(right, 2), r3.Vec{X: 2, Z: 2}, r3.Vec{Z: 1}, r3.Vec{Y: 1}, math.Pi},
		{"second order back", spring.BendStep(-right, 2), r3.Vec{X: 2, Z: -2}, r3.Vec{Z: -1}, r3.Vec{Y: 1}, math.Pi},
		// Towards the width side, y, and away from it.
		{"first order", spring.Step{Kind: spring.Bend, AngleRad: right, RadiusMM: 2, Order: 1}, r3.Vec{X: 2, Y: 2}, r3.Vec{Y: 1}, r3.Vec{X: -1}, math.Pi},
		{"first order back", spring.Step{Kind: spring.Bend, AngleRad: -right, RadiusMM: 2, Order: 1}, r3.Vec{X: 2, Y: -2}, r3.Vec{Y: -1}, r3.Vec{X: 1}, math.Pi},
		// Right-handed about the running direction: the width side turns to the thickness side.
		{"twist", spring.Step{Kind: spring.Twist, AngleRad: right, LengthMM: 2}, r3.Vec{X: 2}, r3.Vec{X: 1}, r3.Vec{Z: 1}, 2},
	} {
		want := beam.Pose{At: test.at, D1: test.d1, D2: test.d2, D3: r3.Cross(test.d1, test.d2)}
		if got := designtest.UnloadedEnd(spring.PathOf(test.step)); designtest.Far(got, want) > 1e-12 {
			t.Errorf("%s ends at %+v, want %+v", test.name, got, want)
		}
		if got := spring.PathOf(test.step, test.step).WireLengthMM(); math.Abs(got-2*test.length) > 1e-12 {
			t.Errorf("%s twice uses %v mm of wire, want %v", test.name, got, 2*test.length)
		}
	}
}

// randomSteps is a list of steps, often untidy.
func randomSteps(source *rand.Rand) spring.Steps {
	var steps spring.Steps
	for range 2 + source.IntN(10) {
		angle := float64(source.IntN(7)-3) * 0.3 // often 0
		switch source.IntN(4) {
		case 0:
			steps = append(steps, spring.Step{Kind: spring.Twist, AngleRad: angle, LengthMM: 0.5 + source.Float64()})
		case 1:
			steps = append(steps, spring.Step{Kind: spring.Bend, AngleRad: angle, RadiusMM: 0.5 + source.Float64(), Order: 1 + source.IntN(2)})
		default:
			steps = append(steps, spring.StraightStep(float64(source.IntN(3))))
		}
	}
	return steps
}

func TestTidyKeepsTheWire(t *testing.T) {
	t.Parallel()
	source := rand.New(rand.NewPCG(1, 0))
	for range 300 {
		steps := randomSteps(source)
		before := append(spring.Steps(nil), steps...)
		path := spring.PathOf(steps...)
		if diff := cmp.Diff(before, steps); diff != "" {
			t.Fatalf("PathOf changed the steps it was given:\n%s", diff)
		}
		if d := math.Abs(path.WireLengthMM() - steps.WireLengthMM()); d > 1e-12 {
			t.Errorf("%v loses %v mm of wire", steps, d)
		}
		if d := designtest.Far(designtest.UnloadedEnd(path), designtest.UnloadedEndOf(steps)); d > 1e-9 {
			t.Errorf("%v ends %v elsewhere when tidy", steps, d)
		}
		tidy := path.Steps()
		for i, step := range tidy {
			if step.WireLengthMM() == 0 || step.Kind != spring.Straight && step.AngleRad == 0 {
				t.Errorf("%v keeps a step that does nothing: %+v", steps, step)
			}
			if i > 0 && step.Kind == spring.Straight && tidy[i-1].Kind == spring.Straight {
				t.Errorf("%v keeps two straights in a row", steps)
			}
		}
		if diff := cmp.Diff(tidy, spring.PathOf(tidy...).Steps()); diff != "" {
			t.Errorf("tidying twice differs:\n%s", diff)
		}
	}
}

func TestTidyJoinsAcrossWhatIsGivenUp(t *testing.T) {
	t.Parallel()
	got := spring.PathOf(
		spring.StraightStep(1), spring.BendStep(0, 0.6), spring.StraightStep(2),
		spring.Step{Kind: spring.Twist, LengthMM: 2},
		spring.StraightStep(0), spring.BendStep(1, 0.6), spring.StraightStep(0),
	).Steps()
	want := spring.Steps{spring.StraightStep(5), spring.BendStep(1, 0.6)}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// Bends and twists are counted together, and what does nothing has no number.
func TestBendNumbers(t *testing.T) {
	t.Parallel()
	path := spring.PathOf(
		spring.BendStep(0, 1), spring.StraightStep(1), spring.BendStep(1, 1), spring.BendStep(-1, 1), spring.StraightStep(1),
		spring.Step{Kind: spring.Twist, LengthMM: 1}, spring.StraightStep(1), spring.Step{Kind: spring.Twist, AngleRad: 1, LengthMM: 1},
	)
	if diff := cmp.Diff([]int{0, 1, 2, 0, 3}, path.BendNumbers()); diff != "" || path.Bends() != 3 {
		t.Errorf("%d bends (-want +got):\n%s", path.Bends(), diff)
	}
	if none := (spring.Path{}); none.Bends() != 0 || len(none.BendNumbers()) != 0 {
		t.Error("no wire has bends")
	}
}

// Nobody who reads a path can make it untidy.
func TestStepsOfAPathAreACopy(t *testing.T) {
	t.Parallel()
	path := spring.PathOf(spring.StraightStep(1), spring.BendStep(1, 1))
	path.Steps()[1].AngleRad = 0
	if path.Bends() != 1 {
		t.Error("changing the steps that a path gave changes the path")
	}
}

func TestPieceIsStep(t *testing.T) {
	t.Parallel()
	steps := spring.Steps{spring.StraightStep(0), spring.BendStep(0, 0.6), {Kind: spring.Twist, LengthMM: 2}, spring.BendStep(-0.4, 0.5)}
	pieces := steps.Pieces()
	if len(pieces) != len(steps) {
		t.Fatalf("%d pieces for %d steps", len(pieces), len(steps))
	}
	for i, piece := range pieces {
		if piece.LengthMM != steps[i].WireLengthMM() {
			t.Errorf("piece %d is %v mm long, its step %v mm", i, piece.LengthMM, steps[i].WireLengthMM())
		}
		if n := r3.Norm(piece.Curvature); math.IsNaN(n) || math.IsInf(n, 0) {
			t.Errorf("piece %d is curved by %v", i, piece.Curvature)
		}
	}
}
