package solve

import (
	"springwright/design/beam"
	"springwright/design/spring"
)

// slides tells whether the wire slides through a slot now: all along, or until it is seated
// where it is slid to rest.
func (f *slotFollower) slides(slot spring.Slide) bool {
	return !f.cinched && (f.spring.Slide == slot || f.spring.SlidToRest == slot && f.beforeTying())
}

// beforeTying tells that a wire which is slid to rest in its first seat is not tied there yet.
func (f *slotFollower) beforeTying() bool { return !f.seated || f.onTheWay }

// let tells the slots what slides now.
func (f *slotFollower) let(anchor, active *beam.Slot) {
	anchor.Slides, active.Slides = f.slides(spring.SlideAnchor), f.slides(spring.SlideActive)
	anchor.ForceN, active.ForceN = f.axialN, f.axialN
	if f.beforeTying() && f.spring.Slide == spring.NoSlide { // drawn through, until it is cinched
		drawnN := (1 - f.undrawn) * f.spring.DrawnToN
		anchor.ForceN, active.ForceN = drawnN, drawnN
	}
	if f.spring.ActiveHold.Hook {
		active.Slides, active.Glides = false, active.Slides
	}
}
