package beam_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"springwright/design/beam"
)

// near fails the test unless got lies within tolerance of want; a NaN never does.
func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.10g, want %.10g ± %.1g", what, got, want, tolerance)
	}
}

// nearVec is near for the length of the difference of two vectors.
func nearVec(t *testing.T, what string, got, want r3.Vec, tolerance float64) {
	t.Helper()
	if !(r3.Norm(r3.Sub(got, want)) <= tolerance) {
		t.Errorf("%s = %.10g, want %.10g ± %.1g", what, got, want, tolerance)
	}
}

// nearWrench is near for the force and the moment of a load.
func nearWrench(t *testing.T, what string, got, want beam.Wrench, tolerance float64) {
	t.Helper()
	nearVec(t, what+" force", got.ForceN, want.ForceN, tolerance)
	nearVec(t, what+" moment", got.MomentNMM, want.MomentNMM, tolerance)
}

// mustFollow follows the hold and stops the test if that fails.
func mustFollow(t testing.TB, s *beam.Solver, hold beam.Hold) {
	t.Helper()
	if err := s.Follow(hold); err != nil {
		t.Fatalf("Follow: %v", err)
	}
}
