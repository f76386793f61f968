package beam_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"springwright/design/beam"
)

// cut divides every piece of a rod into equal parts.
func cut(rod beam.Rod, parts int) beam.Rod {
	out := beam.Rod{Section: rod.Section}
	for _, piece := range rod.Pieces {
		piece.LengthMM /= float64(parts)
		for range parts {
			out.Pieces = append(out.Pieces, piece)
		}
	}
	return out
}

// The integrator is of order 4: the error of the loads falls 16-fold at each halving.
func TestOrderOfConvergence(t *testing.T) {
	rod := boxLoop(titaniumWire())
	load := func(parts int) beam.Wrench {
		s := beam.NewSolver(cut(rod, parts), beam.Origin(), beam.Options{StepMM: 100, StepRad: 100, Tolerance: 1e-13})
		mustFollow(t, s, boxHold(rod, 1))
		return s.EndLoad()
	}
	converged := load(96)
	distance := func(parts int) float64 {
		got := load(parts)
		return math.Hypot(r3.Norm(r3.Sub(got.ForceN, converged.ForceN)),
			r3.Norm(r3.Sub(got.MomentNMM, converged.MomentNMM)))
	}
	previous := distance(2)
	for _, parts := range []int{4, 8, 16} {
		now := distance(parts)
		near(t, "order", math.Log2(previous/now), 4, 0.3)
		previous = now
	}
}
