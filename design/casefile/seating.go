package casefile

import (
	"bytes"
	"fmt"

	"springwright/design/quantity"
	"springwright/design/spring"
)

// seating reads the keys of a slot that tell how the wire is really seated: kind, tie and
// before_tying. Left out is the usual way; see design.Seating.
func (s *section) seating() spring.Seating {
	var out spring.Seating
	if s.has("kind") {
		word, _ := s.word("kind", spring.Tube.String(), spring.Bracket.String())
		for _, k := range []spring.SlotKind{spring.Tube, spring.Bracket} {
			if word == k.String() {
				out.Kind = k
			}
		}
		if s.has("hold") {
			s.blame("hold", "is given beside kind", "kind and tie say how the slot holds the wire: leave out hold")
		}
	}
	if s.has("tie") {
		word, _ := s.word("tie", spring.Cinched.String(), spring.LeftToSlide.String(), spring.Ligature.String())
		for _, t := range []spring.Tie{spring.Cinched, spring.LeftToSlide, spring.Ligature} {
			if word == t.String() {
				out.Tie = t
			}
		}
	}
	if s.has("before_tying") {
		word, _ := s.word("before_tying", spring.ToRest.String(), spring.AsMeasured.String(), spring.ToForce.String())
		for _, b := range []spring.BeforeTying{spring.ToRest, spring.AsMeasured, spring.ToForce} {
			if word == b.String() {
				out.Before = b
			}
		}
	}
	if s.has("drawn_to_n") {
		out.DrawnN = s.optional("drawn_to_n", drawnSpan, 0)
		if out.Before != spring.ToForce {
			s.blame("drawn_to_n", "is given where the wire is not drawn to a force", `write before_tying = "drawn to a force" beside it, or leave it out`)
		}
	}
	return out
}

// drawnSpan is what a gauge of this trade reads (common practice).
var drawnSpan = span{unit: quantity.Newton, low: 0.05, high: 10}

// blameSeating records what contradicts itself in the seating of two slots, by the names of their
// tables.
func (s *section) blameSeating(anchorTable, activeTable string, anchor, active spring.Seating, hooked bool, slide spring.Slide) {
	for _, f := range spring.SeatingFaults(anchor, active, hooked, slide) {
		table := anchorTable
		if f.Active {
			table = activeTable
		}
		s.table(table).blame(f.Key, f.Problem, f.Hint)
	}
	if s.has("slide") && slide == spring.NoSlide && (anchor.Tie == spring.LeftToSlide || active.Tie == spring.LeftToSlide) {
		s.blame("slide", `is "none", but a slot has tie = "left to slide"`, "leave out slide: tie says it of each slot")
	}
}

// seatNeedsLength records that a slot with a kind has no length.
func (s *section) seatNeedsLength(key string, kind spring.SlotKind) {
	hint := fmt.Sprintf("with kind = %q, write the slot's length: it tells how far the wire tips in it", kind)
	if s.has(key) {
		s.blame(key, "is 0: a point stops no tipping", hint)
		return
	}
	s.missing(key, hint)
}

// writeSeating writes how a slot is really seated, where it is told.
func writeSeating(b *bytes.Buffer, s spring.Seating) {
	for _, line := range []struct{ key, word string }{
		{"kind", s.Kind.String()}, {"tie", s.Tie.String()}, {"before_tying", s.Before.String()},
	} {
		if line.word != "" {
			fmt.Fprintf(b, "%s = %q\n", line.key, line.word)
		}
	}
	if s.DrawnN > 0 {
		fmt.Fprintf(b, "drawn_to_n = %s\n", quantity.Format(s.DrawnN))
	}
}
