package design_test

import (
	"math"
	"testing"

	"springwright/design/spring"
	"springwright/design/target"
	"springwright/presets"
)

// A loop that draws a tooth along the arch is activated by the wire that is drawn through its slot, to
// the force that is asked for: slid to rest it would do nothing. One that has no force along the arch to
// give is slid, and one that would have to push is put in as measured.
func TestUsualSeatingLeavesTheForceThatIsAskedFor(t *testing.T) {
	t.Parallel()
	_, demo, err := presets.Case(presets.Demo)
	if err != nil {
		t.Fatal(err)
	}
	_, loop, err := presets.Case("t-loop") // of the upper right: distal is against +x
	if err != nil {
		t.Fatal(err)
	}
	pushed, opened, drawnFromBehind := loop, loop, loop
	pushed.Target.Start.ForceN[0], pushed.Target.Travel.ForceN[0] = target.Within(0.4, 0.6), target.Within(0.1, 0.6)
	opened.Target.Start.ForceN[0], opened.Target.Travel.ForceN[0] = target.Window{Min: math.Inf(-1), Max: -0.7}, target.Window{Min: math.Inf(-1), Max: 0}
	drawnFromBehind.Heading = spring.Back
	told := loop
	told.ActiveSlot.Seating = spring.Seating{Before: spring.ToForce, DrawnN: 0.9}
	asMeasured := loop
	asMeasured.ActiveSlot.Seating.Before = spring.AsMeasured
	for name, row := range map[string]struct {
		got    spring.Spring
		slot   spring.Slide
		drawnN float64
	}{
		"demo":                  {demo.SeatedSpring(spring.Path{}), spring.SlideActive, 0},
		"middle of the window":  {loop.SeatedSpring(spring.Path{}), spring.SlideActive, 1.15},
		"end of an open window": {opened.SeatedSpring(spring.Path{}), spring.SlideActive, 0.7},
		"would have to push":    {pushed.SeatedSpring(spring.Path{}), spring.NoSlide, 0},
		"from behind it pushes": {drawnFromBehind.SeatedSpring(spring.Path{}), spring.NoSlide, 0},
		"told":                  {told.SeatedSpring(spring.Path{}), spring.SlideActive, 0.9},
		"as measured":           {asMeasured.SeatedSpring(spring.Path{}), spring.NoSlide, 0},
	} {
		if row.got.SlidToRest != row.slot || math.Abs(row.got.DrawnToN-row.drawnN) > 1e-12 {
			t.Errorf("%s: slid in the %v slot to %g N, want %v and %g", name, row.got.SlidToRest, row.got.DrawnToN, row.slot, row.drawnN)
		}
	}
}
