package design

import (
	"springwright/design/spring"
	"springwright/design/tooth"
)

// Seating is how the wire of a case is really seated, what is not told as usual. Where the target asks
// for a force along the arch it is usual to put the wire in as measured: a loop that draws a tooth along
// is activated by that, and slid to rest it would have no such force.
func (c Case) Seating() (anchor, active spring.Seating) {
	anchor, active = c.AnchorSlot.Seating, c.ActiveSlot.Seating
	if active.Before == spring.UntoldBefore && c.Target.Wants(tooth.ForceX) {
		active.Before = spring.AsMeasured
	}
	return spring.UsualSeating(anchor, active)
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

// SeatingTold tells whether the case says of a slot how the wire is really seated there. Such a case
// is searched for, and its springs are bent in trial and evaluated, as seated so.
func (c Case) SeatingTold() bool {
	return c.AnchorSlot.Seating != spring.Seating{} || c.ActiveSlot.Seating != spring.Seating{}
}

// DesignedSpring is a design of path as it is evaluated: SeatedSpring where the case tells how the wire
// is seated, else SpringFor.
func (c Case) DesignedSpring(path spring.Path) spring.Spring {
	if c.SeatingTold() {
		return c.SeatedSpring(path)
	}
	return c.SpringFor(path)
}

// AsSearched is a spring of the case as a search and a trial hold it: as it is where the case tells
// how the wire is seated, else tied fast, and sliding at a hook alone.
func (c Case) AsSearched(s spring.Spring) spring.Spring {
	if c.SeatingTold() {
		return s
	}
	return s.Clamped()
}
