package spring

import (
	"fmt"
)

// SlotKind is what a slot is.
type SlotKind int

// Kinds of slots. One that is not told is a tube, as a slot on a molar usually is.
const (
	UntoldKind SlotKind = iota
	Tube                // closed all around: it cannot be tied tightly, and the wire plays in it
	Bracket             // open towards the cheek; a ligature presses the wire to its floor
)

// Tie is how the wire is kept in a slot.
type Tie int

// Ways of tying. A slot for which none is told has Cinched in a tube, Ligature in a bracket.
const (
	UntoldTie   Tie = iota
	Cinched         // the end is turned in behind the slot: the wire stays where it is along it
	LeftToSlide     // it slides along the slot as it likes
	Ligature        // tied to the floor of a bracket, and kept there
)

// BeforeTying is what is done with the wire in a slot before it is tied there.
type BeforeTying int

// Ways of going about it. Told for neither slot the wire is slid to rest in the active one, the
// usual way: the anchor end goes in first.
const (
	UntoldBefore BeforeTying = iota
	ToRest                   // slid along the slot until no force along it is left
	AsMeasured               // put in as far as the template says
	ToForce                  // drawn through the slot until a gauge at its end reads a force
)

// String returns the word used in files.
func (k SlotKind) String() string { return [...]string{"", "tube", "bracket"}[k] }

// String returns the words used in files.
func (t Tie) String() string { return [...]string{"", "cinched", "left to slide", "ligature"}[t] }

// String returns the words used in files.
func (b BeforeTying) String() string {
	return [...]string{"", "slid to rest", "as measured", "drawn to a force"}[b]
}

// Seating is what a slot is and how the wire is tied in it. The zero value is the usual way.
type Seating struct {
	Kind   SlotKind
	Tie    Tie
	Before BeforeTying
	DrawnN float64 // what the gauge reads where it is drawn to a force
}

// slides tells whether the wire is slid in the slot before it is tied.
func (s Seating) slides() bool { return s.Before == ToRest || s.Before == ToForce }

// Depths of slots, mm: those of 0.018 in are 0.025 in deep, those of 0.022 in 0.028 in
// (common practice); between their heights lies deeperFromMM.
const (
	usualDepth18MM = 0.025 * 25.4
	usualDepth22MM = 0.028 * 25.4
	deeperFromMM   = 0.020 * 25.4
)

// usual fills in what is not told of the seating of the two slots.
func UsualSeating(anchor, active Seating) (Seating, Seating) {
	if active.Before == UntoldBefore {
		active.Before = ToRest
		if anchor.slides() {
			active.Before = AsMeasured
		}
	}
	if anchor.Before == UntoldBefore {
		anchor.Before = AsMeasured
	}
	for _, s := range [...]*Seating{&anchor, &active} {
		if s.Kind == UntoldKind {
			s.Kind = Tube
		}
		if s.Tie == UntoldTie {
			s.Tie = Cinched
			if s.Kind == Bracket {
				s.Tie = Ligature
			}
		}
	}
	return anchor, active
}

// HoldIn is how a slot that is seated so holds a wire: it plays, in height and in depth, and
// shifts by the clearance. Pressed to the floor of a bracket it plays in height alone. Without a
// depth a tube has the usual one.
func (s Seating) HoldIn(slot SlotHold, wireDepthMM float64) SlotHold {
	hold := SlotHold{Play: true, Shifts: true, HeightMM: slot.HeightMM, DepthMM: slot.DepthMM}
	switch {
	case s.Tie == Ligature:
		hold.DepthMM = 0
	case hold.DepthMM == 0:
		hold.DepthMM = usualDepth18MM
		if hold.HeightMM >= deeperFromMM {
			hold.DepthMM = usualDepth22MM
		}
		hold.DepthMM = max(hold.DepthMM, wireDepthMM)
	}
	return hold
}

// slideAs says where the wire of a spring slides, by the seating of its slots; a slide that it has
// already stays.
func (s *Spring) SlideAs(anchor, active Seating) {
	switch {
	case s.Slide != NoSlide:
	case active.Tie == LeftToSlide:
		s.Slide = SlideActive
	case anchor.Tie == LeftToSlide:
		s.Slide = SlideAnchor
	case s.ActiveHold.Hook: // it hangs where it is hooked
		if anchor.slides() {
			s.SlidToRest, s.DrawnToN = SlideAnchor, anchor.DrawnN
		}
	case active.slides():
		s.SlidToRest, s.DrawnToN = SlideActive, active.DrawnN
	case anchor.slides():
		s.SlidToRest, s.DrawnToN = SlideAnchor, anchor.DrawnN
	}
}

