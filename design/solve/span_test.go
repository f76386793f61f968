package solve

import (
	"context"
	"errors"
	"strings"
	"testing"

	"springwright/design/beam"
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

// A wire that is shorter than what it must span is told both lengths, whatever holds it; one
// that slides takes more wire out of its slot, and one that is longer is solved.
func TestTooShortWire(t *testing.T) {
	t.Parallel()
	evaluate := func(s spring.Spring) error {
		_, err := Evaluate(context.Background(), s, Options{AllowYield: true})
		return err
	}
	s := straightSpring()
	s.AnchorHold, s.ActiveHold, s.Slide = spring.SlotHold{}, spring.SlotHold{}, spring.NoSlide
	s.Start.AtMM = r3.Vec{X: 8, Z: 5}
	err := evaluate(s)
	if !errors.Is(err, ErrTooShort) || !strings.Contains(err.Error(), "8.00 mm of wire between the slots, 9.43 mm to span") {
		t.Errorf("tied: %v", err)
	}
	hooked := s
	hooked.ActiveHold, hooked.ActiveSlotLengthMM = spring.SlotHold{Hook: true}, 0
	if err := evaluate(hooked); !errors.Is(err, ErrTooShort) {
		t.Errorf("hooked: %v", err)
	}
	// Between the slots' centres: 8 mm and half of both slots of wire.
	loose := playing(s, 0.5588, 0)
	if err := evaluate(loose); !errors.Is(err, ErrTooShort) || !strings.Contains(err.Error(), "11.25 mm of wire between the slots, 12.31 mm to span") {
		t.Errorf("with play: %v", err)
	}
	sliding := s
	sliding.Slide = spring.SlideActive
	if err := evaluate(sliding); errors.Is(err, ErrTooShort) {
		t.Errorf("sliding: %v", err)
	}
	// A step of a hundredth needs a longer wire, too, but one that stretching gives.
	s.Start.AtMM = r3.Vec{X: 8, Z: 0.05}
	if err := evaluate(s); err != nil {
		t.Errorf("a small step: %v", err)
	}
}

// What slides in until no straight is left says at which slot, and how much is missing: as
// much whatever the straight was, since what slides does so without force. A path that has
// no straight there says that.
func TestNoStraightSaysWhere(t *testing.T) {
	t.Parallel()
	s := loopSpring()
	s.Slide, s.Positions = spring.SlideActive, 1
	s.Start.AtMM.X -= 4 // the loop pushes its wire out of the way
	evaluate := func(straightMM float64) string {
		steps := s.Path.Steps()
		steps[len(steps)-1].LengthMM = straightMM
		s.Path = spring.PathOf(steps...)
		_, err := Evaluate(context.Background(), s, Options{AllowYield: true})
		if !errors.Is(err, beam.ErrNoStraight) {
			t.Fatalf("straight of %g mm: %v", straightMM, err)
		}
		return err.Error()
	}
	short, long := evaluate(0.5), evaluate(0.8)
	for _, text := range []string{short, long} {
		if !strings.Contains(text, "at the active slot would slide in, and ") || strings.Contains(text, "play") {
			t.Errorf("error %q", text)
		}
	}
	missing := func(text string) string { return text[strings.LastIndex(text, " and ")+5:] }
	if missing(short) != missing(long) || missing(short) == "more" {
		t.Errorf("missing %q with one straight, %q with another", missing(short), missing(long))
	}
	steps := s.Path.Steps()
	s.Path = spring.PathOf(steps[:len(steps)-1]...)
	_, err := Evaluate(context.Background(), s, Options{AllowYield: true})
	if err == nil || !strings.Contains(err.Error(), "the path has none at the active slot") {
		t.Errorf("no straight at all: %v", err)
	}
}
