package effect_test

import (
	"testing"

	"springwright/design/effect"
	"springwright/presets"
)

func TestSmallTravel(t *testing.T) {
	t.Parallel()
	for name, want := range map[string]bool{
		"molar-step": true, "l-loop": true, // 1 mm up or down
		"demo":             false, // 1.5 mm
		"t-loop":           false, // along the arch
		"lower-cantilever": false, // a hook
		"root-torque":      false, // a turn
	} {
		_, c, err := presets.Case(name)
		if err != nil {
			t.Fatal(err)
		}
		if got := effect.SmallTravel(c); got != want {
			t.Errorf("%s: %v, want %v", name, got, want)
		}
	}
}
