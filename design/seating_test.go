package design_test

import (
	"testing"

	"springwright/design/spring"
	"springwright/presets"
)

// A loop that draws a tooth along the arch is activated by the wire that is pulled through its slot:
// slid to rest it would do nothing. One that has no force along the arch to give is slid.
func TestUsualSeatingLeavesTheForceThatIsAskedFor(t *testing.T) {
	t.Parallel()
	for name, want := range map[string]spring.Slide{presets.Demo: spring.SlideActive, "t-loop": spring.NoSlide} {
		_, c, err := presets.Case(name)
		if err != nil {
			t.Fatal(err)
		}
		if got := c.SeatedSpring(spring.Path{}).SlidToRest; got != want {
			t.Errorf("%s: slid to rest in the %v slot, want %v", name, got, want)
		}
		c.ActiveSlot.Seating.Before = spring.ToRest // told, it is done
		if got := c.SeatedSpring(spring.Path{}).SlidToRest; got != spring.SlideActive {
			t.Errorf("%s, told to be slid: slid to rest in the %v slot", name, got)
		}
	}
}
