package design_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"springwright/design"
	"springwright/design/beam"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
)

func degree(angle float64) float64 { return angle * math.Pi / 180 }

// unloadedEnd is where a path leads from the origin; no test of a path depends on the section.
func unloadedEnd(p design.Path) beam.Pose {
	return beam.Rod{Pieces: p.Pieces()}.UnloadedEnd(beam.Origin())
}

// far is how far two poses are apart, mm and rad in one number.
func far(a, b beam.Pose) float64 {
	return r3.Norm(r3.Sub(a.At, b.At)) + r3.Norm(r3.Sub(a.D1, b.D1)) + r3.Norm(r3.Sub(a.D2, b.D2)) + r3.Norm(r3.Sub(a.D3, b.D3))
}

// The bending rules of the package comment, each worked out by hand.
func TestStepsTurnTheWireAsThePackageCommentSays(t *testing.T) {
	t.Parallel()
	const right = math.Pi / 2
	for _, test := range []struct {
		name   string
		step   design.Step
		at     r3.Vec
		d1, d2 r3.Vec
		length float64
	}{
		{"straight", design.StraightStep(3), r3.Vec{X: 3}, r3.Vec{X: 1}, r3.Vec{Y: 1}, 3},
		// Towards the thickness side, z, and away from it.
		{"second order", design.BendStep(right, 2), r3.Vec{X: 2, Z: 2}, r3.Vec{Z: 1}, r3.Vec{Y: 1}, math.Pi},
		{"second order back", design.BendStep(-right, 2), r3.Vec{X: 2, Z: -2}, r3.Vec{Z: -1}, r3.Vec{Y: 1}, math.Pi},
		// Towards the width side, y, and away from it.
		{"first order", design.Step{Kind: design.Bend, AngleRad: right, RadiusMM: 2, Order: 1}, r3.Vec{X: 2, Y: 2}, r3.Vec{Y: 1}, r3.Vec{X: -1}, math.Pi},
		{"first order back", design.Step{Kind: design.Bend, AngleRad: -right, RadiusMM: 2, Order: 1}, r3.Vec{X: 2, Y: -2}, r3.Vec{Y: -1}, r3.Vec{X: 1}, math.Pi},
		// Right-handed about the running direction: the width side turns to the thickness side.
		{"twist", design.Step{Kind: design.Twist, AngleRad: right, LengthMM: 2}, r3.Vec{X: 2}, r3.Vec{X: 1}, r3.Vec{Z: 1}, 2},
	} {
		want := beam.Pose{At: test.at, D1: test.d1, D2: test.d2, D3: r3.Cross(test.d1, test.d2)}
		if got := unloadedEnd(design.Path{test.step}); far(got, want) > 1e-12 {
			t.Errorf("%s ends at %+v, want %+v", test.name, got, want)
		}
		if got := (design.Path{test.step, test.step}).WireLengthMM(); math.Abs(got-2*test.length) > 1e-12 {
			t.Errorf("%s twice uses %v mm of wire, want %v", test.name, got, 2*test.length)
		}
	}
}

func randomPath(source *rand.Rand) design.Path {
	var path design.Path
	for range 2 + source.IntN(10) {
		angle := float64(source.IntN(7)-3) * 0.3 // often 0
		switch source.IntN(4) {
		case 0:
			path = append(path, design.Step{Kind: design.Twist, AngleRad: angle, LengthMM: 0.5 + source.Float64()})
		case 1:
			path = append(path, design.Step{Kind: design.Bend, AngleRad: angle, RadiusMM: 0.5 + source.Float64(), Order: 1 + source.IntN(2)})
		default:
			path = append(path, design.StraightStep(float64(source.IntN(3))))
		}
	}
	return path
}

func TestTidyKeepsTheWire(t *testing.T) {
	t.Parallel()
	source := rand.New(rand.NewPCG(1, 0))
	for range 300 {
		path := randomPath(source)
		before := append(design.Path(nil), path...)
		tidy := path.Tidy()
		if diff := cmp.Diff(before, path); diff != "" {
			t.Fatalf("Tidy changed the path it was called on:\n%s", diff)
		}
		if d := math.Abs(tidy.WireLengthMM() - path.WireLengthMM()); d > 1e-12 {
			t.Errorf("%v loses %v mm of wire", path, d)
		}
		if d := far(unloadedEnd(tidy), unloadedEnd(path)); d > 1e-9 {
			t.Errorf("%v ends %v elsewhere when tidy", path, d)
		}
		for i, step := range tidy {
			if step.WireLengthMM() == 0 || step.Kind != design.Straight && step.AngleRad == 0 {
				t.Errorf("%v keeps a step that does nothing: %+v", path, step)
			}
			if i > 0 && step.Kind == design.Straight && tidy[i-1].Kind == design.Straight {
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
	got := design.Path{
		design.StraightStep(1), design.BendStep(0, 0.6), design.StraightStep(2),
		{Kind: design.Twist, LengthMM: 2},
		design.StraightStep(0), design.BendStep(1, 0.6), design.StraightStep(0),
	}.Tidy()
	want := design.Path{design.StraightStep(5), design.BendStep(1, 0.6)}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

func TestPieceIsStep(t *testing.T) {
	t.Parallel()
	path := design.Path{design.StraightStep(0), design.BendStep(0, 0.6), {Kind: design.Twist, LengthMM: 2}, design.BendStep(-0.4, 0.5)}
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