// SeatedAs returns the spring of a spring file with its slots seated as told: where the kind is not
// told the hold stays.
func (s Spring) SeatedAs(anchor, active Seating) Spring {
	usualAnchor, usualActive := UsualSeating(anchor, active)
	if anchor.Kind != UntoldKind {
		s.AnchorHold = usualAnchor.HoldIn(s.AnchorHold, s.Wire.DepthMM())
	}
	if active.Kind != UntoldKind {
		s.ActiveHold = usualActive.HoldIn(s.ActiveHold, s.Wire.DepthMM())
	}
	if anchor.Kind == UntoldKind && active.Kind == UntoldKind { // nothing is usual in an older file
		usualAnchor, usualActive = anchor, active
	}
	s.SlideAs(usualAnchor, usualActive)
	return s
}

// Seatings tells how the slots of a spring are seated, in words that SeatedAs reads; a slot that is
// not seated in the ways of Seating has no kind and no tie.
func (s Spring) Seatings() (anchor, active Seating) {
	of := func(h SlotHold, slot Slide) Seating {
		if h.Hook {
			return Seating{}
		}
		seating := Seating{Before: AsMeasured}
		if s.SlidToRest == slot {
			seating.Before = ToRest
			if s.DrawnToN != 0 {
				seating.Before, seating.DrawnN = ToForce, s.DrawnToN
			}
		}
		if !h.Shifts {
			return seating
		}
		seating.Kind, seating.Tie = Tube, Cinched
		if h.DepthMM == 0 {
			seating.Kind, seating.Tie = Bracket, Ligature
		}
		if s.Slide == slot {
			seating.Kind, seating.Tie = Tube, LeftToSlide
		}
		return seating
	}
	anchor, active = of(s.AnchorHold, SlideAnchor), of(s.ActiveHold, SlideActive)
	if s.SlidToRest == NoSlide && anchor.Kind == UntoldKind && active.Kind == UntoldKind {
		anchor.Before, active.Before = UntoldBefore, UntoldBefore
	}
	return anchor, active
}

// SeatingFault is what is wrong with how two slots are seated together.
type SeatingFault struct {
	Active  bool // the key is of the active slot
	Key     string
	Problem string
	Hint    string
}

// SeatingFaults tells what contradicts itself in the seating of two slots, hooked tells that the wire
// is hooked at the active one, and slide where it slides by another key.
func SeatingFaults(anchor, active Seating, hooked bool, slide Slide) []SeatingFault {
	var faults []SeatingFault
	for k, s := range [...]Seating{anchor, active} {
		add := func(key, problem, hint string) {
			faults = append(faults, SeatingFault{k == 1, key, problem, hint})
		}
		kind := s.Kind
		if kind == UntoldKind {
			kind = Tube
		}
		if hooked && k == 1 {
			if s != (Seating{}) {
				add("hold", "is \"hook\", and yet the slot is told to be seated", "a hook holds the wire at a point: leave out kind, tie and before_tying there")
			}
			continue
		}
		if s.Tie == Ligature && kind == Tube {
			add("tie", `is "ligature", but a tube is closed: nothing ties the wire in it`, `write "cinched" or "left to slide", or kind = "bracket"`)
		}
		own := [...]Slide{SlideAnchor, SlideActive}[k]
		if s.Tie != UntoldTie && slide != NoSlide && (s.Tie == LeftToSlide) != (slide == own) {
			add("tie", fmt.Sprintf("is %q, but slide is %q", s.Tie, slide), "leave out slide: tie says it of each slot")
		}
	}
	if anchor.Tie == LeftToSlide && active.Tie == LeftToSlide {
		faults = append(faults, SeatingFault{true, "tie", `is "left to slide", as in the anchor slot: nothing would keep the wire`, "cinch it at one of the two"})
	}
	if anchor.slides() && active.slides() {
		faults = append(faults, SeatingFault{true, "before_tying", fmt.Sprintf("is %q, and in the anchor slot %q: one end has to be held while the other is slid", active.Before, anchor.Before), `write "as measured" for one of the two`})
	}
	return faults
}
