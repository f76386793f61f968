package family_test

import (
	"math"
	"testing"

	"springwright/design"
	"springwright/design/family"
)

// TestSketch holds the pictures to what anybody sees of them: the wire runs on from slot to slot,
// and a loop stands up from it.
func TestSketch(t *testing.T) {
	for _, f := range design.Families() {
		poses, err := family.Sketch(f)
		if err != nil {
			t.Errorf("%s: %v", f.Name, err)
			continue
		}
		left, right, low, high := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
		for _, p := range poses {
			left, right = min(left, p.At.X), max(right, p.At.X)
			low, high = min(low, p.At.Z), max(high, p.At.Z)
		}
		t.Logf("%s: %d poses, x %.1f to %.1f, z %.1f to %.1f", f.Name, len(poses), left, right, low, high)
		if width := right - left; width < 5 || width > 40 {
			t.Errorf("%s: %.1f mm wide, want about the distance of the slots", f.Name, width)
		}
	}
}
