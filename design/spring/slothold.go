package spring

import (
	"errors"
	"fmt"
	"math"

	"springwright/design/beam"
	"springwright/design/wire"
)

// SlotHold is how a slot holds the wire. The zero value ties it: no play at all. The
// search for a loop takes the slots as tied unless its case tells how the wire is seated there (see
// Seating); play is looked at afterwards.
type SlotHold struct {
	// Play lets the wire turn in the slot until it meets a wall: in third and second order
	// by the slot's height, in first order by its depth.
	Play     bool
	HeightMM float64 // clear height, across the wire's thickness; needed with Play
	// DepthMM is the clear size across the wire's width. 0: the wire is pressed against the
	// slot's floor, as by a ligature, and cannot turn in first order.
	DepthMM float64
	// Shifts lets a wire that plays shift across the slot as well: up and down by what is left
	// of its height and, where there is a depth, of that. Without, it turns about the slot's centre.
	Shifts bool
	// Hook holds the wire as a point, at its entry: it turns as it likes and takes no couple.
	// Only the active end can be hooked. Its slot has no length.
	Hook bool
}

// WithPlay is the hold of a slot that lets the wire play.
func (s Slot) WithPlay() SlotHold {
	return SlotHold{Play: true, HeightMM: s.HeightMM, DepthMM: s.DepthMM}
}

// Hold is how the slot holds a finished spring.
func (s Slot) Hold() SlotHold {
	switch {
	case s.Hook:
		return SlotHold{Hook: true}
	case s.Play:
		return s.WithPlay()
	}
	return SlotHold{}
}

// Slide says which slot the wire slides through without friction, so that no force acts
// along it there and the wire between the slots takes the length it needs.
type Slide int

const (
	NoSlide     Slide = iota // cinched at both slots
	SlideActive              // through the active slot
	SlideAnchor              // through the anchor slot
)

// String returns the word used in files: "none", "active" or "anchor".
func (s Slide) String() string {
	switch s {
	case SlideActive:
		return "active"
	case SlideAnchor:
		return "anchor"
	default:
		return "none"
	}
}

// Play is how far a wire turns in a slot, one way from the middle, in rad: 0 where it is
// tied, +Inf where no wall ever stops it.
type Play struct{ ThirdOrder, SecondOrder, FirstOrder float64 }

// PlayOf returns the play of a wire in a slot of lengthMM (see wire.TorsionalPlayRad and
// wire.SecondOrderPlayRad; the first order has the geometry of the second, with the wire's
// width in the slot's depth). The three are taken one by one: that a rolled wire fills more
// of the slot's height is left out. The error wraps wire.ErrTooThick.
func (h SlotHold) PlayOf(w wire.Wire, lengthMM float64) (Play, error) {
	switch {
	case h.Hook:
		free := math.Inf(1)
		return Play{free, free, free}, nil
	case !h.Play:
		return Play{}, nil
	}
	var p Play
	var err error
	switch p.ThirdOrder, err = w.TorsionalPlayRad(h.HeightMM); {
	case errors.Is(err, wire.ErrTurnsFreely):
		p.ThirdOrder = math.Inf(1)
	case err != nil:
		return Play{}, fmt.Errorf("slot height: %w", err)
	}
	if p.SecondOrder, err = w.SecondOrderPlayRad(h.HeightMM, lengthMM); err != nil {
		return Play{}, fmt.Errorf("slot height: %w", err)
	}
	if h.DepthMM > 0 {
		across := w
		across.ThicknessMM, across.WidthMM = w.WidthMM, w.ThicknessMM
		if p.FirstOrder, err = across.SecondOrderPlayRad(h.DepthMM, lengthMM); err != nil {
			return Play{}, fmt.Errorf("slot depth: %w", err)
		}
	}
	return p, nil
}

// Tied returns the spring with both slots tied; what slides still does.
func (s Spring) Tied() Spring {
	s.AnchorHold.Play, s.ActiveHold.Play = false, false
	return s
}

// Clamped is Tied with nothing that slides but a hook: a plain spring.
func (s Spring) Clamped() Spring {
	s = s.Tied()
	s.SlidToRest, s.DrawnToN = NoSlide, 0
	if !s.HookSlides() {
		s.Slide = NoSlide
	}
	return s
}

// HoldAt is how the far end of a plain spring is held at a seat: clamped, or hooked. A hook
// that slides does so along the slot's own axis, as along the wire that it hangs on, and
// there is no force along it; see HookToleranceMM.
func (s Spring) HoldAt(seat Seat) beam.Hold { return s.HoldAtPose(seat.Pose(s.Heading)) }

func (s Spring) HoldAtPose(pose beam.Pose) beam.Hold {
	hold := beam.Clamp(pose)
	if s.ActiveHold.Hook {
		hold.FreeTurn = [3]bool{true, true, true}
		hold.FreeMove[0] = s.HookSlides()
	}
	return hold
}

// HookSlides tells whether the far end is a hook that slides along its seat's axis.
func (s Spring) HookSlides() bool { return s.ActiveHold.Hook && s.Slide == SlideActive }

// slidesAtFirst tells whether the wire slides through a slot on its way into the first seat.
func (s Spring) SlidesAtFirst() bool { return s.Slide != NoSlide || s.SlidToRest != NoSlide }

// slidesThrough tells whether that slot is the given one.
func (s Spring) SlidesThrough(slot Slide) bool { return s.Slide == slot || s.SlidToRest == slot }

// Plain tells whether nothing plays in the slots and no wire slides through one: the wire's
// ends are clamped, or the far one is hooked.
func (s Spring) Plain() bool {
	return !s.AnchorHold.Play && !s.ActiveHold.Play && (!s.SlidesAtFirst() || s.HookSlides())
}
