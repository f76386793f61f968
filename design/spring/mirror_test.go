package spring

import (
	"testing"

	"springwright/design/beam"

	"gonum.org/v1/gonum/spatial/r3"
)

// The twin's path, walked, gives the mirrored poses of the path: signs and frame agree.
func TestMirroredPathIsTheMirrorImage(t *testing.T) {
	t.Parallel()
	path := PathOf(
		StraightStep(2), BendStep(1.2, 0.8), StraightStep(4),
		Step{Kind: Bend, AngleRad: 0.4, RadiusMM: 0.9, Order: 1},
		StraightStep(2),
		Step{Kind: Twist, AngleRad: 0.3, LengthMM: 2},
		BendStep(-0.7, 0.8), StraightStep(3),
	)
	a, b := beam.Origin(), beam.Origin()
	twin := path.Mirrored().Pieces()
	for i, piece := range path.Pieces() {
		a, b = a.Advance(piece.Curvature, piece.LengthMM), b.Advance(twin[i].Curvature, twin[i].LengthMM)
		want := MirroredPose(a)
		for _, d := range [...]r3.Vec{r3.Sub(b.At, want.At), r3.Sub(b.D1, want.D1), r3.Sub(b.D2, want.D2), r3.Sub(b.D3, want.D3)} {
			if r3.Norm(d) > 1e-12 { // rounding of some forty operations on lengths of 10
				t.Fatalf("after step %d the twin is at %v, want %v", i, b, want)
			}
		}
	}
}

func TestMirroredSeatIsTheMirrorImage(t *testing.T) {
	t.Parallel()
	s := Spring{
		Path:  PathOf(StraightStep(3)),
		Start: Seat{AtMM: r3.Vec{X: 8, Y: 0.7, Z: -2}, Rotation: r3.Vec{X: 0.1, Y: 0.2, Z: -0.3}},
		End:   Seat{AtMM: r3.Vec{X: 8, Y: 0.1}},
	}
	for _, heading := range [...]Heading{On, Back} {
		got, want := s.Mirrored().Start.Pose(heading), MirroredPose(s.Start.Pose(heading))
		for _, d := range [...]r3.Vec{r3.Sub(got.At, want.At), r3.Sub(got.D1, want.D1), r3.Sub(got.D2, want.D2), r3.Sub(got.D3, want.D3)} {
			if r3.Norm(d) > 1e-12 {
				t.Fatalf("%v: the twin's seat is %v, want %v", heading, got, want)
			}
		}
	}
	if back := s.Mirrored().Mirrored(); back.Start != s.Start || back.End != s.End {
		t.Errorf("mirrored twice the seats are %v and %v", back.Start, back.End)
	}
}
