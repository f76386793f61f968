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
		if got := designtest.UnloadedEnd(spring.Path{test.step}); designtest.Far(got, want) > 1e-12 {
			t.Errorf("%s ends at %+v, want %+v", test.name, got, want)
		}
		if got := (spring.Path{test.step, test.step}).WireLengthMM(); math.Abs(got-2*test.length) > 1e-12 {
			t.Errorf("%s twice uses %v mm of wire, want %v", test.name, got, 2*test.length)
		}
	}
}

func randomPath(source *rand.Rand) spring.Path {
	var path spring.Path
	for range 2 + source.IntN(10) {
		angle := float64(source.IntN(7)-3) * 0.3 // often 0
		switch source.IntN(4) {
		case 0:
			path = append(path, spring.Step{Kind: spring.Twist, AngleRad: angle, LengthMM: 0.5 + source.Float64()})
		case 1:
			path = append(path, spring.Step{Kind: spring.Bend, AngleRad: angle, RadiusMM: 0.5 + source.Float64(), Order: 1 + source.IntN(2)})
		default:
			path = append(path, spring.StraightStep(float64(source.IntN(3))))
		}
	}
	return path
}

func TestTidyKeepsTheWire(t *testing.T) {
	t.Parallel()
	source := rand.New(rand.NewPCG(1, 0))
	for range 300 {
		path := randomPath(source)
		before := append(spring.Path(nil), path...)
		tidy := path.Tidy()
		if diff := cmp.Diff(before, path); diff != "" {
			t.Fatalf("Tidy changed the path it was called on:\n%s", diff)
		}
		if d := math.Abs(tidy.WireLengthMM() - path.WireLengthMM()); d > 1e-12 {
			t.Errorf("%v loses %v mm of wire", path, d)
		}
		if d := designtest.Far(designtest.UnloadedEnd(tidy), designtest.UnloadedEnd(path)); d > 1e-9 {
			t.Errorf("%v ends %v elsewhere when tidy", path, d)
		}
		for i, step := range tidy {
			if step.WireLengthMM() == 0 || step.Kind != spring.Straight && step.AngleRad == 0 {
				t.Errorf("%v keeps a step that does nothing: %+v", path, step)
			}
			if i > 0 && step.Kind == spring.Straight && tidy[i-1].Kind == spring.Straight {
				t.Errorf("%v keeps two straights in a row", path)
			}
		}
		if diff := cmp.Diff(tidy, tidy.Tidy()); diff != "" {
			t.Errorf("tidying twice differs:\n%s", diff)
		}
	}
}

func TestTidyJoinsAcrossWhatIsGivenUp(t *testing.T) {
	t.Parallel()
	got := spring.Path{
		spring.StraightStep(1), spring.BendStep(0, 0.6), spring.StraightStep(2),
		{Kind: spring.Twist, LengthMM: 2},
		spring.StraightStep(0), spring.BendStep(1, 0.6), spring.StraightStep(0),
	}.Tidy()
	want := spring.Path{spring.StraightStep(5), spring.BendStep(1, 0.6)}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

func TestPieceIsStep(t *testing.T) {
	t.Parallel()
	path := spring.Path{spring.StraightStep(0), spring.BendStep(0, 0.6), {Kind: spring.Twist, LengthMM: 2}, spring.BendStep(-0.4, 0.5)}
	pieces := path.Pieces()
	if len(pieces) != len(path) {
		t.Fatalf("%d pieces for %d steps", len(pieces), len(path))
	}
	for i, piece := range pieces {
		if piece.LengthMM != path[i].WireLengthMM() {
			t.Errorf("piece %d is %v mm long, its step %v mm", i, piece.LengthMM, path[i].WireLengthMM())
		}
		if n := r3.Norm(piece.Curvature); math.IsNaN(n) || math.IsInf(n, 0) {
			t.Errorf("piece %d is curved by %v", i, piece.Curvature)
		}
	}
}
