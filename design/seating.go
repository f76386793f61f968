package design

import (
	"fmt"
	"math"

	"springwright/design/fault"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
)

// Seating is how the wire of a case is really seated, what is not told as usual. Where the target asks
// for a force along the arch it is usual to put the wire in as measured: a loop that draws a tooth along
// is activated by that, and slid to rest it would have no such force.
// Where the wire has to be drawn for that it is drawn until a gauge reads the force asked for.
func (c Case) Seating() (anchor, active spring.Seating) {
	anchor, active = c.AnchorSlot.Seating, c.ActiveSlot.Seating
	pullN := c.pullAlongN()
	if active.Before == spring.UntoldBefore {
		switch {
		case c.ActiveSlot.Fast, anchor.Before == spring.ToForce:
			active.Before = spring.AsMeasured
		case c.Target.Wants(tooth.ForceX):
			active.Before = spring.AsMeasured
			if pullN > 0 && anchor.Before != spring.ToRest {
				active.Before = spring.ToForce
			}
		}
	}
	for _, s := range [...]*spring.Seating{&anchor, &active} {
		if s.Before == spring.ToForce && s.DrawnN == 0 {
			s.DrawnN = max(pullN, 0)
		}
	}
	return spring.UsualSeating(anchor, active)
}

// pullAlongN is the pull along the wire at the start that the target asks for: in the middle of its
// window, or at its bound where it is open. Below 0 the wire would have to push; 0: nothing is asked for.
func (c Case) pullAlongN() float64 {
	if !c.Target.Wants(tooth.ForceX) {
		return 0
	}
	w := c.Target.WindowAt(target.OfActive(tooth.ForceX), math.Inf(1), true)
	along := (w.Min + w.Max) / 2
	switch {
	case math.IsInf(w.Max, 1):
		along = w.Min
	case math.IsInf(w.Min, -1):
		along = w.Max
	}
	if math.IsInf(along, 0) {
		return 0
	}
	if c.Heading == spring.Back { // a wire that comes back from behind draws the tooth away from the anchor
		return along
	}
	return -along
}

// SeatedSpring is the spring of path for this case with the wire held as it really is: what a search
// aims at, what is printed, and what bent springs are judged by. SpringFor holds it tied fast where the
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

// SlidingFaults finds a force along the arch that is asked of a wire which slides until it has none,
// and a wire that is to be drawn to a force which is not asked for, under the keys of a case file.
func (c Case) SlidingFaults() fault.List {
	var faults fault.List
	add := func(key, word, problem, hint string) {
		faults = append(faults, fault.Fault{Key: key, Text: fmt.Sprintf("is %q, but the target asks for %s", word, problem), Hint: hint})
	}
	const along, noForce = "a force along the arch", "a force along the arch: a wire that slides has none"
	wants, pullN := c.Target.Wants(tooth.ForceX), c.pullAlongN()
	for _, slot := range [...]struct {
		table string
		spring.Slot
	}{{"anchor_slot", c.AnchorSlot}, {"active_slot", c.ActiveSlot}} {
		told := slot.Seating
		switch {
		case wants && told.Before == spring.ToRest:
			add(slot.table+".before_tying", told.Before.String(), noForce, `write "as measured" or "drawn to a force"`)
		case told.Before == spring.ToForce && pullN <= 0:
			add(slot.table+".before_tying", told.Before.String(), "no "+along+" that draws at the wire", `write "slid to rest" or "as measured"`)
		}
		if wants && told.Tie == spring.LeftToSlide {
			add(slot.table+".tie", told.Tie.String(), noForce, `write "cinched"`)
		}
	}
	if wants && c.Slide != spring.NoSlide && !c.ActiveSlot.Hook {
		add("slide", c.Slide.String(), noForce, "leave slide out")
	}
	return faults
}
