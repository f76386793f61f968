package solve_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"springwright/design/beam"
	"springwright/design/designtest"
	"springwright/design/solve"
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

// A superelastic wire that is let go after its first position gives the same loads whichever
// way it was bent.
func TestLetGoEitherWay(t *testing.T) {
	t.Parallel()
	for _, offsetMM := range []float64{0.8, 1.2, 1.6, 2} {
		for _, positions := range []int{2, 3, 6} {
			var first spring.Record
			for i, way := range []r3.Vec{{Z: 1}, {Z: -1}} {
				s := straightNiTi(0, positions)
				s.Start.AtMM = r3.Add(r3.Vec{X: 8}, r3.Scale(offsetMM, way))
				s.End.AtMM = r3.Add(r3.Vec{X: 8}, r3.Scale(offsetMM/2, way))
				e := designtest.Evaluate(t, s)
				if i == 0 {
					first = e.Record
				}
				for k, p := range e.Record.Positions {
					across, want := r3.Dot(way, p.Active.ForceN), first.Positions[k].Active.ForceN.Z
					// The wire is round, so that but for rounding it is the same problem.
					if math.Abs(across-want) > 1e-8*math.Abs(want) {
						t.Errorf("%g mm along %v, position %d: %g N, along +z %g N", offsetMM, way, k, across, want)
					}
				}
			}
		}
	}
}

// Taken out of its slots, a loop lifted far keeps a set, the larger the farther it was
// lifted, also where it would topple if it hung under the load of its slot.
func TestSetOfLifts(t *testing.T) {
	t.Parallel()
	last := 0.0
	for _, liftMM := range []float64{6.8, 7.2, 8, 9, 10} {
		e := designtest.Evaluate(t, yieldLoop(liftMM, 2))
		set := e.Set.AfterTrial
		t.Logf("lifted %g mm: set %.3f mm, %.4f rad", liftMM, set.ShiftMM, set.TurnRad)
		if set.Unknown || !(set.ShiftMM > last) {
			t.Errorf("lifted %g mm: set %+v after %g mm", liftMM, set, last)
		}
		last = set.ShiftMM
	}
}

// Where nothing plays, a failure does not speak of play.
func TestFailureWithoutPlay(t *testing.T) {
	t.Parallel()
	s := straightNiTi(-1, 2)
	s.Start.AtMM = r3.Vec{X: -3, Z: -1} // back through the slot: the straight is used up
	_, err := solve.Evaluate(t.Context(), s, solve.Options{})
	if !errors.Is(err, beam.ErrNoConvergence) && !errors.Is(err, beam.ErrNoStraight) && !errors.Is(err, beam.ErrUnstable) {
		t.Fatalf("got %v", err)
	}
	if errors.Is(err, solve.ErrNoContact) || strings.Contains(err.Error(), "play") {
		t.Errorf("nothing plays, and the error says: %v", err)
	}
}
