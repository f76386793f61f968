package words

import (
	"math"

	"springwright/design/bent"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/export/bend"
)

// StepNames say which step of a path is which, and of a bend which way it goes. Those of straights go on from
// the word "straight".
func (b *Book) StepNames(s spring.Spring) []string {
	steps, numbers := s.Path.Steps(), s.Path.BendNumbers()
	ways := map[int]string{}
	if s.Teeth != (tooth.Pair{}) {
		for _, row := range bend.TableOf(s, s.Teeth).Rows {
			ways[row.PathStep] = b.bendWay(row)
		}
	}
	bendOf := func(i int) string { return b.Bend(steps[i].Kind, numbers[i]) }
	names := make([]string, len(steps))
	for i := range steps {
		switch {
		case numbers[i] > 0:
			names[i] = bendOf(i)
			if way := ways[i]; way != "" {
				names[i] += ", " + way
			}
		case len(steps) == 1:
			names[i] = b.Say("from the anchor slot to the active slot")
		case i == 0:
			names[i] = b.Say("from the anchor slot to %s", bendOf(1))
		case i == len(steps)-1:
			names[i] = b.Say("from %s to the active slot", bendOf(i-1))
		default:
			names[i] = b.Say("between %s and %s", bendOf(i-1), bendOf(i+1))
		}
	}
	return names
}

// Bend is what a bend or twist is called.
func (b *Book) Bend(kind spring.StepKind, number int) string {
	if kind == spring.Twist {
		return b.Say("twist %d", number)
	}
	return b.Say("bend %d", number)
}

// bendWay is which way a bend goes, in the words of the bend table.
func (b *Book) bendWay(r bend.Row) string {
	switch {
	case r.Twist && r.TwistRad > 0:
		return b.Say("clockwise looking along the wire from the anchor slot")
	case r.Twist:
		return b.Say("anticlockwise looking along the wire from the anchor slot")
	case !r.InView:
		return b.Say("to %s", b.Side(r.Towards))
	case r.SeenRad > 0:
		return b.Say("left, seen from the cheek")
	}
	return b.Say("right, seen from the cheek")
}

// Corrections say what is to be done at each place.
func (b *Book) Corrections(drawn spring.Spring, made bent.Corrected) []string {
	var texts []string
	names := b.StepNames(drawn)
	numbers, steps := drawn.Path.BendNumbers(), drawn.Path.Steps()
	for _, c := range made.Corrections {
		by, number := b.tenths(math.Abs(c.ByRad)), numbers[c.Step]
		text := ""
		switch twist := steps[c.Step].Kind == spring.Twist; {
		case c.Seat:
			text = b.Seat(c.ByMM)
		case c.Fresh:
			text = b.Say("make a fresh bend of %s %s, in the middle of the straight %s", by, b.freshWay(drawn, made, c), names[c.Step])
		case c.Opens() && twist:
			text = b.Say("open twist %d by %s, against the direction of its last bend", number, by)
		case c.Opens():
			text = b.Say("open bend %d by %s, against the direction of its last bend", number, by)
		case twist:
			text = b.Say("close twist %d by %s more, in the direction of its last bend", number, by)
		default:
			text = b.Say("close bend %d by %s more, in the direction of its last bend", number, by)
		}
		texts = append(texts, text)
	}
	return texts
}

// Seat is how deep the wire is to be put into the anchor slot instead of as drawn.
func (b *Book) Seat(byMM float64) string {
	by := b.Number(math.Abs(byMM), 2)
	if byMM > 0 {
		return b.Say("put the wire %s mm less deep into the anchor slot than drawn, before it is turned in", by)
	}
	return b.Say("put the wire %s mm deeper into the anchor slot than drawn, before it is turned in", by)
}

// freshWay is which way a fresh bend goes.
func (b *Book) freshWay(drawn spring.Spring, made bent.Corrected, of bent.Correction) string {
	at := of.Step + 1
	for _, c := range made.Corrections {
		if c.Fresh && c.Step < of.Step {
			at += 2
		}
	}
	if drawn.Teeth == (tooth.Pair{}) {
		if of.ByRad > 0 {
			return b.Say("to the side of +z of the wire")
		}
		return b.Say("to the side of −z of the wire")
	}
	for _, row := range bend.TableOf(made.Spring, drawn.Teeth).Rows {
		switch {
		case row.PathStep != at:
		case !row.InView:
			return b.bendWay(row)
		case row.SeenRad > 0:
			return b.Say("to the left, seen from the cheek")
		default:
			return b.Say("to the right, seen from the cheek")
		}
	}
	return ""
}

// Doubt says what is doubted of a reading, and what to do; names are those of the steps.
func (b *Book) Doubt(d bent.Doubt, names []string) (text, hint string) {
	name := b.Say("the gauge's reading")
	switch {
	case d.Kind == bent.OfStep && d.Step < len(names):
		name = names[d.Step]
	case d.Kind == bent.OfEnd && d.Along.Couple():
		name = b.Say("the free end's turn")
	case d.Kind == bent.OfEnd:
		name = b.Say("the free end's place")
	}
	sds := b.Number(d.SDs, 0)
	if d.Alone {
		return b.Say("%s lies farther from the drawing than a hand is off, %s standard deviations", name, sds),
			b.Say("measure it again: the estimate leans towards the drawing there")
	}
	return b.Say("%s does not fit the other readings, by %s standard deviations", name, sds), b.Say("measure it again, and what lies beside it")
}

// SoFarTold is how to go on with a spring that is half bent.
type SoFarTold struct {
	GoOn   string     `json:"goOn"`
	Chance string     `json:"chance"`
	Rows   [][]string `json:"rows"` // what is still to be bent; the first has the headings
	Finish string     `json:"finish"`
}

// SoFar tells how to go on with a spring that is half bent; drawn is the spring as drawn.
func (b *Book) SoFar(drawn spring.Spring, r bent.SoFar) SoFarTold {
	was, now, names := drawn.Path.Steps(), r.Spring.Path.Steps(), b.StepNames(drawn)
	// Angles in the sense of the drawn one.
	size := func(s, drawn spring.Step) string {
		if s.Kind == spring.Straight {
			return b.Number(s.LengthMM, 2) + " mm"
		}
		return b.tenths(math.Copysign(1, drawn.AngleRad) * s.AngleRad)
	}
	t := SoFarTold{Rows: [][]string{{b.Say("still to be bent"), b.Say("drawn"), b.Say("now"), ""}}}
	changed := 0
	for i := r.Next; i < len(was) && i < len(now); i++ {
		name, remark := names[i], ""
		if was[i].Kind == spring.Straight {
			name = b.Say("straight %s", name)
		}
		one, other := size(was[i], was[i]), size(now[i], was[i])
		if one != other {
			remark = b.Say("changed")
			changed++
		}
		t.Rows = append(t.Rows, []string{name, one, other, remark})
	}
	t.GoOn = b.Say("go on with these numbers, new ones: %d", changed)
	if changed == 0 {
		t.GoOn = b.Say("go on as drawn: no other numbers for the rest serve better")
	}
	t.Chance = b.Say("of 100 springs that may come of it %s meet the target; as drawn %s", b.hundred(r.After.Trial.Chance()), b.hundred(r.Before.Trial.Chance()))
	t.Finish = b.Say("finish on the drawing of the new numbers, not on the old one; lengths are within 1 mm of the old ones: look whether the room in the mouth still suffices")
	return t
}
