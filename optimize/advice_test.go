package optimize

import (
	"strings"
	"testing"

	"springwright/design/target"
)

// A limit that stands in the way is named as whoever measured or chose it knows it, with its
// letter on the measuring sheet, and given more room in those terms.
func TestReliefsAreThoseThatWereMeasured(t *testing.T) {
	t.Parallel()
	c := demoCase(t)
	c.Limits.FoldDepthMM = c.Limits.LoopHeightMM + 1
	c.Limits.BitingReachMM, c.Limits.CheekBulgeMM, c.Limits.MostBends = 2, 3, 8
	want := map[string]bool{ // and whether it is measured in the mouth
		"fold depth (I)": true, "loop width": false, "room mesially (J)": true, "room distally (K)": true,
		"largest pre-activation bend": false, "clearance on the biting side": true, "bulge into the cheek": true, "number of bends": false,
	}
	for _, r := range reliefs(c) {
		measured, known := want[r.name]
		if !known || measured != r.measured {
			t.Errorf("%q, measured %v, want one of %v", r.name, r.measured, want)
		}
		delete(want, r.name)
		wider := c.Limits
		to := r.widen(&wider, r.steps[0])
		if to != r.from+r.steps[0] || wider == c.Limits {
			t.Errorf("%s: from %v by %v to %v, limits %+v", r.name, r.from, r.steps[0], to, wider)
		}
		if r.name == "fold depth (I)" && (r.from != c.Limits.FoldDepthMM || wider.LoopHeightMM != c.Limits.LoopHeightMM+r.steps[0]) {
			t.Errorf("fold depth from %v, then a loop of %v mm", r.from, wider.LoopHeightMM)
		}
	}
	if len(want) > 0 {
		t.Errorf("nothing relieves %v", want)
	}
	c.Limits.FoldDepthMM = 0
	if r := reliefs(c)[0]; !strings.Contains(r.name, "no fold depth (I) is given") || r.from != c.Limits.LoopHeightMM {
		t.Errorf("without a measured fold: %q from %v", r.name, r.from)
	}
	if got, want := (Relief{Name: limitName(target.RoomDistalLimit), From: 3, To: 7}).String(), "room distally (K) 7.0 mm instead of 3.0 mm"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
