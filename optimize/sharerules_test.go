package optimize

import (
	"math"
	"testing"

	"springwright/design"
)

// sharesOf is the share of springs of a design bent one by one that meet the target, and how far the
// design is from its kind's own shape, in points.
func shareOf(t *testing.T, c design.Case) (share, shape float64, r Result) {
	t.Helper()
	c.Bender.Springs = 0
	r, err := Search(t.Context(), c, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !r.Met() {
		t.Fatalf("the target is not met: %v %v", r.Misses, r.Exceeded)
	}
	bent, err := Bent(t.Context(), c, r.Spring, 600, 77, 0)
	if err != nil {
		t.Fatal(err)
	}
	x := make([]float64, len(r.Settings))
	for j, s := range r.Settings {
		x[j] = s.Value
	}
	s := trialOf(t, c)
	return bent.Spread.Share(), shapeCost(s.pattern, x), r
}

// Once the target is met the share of bent springs that meet it rules the choice. A light wire, wide
// tolerances and a window up to the very end: from where the loads lie in the middle of their windows
// the search used to come to 37 in 100 seated and 55 tied, with uprights that differ by 0.5 to 1 mm and
// corners off by up to 22 degrees.
func TestShareRulesTheChoice(t *testing.T) {
	t.Parallel()
	for how, floor := range map[string]float64{"seated": 0.65, "tied": 0.62} { // 0.74 and 0.76 are reached; a sample of 600 is good to 0.04 (twice its error), and a neighbouring optimum lies some 0.05 lower
		t.Run(how, func(t *testing.T) {
			t.Parallel()
			share, shape, r := shareOf(t, seatedAs(trialCase(t), how))
			t.Logf("share %.3f, %.1f points off its own shape", share, shape)
			if share < floor {
				t.Errorf("%.0f in 100 meet the target, want %.0f", 100*share, 100*floor)
			}
			// A loop of this name: what its shape costs is less than a tenth of what is gained by it.
			if shape > 3 {
				t.Errorf("%.1f points off its own shape: %v", shape, r.Settings)
			}
		})
	}
}

// A tighter limit must not give a better design: the search with 10 degrees of pre-activation came to 58
// in 100 of a case for which it came to 37 with 45.
func TestTighterLimitsGiveNoBetterShare(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("nine searches in short mode")
	}
	// Twice the standard error of a difference of two samples of 600 with a share of a half is 0.06; they
	// have their random numbers in common, so that it is less.
	const noise = 0.06
	seated, tied := seatedAs(trialCase(t), "seated"), seatedAs(trialCase(t), "tied")
	demo := seatedAs(demoCase(t), "seated")
	for name, c := range map[string]design.Case{"light wire, seated": seated, "light wire, tied": tied, "demo, seated": demo} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			best := math.Inf(-1)
			for _, limit := range []float64{10, 45} {
				c.Limits.LargestPreBendRad = degree(limit)
				share, _, _ := shareOf(t, c)
				t.Logf("%v degrees: %.3f", limit, share)
				if share < best-noise {
					t.Errorf("with %v degrees of pre-activation %.2f meet the target, with less %.2f", limit, share, best)
				}
				best = max(best, share)
			}
		})
	}
}
