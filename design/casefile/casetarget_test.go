package casefile_test

import (
	"math"
	"strings"
	"testing"

	"springwright/design/casefile"
	"springwright/design/target"

	"github.com/google/go-cmp/cmp"
)

// The molar of molarCase stands distally on the lower left: mesial is −x, buccal +y,
// crown-mesial about +y.
func TestReadTargetOfAnchorRatioRateAndWeights(t *testing.T) {
	t.Parallel()
	text := strings.NewReplacer(
		"mesial_n = { min = -0.01, max = 0.06 }", "mesial_n = { min = 0.1, max = 0.6, weight = 2 }\nmoment_to_force_mm = { value = 7, tolerance = 1, weight = 0.5 }\nmax_rate_n_per_mm = 0.25",
		"[search]", "[target.anchor]\nintrusive_n = { min = -0.4 }\nmesial_n = { max = 0.3 }\ncrown_mesial_nmm = { value = 1, tolerance = 2 }\n\n[search]",
		"largest_pre_bend_deg = 25", "biting_clearance_mm = 2\ncheek_bulge_mm = 3\nmost_bends = 8\nlargest_stress_ratio = 0.7",
	).Replace(molarCase)
	c, err := casefile.ReadCase("case.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	inf := math.Inf(1)
	anchor := target.LoadWindow{
		ForceN:    [3]target.Window{{Min: -0.3, Max: inf}, {}, {Min: -0.4, Max: inf}},
		CoupleNMM: [3]target.Window{1: {Min: -1, Max: 3, Aimed: true}},
	}
	if diff := cmp.Diff(anchor, c.Target.Anchor, near); diff != "" {
		t.Errorf("anchor (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(target.Window{Min: 6, Max: 8, Aimed: true, Weight: 0.5}, c.Target.MomentToForceMM, near); diff != "" {
		t.Errorf("ratio (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(target.Window{Min: -0.6, Max: -0.1, Weight: 2}, c.Target.Travel.ForceN[0], near); diff != "" {
		t.Errorf("weighted window (-want +got):\n%s", diff)
	}
	l := c.Limits
	if c.Target.MaxRateNPerMM != 0.25 || l.BitingReachMM != 2 || l.CheekBulgeMM != 3 || l.MostBends != 8 || l.StressRatio() != 0.7 {
		t.Errorf("rate %v, limits %+v", c.Target.MaxRateNPerMM, l)
	}
	plain, err := casefile.ReadCase("case.toml", []byte(molarCase))
	if err != nil {
		t.Fatal(err)
	}
	if plain.Limits.StressRatio() != 1 || plain.Target.MaxRateNPerMM != 0 || !plain.Target.MomentToForceMM.Free() {
		t.Errorf("left out: %+v, %+v", plain.Limits, plain.Target)
	}
}

// A window on the anchor tooth alone is a target.
func TestAnchorAloneIsATarget(t *testing.T) {
	t.Parallel()
	from, to := strings.Index(molarCase, "[target.start]"), strings.Index(molarCase, "[search]")
	text := molarCase[:from] + "[target.anchor]\nintrusive_n = { min = -0.4 }\n\n" + molarCase[to:]
	if _, err := casefile.ReadCase("case.toml", []byte(text)); err != nil {
		t.Error(err)
	}
}
