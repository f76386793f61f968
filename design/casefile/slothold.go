package casefile

import (
	"bytes"
	"fmt"

	"springwright/design/quantity"
	"springwright/design/spring"
	"springwright/design/wire"
)

const (
	holdTied = "tied"
	holdPlay = "play"
	holdHook = "hook"
)

// slotDepthSpan is the clear size of a slot across the wire's width; slots are 0.6–0.8 mm
// deep, common practice.
var slotDepthSpan = span{unit: quantity.Millimetre, low: 0.3, high: 3}

// slotHold reads the keys of a slot that tell how it holds the wire: height_mm, depth_mm
// and hold. Left out: hold "tied", depth_mm 0 (no play in first order). height_mm and a
// slot length are needed with hold = "play"; hold = "hook", which only the active end can
// have, is a point and has no length. The seating is what the slot is told to be besides.
func (s *section) slotHold(w wire.Wire, lengthMM float64, active bool) (_ spring.SlotHold, seating spring.Seating) {
	var h spring.SlotHold
	words := []string{holdTied, holdPlay}
	if active {
		words = append(words, holdHook)
	}
	switch s.hold(words...) {
	case holdPlay:
		h.Play = true
	case holdHook:
		h.Hook = true
		if lengthMM > 0 {
			s.blame("slot_length_mm", hookedLength(lengthMM), hookedHint)
		}
	}
	if s.has("height_mm") {
		h.HeightMM = s.slotHeight(s.optional("height_mm", slotHeightSpan, 0))
		s.holdsWire("height_mm", "height", h.HeightMM, "thickness", w.HeightMM())
	}
	if !s.has("height_mm") && s.has("size") {
		s.blame("size", "is given without a height_mm", "write the slot's nominal height, such as \"0.022in\", or leave size out")
	}
	h.DepthMM = s.depth(w)
	seating = s.seating()
	if seating.Before == spring.ToForce && !s.has("drawn_to_n") {
		s.missing("drawn_to_n", `with before_tying = "drawn to a force", write what the gauge reads`)
	}
	if kind := seating.Kind; kind != spring.UntoldKind {
		if !s.has("height_mm") {
			s.missing("height_mm", fmt.Sprintf(`with kind = %q, write the slot's clear height, such as "0.022in"`, kind))
		}
		if lengthMM == 0 {
			s.seatNeedsLength("slot_length_mm", kind)
		}
	}
	if h.Play && !s.has("height_mm") {
		s.missing("height_mm", `with hold = "play", write the slot's clear height, such as "0.022in"`)
	}
	if h.Play && lengthMM == 0 {
		s.playNeedsLength("slot_length_mm")
	}
	return h, seating
}

const hookedHint = "a hook or tie holds the wire at one point and takes no couple: write 0 or leave it out"

func hookedLength(lengthMM float64) string {
	return fmt.Sprintf("is %s, but the wire is hooked there and enters no slot", millimetres(lengthMM))
}

// hold reads hold, one of words; left out it is "tied".
func (s *section) hold(words ...string) string {
	if !s.has("hold") {
		return holdTied
	}
	word, _ := s.word("hold", words...)
	return word
}

// depth reads the slot's depth, 0 where it is left out.
func (s *section) depth(w wire.Wire) float64 {
	if !s.has("depth_mm") {
		return 0
	}
	depth := s.optional("depth_mm", slotDepthSpan, 0)
	s.holdsWire("depth_mm", "depth", depth, "width", w.DepthMM())
	return depth
}

// holdsWire checks that a wire goes into a slot. A slot and its wire of the same nominal
// size may differ in the last digit.
func (s *section) holdsWire(key, of string, slotMM float64, side string, wireMM float64) {
	if wireMM > slotMM*(1+1e-9) {
		s.blame(key, fmt.Sprintf("%s is less than the wire's %s, %s", millimetres(slotMM), side, millimetres(wireMM)),
			"choose a thinner wire or check the slot's "+of)
	}
}

// playNeedsLength records that a slot with play has no length.
func (s *section) playNeedsLength(key string) {
	const hint = `with hold = "play", write the slot's length: it tells how far the wire tips in it`
	if s.has(key) {
		s.blame(key, "is 0: a point stops no tipping", hint)
		return
	}
	s.missing(key, hint)
}

// slide reads which slot the wire slides through; left out it is none.
func (s *section) slide() spring.Slide {
	if !s.has("slide") {
		return spring.NoSlide
	}
	switch word, _ := s.word("slide", spring.SlideActive.String(), spring.SlideAnchor.String(), spring.NoSlide.String()); word {
	case spring.SlideActive.String():
		return spring.SlideActive
	case spring.SlideAnchor.String():
		return spring.SlideAnchor
	}
	return spring.NoSlide
}

// slidesOnStraight checks that the path has a straight next to the slot it slides through.
func (s *section) slidesOnStraight(made spring.Spring) {
	path := made.Path.Steps()
	slide, toRest := made.Slide, false
	if slide == spring.NoSlide {
		slide, toRest = made.SlidToRest, true
	}
	if slide == spring.NoSlide || len(path) == 0 {
		return
	}
	step, end, table := path[0], "begins", "anchor"
	if slide == spring.SlideActive {
		step, end, table = path[len(path)-1], "ends", "active"
	}
	switch {
	case step.Kind == spring.Straight && !(step.LengthMM <= 0): // NaN has its own fault
	case toRest:
		s.table(table).blame("before_tying", fmt.Sprintf("is %q, but the path %s with no straight that could slide", spring.ToRest, end),
			"let the path "+end[:len(end)-1]+` with a straight_mm above 0, or write "as measured"`)
	default:
		s.blame("slide", fmt.Sprintf("is %q, but the path %s with no straight that could slide", slide, end),
			"let the path "+end[:len(end)-1]+" with a straight_mm above 0, or leave slide out")
	}
}

// writeHold writes what differs from a tied slot.
func writeHold(b *bytes.Buffer, h spring.SlotHold) {
	if h.HeightMM > 0 {
		fmt.Fprintf(b, "height_mm = %s\n", quantity.Format(h.HeightMM))
	}
	if h.DepthMM > 0 {
		fmt.Fprintf(b, "depth_mm = %s\n", quantity.Format(h.DepthMM))
	}
	switch {
	case h.Hook:
		fmt.Fprintf(b, "hold = %q\n", holdHook)
	case h.Play && !h.Shifts:
		fmt.Fprintf(b, "hold = %q\n", holdPlay)
	}
}
