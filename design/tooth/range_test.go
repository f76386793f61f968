package tooth

import (
	"fmt"
	"math"
	"testing"
)

// Ranges on the axes of the lower left with the active tooth distal: x distally, y to the
// cheek, z apically. No size is ever below 0, and none stands without its sense.
func TestRange(t *testing.T) {
	t.Parallel()
	m := Pair{Anchor: 36, Active: 37}.ActiveMember()
	number := func(v float64) string { return fmt.Sprintf("%.1f", v) }
	inf := math.Inf(1)
	for _, test := range []struct {
		k         Component
		low, high float64
		want      string
	}{
		{ForceZ, 0.3, 0.6, "0.3 to 0.6 N intrusive"},
		{ForceZ, -0.6, -0.3, "0.3 to 0.6 N extrusive"},
		{ForceZ, -0.6, 0, "0.0 to 0.6 N extrusive"},
		{ForceZ, 0, 0.6, "0.0 to 0.6 N intrusive"},
		{ForceZ, -0.1, 0.6, "0.1 N extrusive to 0.6 N intrusive"},
		{ForceX, -0.6, 0.1, "0.1 N distal to 0.6 N mesial"},
		{ForceX, -0.1, 0.1, "at most 0.1 N mesial or distal"},
		{ForceX, 0.3, 0.6, "0.3 to 0.6 N distal"},
		{ForceX, 0, 0.6, "0.0 to 0.6 N distal"},
		{ForceX, -0.6, 0, "0.0 to 0.6 N mesial"},
		{ForceX, 0.3, inf, "at least 0.3 N distal"},
		{ForceX, -inf, -0.3, "at least 0.3 N mesial"},
		{ForceX, -inf, 0.3, "at most 0.3 N distal or any mesial"},
		{ForceX, -0.3, inf, "at most 0.3 N mesial or any distal"},
		{ForceX, -inf, inf, "anything"},
		{ForceZ, -0.04, 0.6, "0.0 to 0.6 N intrusive"},
		{ForceZ, -0.6, 0.04, "0.0 to 0.6 N extrusive"},
		{ForceZ, -0.6, 0.06, "0.6 N extrusive to 0.1 N intrusive"},
		{CoupleX, 1, 2, "1.0 to 2.0 N buccal crown torque"},
		{CoupleX, -2, -1, "1.0 to 2.0 N lingual crown torque"},
		{CoupleY, -2, -1, "1.0 to 2.0 N crown-distal"},
		{CoupleZ, 1, 1, "1.0 N mesial-in"},
		{CoupleZ, 0, 0, "0.0 N mesial-in"},
	} {
		if got := m.Range(test.k, test.low, test.high, number, "N", fmt.Sprintf); got != test.want {
			t.Errorf("%d from %v to %v: %q, want %q", test.k, test.low, test.high, got, test.want)
		}
	}
}
