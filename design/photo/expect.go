package photo

import (
	"fmt"
	"math"
	"strings"

	"springwright/design/spring"
)

// Expect is what is known of the spring before its picture is read.
type Expect struct {
	Steps spring.Steps // of the path, all in one plane; see ExpectOf
	// WireMM is the width of the wire as it is seen when the spring lies flat: its thickness
	// where the bends are of second order.
	WireMM float64
	// HeightMM is how high the wire stands on the paper when it lies so: seen aslant, it seems wider
	// by a part of that. 0 where it is not known.
	HeightMM float64
	// LegsMM is how much wire there should be before the path's first step and behind its last,
	// as in the slots. A leg may be left longer; that it is shorter speaks for the other end.
	LegsMM [2]float64
	// LevelBarMM and UprightBarMM are what the 100 mm bars of the printed sheet measure; 0
	// where nobody has measured them, which takes them as 100.
	LevelBarMM, UprightBarMM float64
	// AnchorLeft says that the spring was laid with its anchor end to the left as the card is
	// read. It decides for springs that fit with either end first.
	AnchorLeft bool
}

// ExpectOf is what a spring as drawn lets expect. A spring that leaves its plane cannot lie on
// the card: the error is a PictureError with the numbers of the bends and twists that are out
// of it.
func ExpectOf(s spring.Spring) (Expect, error) {
	steps, numbers := s.Path.Steps(), s.Path.BendNumbers()
	var first, second, twists []int
	for i, step := range steps {
		switch {
		case step.Kind == spring.Twist:
			twists = append(twists, numbers[i])
		case step.Kind == spring.Bend && step.Order == 1:
			first = append(first, numbers[i])
		case step.Kind == spring.Bend:
			second = append(second, numbers[i])
		}
	}
	e := Expect{Steps: steps, WireMM: s.Wire.HeightMM(), HeightMM: s.Wire.DepthMM(), LegsMM: [2]float64{s.AnchorSlotLengthMM, s.ActiveSlotLengthMM}}
	switch {
	case len(first)+len(second)+len(twists) == 0:
		return e, &PictureError{Reason: OutOfPlane, Detail: "a wire without bends has nothing that a picture tells"}
	case len(twists) == 0 && len(first) == 0:
	case len(twists) == 0 && len(second) == 0:
		e.WireMM, e.HeightMM = e.HeightMM, e.WireMM
	default:
		out, what := first, "first-order bends"
		if len(second) < len(first) {
			out, what = second, "second-order bends"
		}
		var said []string
		if len(out) > 0 {
			said = append(said, what+" "+numbersText(out))
		}
		if len(twists) > 0 {
			said = append(said, "twists "+numbersText(twists))
		}
		out = append(out, twists...)
		return e, &PictureError{Reason: OutOfPlane, Bends: out, Detail: strings.Join(said, ", ") + " leave the plane of the others"}
	}
	return e, nil
}

func numbersText(numbers []int) string {
	return strings.Trim(strings.Join(strings.Fields(fmt.Sprint(numbers)), ", "), "[]")
}

// check refuses what nothing could be measured with.
func (e Expect) check() error {
	bar := func(mm float64) bool { return mm == 0 || mm >= 80 && mm <= 120 }
	switch {
	case !(e.WireMM >= 0.2 && e.WireMM <= 1.5):
		return fmt.Errorf("a wire %g mm wide is not read from pictures (allowed: 0.2 to 1.5 mm)", e.WireMM)
	case !(e.HeightMM >= 0 && e.HeightMM <= 1.5):
		return fmt.Errorf("a wire %g mm high is not read from pictures (allowed: 0 to 1.5 mm)", e.HeightMM)
	case !(e.LegsMM[0] >= 0 && e.LegsMM[0] < 100 && e.LegsMM[1] >= 0 && e.LegsMM[1] < 100):
		return fmt.Errorf("legs of %g and %g mm (allowed: 0 to 100 mm)", e.LegsMM[0], e.LegsMM[1])
	case !bar(e.LevelBarMM) || !bar(e.UprightBarMM):
		return fmt.Errorf("bars of 100 mm that measure %g and %g mm (allowed: 80 to 120 mm, 0 for not measured)", e.LevelBarMM, e.UprightBarMM)
	}
	bends, order := 0, 0
	for i, s := range e.Steps {
		if !finite(s.LengthMM, s.AngleRad, s.RadiusMM) || s.LengthMM < 0 {
			return fmt.Errorf("step %d of the path is no number or negative", i+1)
		}
		if s.Kind == spring.Straight {
			continue
		}
		if bends++; bends == 1 {
			order = s.Order
		}
		if s.Kind == spring.Twist || s.Order != order {
			return &PictureError{Reason: OutOfPlane}
		}
		if s.RadiusMM < 0.2 || s.RadiusMM > 40 || math.Abs(s.AngleRad) > 2*math.Pi {
			return fmt.Errorf("bend %d has %g rad and a radius of %g mm (allowed: a turn, 0.2 to 40 mm)", bends, s.AngleRad, s.RadiusMM)
		}
	}
	if bends == 0 {
		return &PictureError{Reason: OutOfPlane, Detail: "a wire without bends has nothing that a picture tells"}
	}
	return nil
}

// printedScale is by how much the card was printed too large, across and up.
func (e Expect) printedScale() (level, upright float64) {
	scale := func(mm float64) float64 {
		if mm == 0 {
			return 1
		}
		return mm / 100
	}
	return scale(e.LevelBarMM), scale(e.UprightBarMM)
}

// shape is the expected wire as bends with straights before, between and behind them.
type shape struct {
	bends     []shapeBend
	straights []shapeStraight // one more than bends; the first and the last are legs
}

type shapeBend struct {
	step, number       int
	angleRad, radiusMM float64
}

// shapeStraight may have no step: between bends that follow each other it has no length, as a
// leg it is what lies in the slot.
type shapeStraight struct {
	step     int // −1: none
	lengthMM float64
}

func (e Expect) shape() shape {
	var s shape
	now := shapeStraight{step: -1}
	for i, step := range e.Steps {
		switch {
		case step.Kind == spring.Straight:
			now.step, now.lengthMM = i, now.lengthMM+step.LengthMM
		case step.AngleRad != 0:
			s.straights = append(s.straights, now)
			s.bends = append(s.bends, shapeBend{i, len(s.bends) + 1, step.AngleRad, step.RadiusMM})
			now = shapeStraight{step: -1}
		}
	}
	s.straights = append(s.straights, now)
	s.straights[0].lengthMM += e.LegsMM[0]
	s.straights[len(s.bends)].lengthMM += e.LegsMM[1]
	return s
}
