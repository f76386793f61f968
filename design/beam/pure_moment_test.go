package beam_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"springwright/design/beam"
)

// A straight cantilever under an end couple M rolls up to a circle of radius EI/M: a
// closed form, used as a test by Simo and Vu-Quoc, Comput. Methods Appl. Mech. Eng. 58
// (1986) 79. The steps follow a circle exactly, so what is left is rounding.
func TestPureMomentRollsUp(t *testing.T) {
	rod := beam.Rod{Section: planar(1), Pieces: []beam.Piece{line(1)}}
	for _, phi := range []float64{math.Pi / 2, math.Pi, 2 * math.Pi} {
		s := beam.NewSolver(rod, beam.Origin(), parts(1, 5))
		mustFollow(t, s, beam.Hang(beam.Wrench{MomentNMM: r3.Vec{Z: phi}}))
		end := s.End()
		nearVec(t, "end", end.At, r3.Vec{X: math.Sin(phi) / phi, Y: (1 - math.Cos(phi)) / phi}, 1e-9)
		nearVec(t, "tangent", end.D1, r3.Vec{X: math.Cos(phi), Y: math.Sin(phi)}, 1e-9)
	}
}

// Points along the full circle, as code_aster's test SSNL103 prints them (V6.02.103).
func TestPureMomentAlongTheCircle(t *testing.T) {
	rod := beam.Rod{Section: planar(1), Pieces: []beam.Piece{line(1)}}
	s := beam.NewSolver(rod, beam.Origin(), parts(1, 5))
	mustFollow(t, s, beam.Hang(beam.Wrench{MomentNMM: r3.Vec{Z: 2 * math.Pi}}))
	nodes := s.AppendNodes(nil)
	for node, shiftX := range map[int]float64{2: -0.30645, 3: -0.69355, 5: -1} {
		near(t, "shift along x", nodes[node].Pose.At.X-nodes[node].ArcMM, shiftX, 5e-6) // 5 printed digits
	}
}
