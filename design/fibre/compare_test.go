package fibre_test

import (
	"math"
	"testing"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) { // also catches NaN
		t.Errorf("%s: got %.10g, want %.10g ± %.2g", what, got, want, tolerance)
	}
}
