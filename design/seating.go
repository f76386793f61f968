package design

import (
	"springwright/design/spring"
)

// Seating is how the wire of a case is really seated, what is not told as usual.
func (c Case) Seating() (anchor, active spring.Seating) {
	return spring.UsualSeating(c.AnchorSlot.Seating, c.ActiveSlot.Seating)
}

// SeatedSpring is SpringFor with the wire held as it really is. SpringFor holds it tied fast where a
// case does not say that it plays. A slot that the case tells to be tied fast, one without a length and
// a hook are what they are there; a slide that the case tells of goes before what is usual.
func (c Case) SeatedSpring(path spring.Path) spring.Spring {
	s := c.SpringFor(path)
	anchor, active := c.Seating()
	hold := func(to *spring.SlotHold, slot spring.Slot, seating spring.Seating) {
		if !slot.Hook && !slot.Fast && slot.LengthMM > 0 {
			*to = seating.HoldIn(spring.SlotHold{HeightMM: slot.HeightMM, DepthMM: slot.DepthMM}, c.Wire.DepthMM())
		}
	}
	hold(&s.AnchorHold, c.AnchorSlot, anchor)
	hold(&s.ActiveHold, c.ActiveSlot, active)
	s.SlideAs(anchor, active)
	return s
}
