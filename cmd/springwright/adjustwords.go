package main

import (
	"fmt"

	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/quantity"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/export/bend"
	"springwright/optimize/asbent"
)

// pulledWord is the way that a gauge pulls the free end.
func pulledWord(teeth tooth.Pair, g solve.GaugeCheck) string {
	if teeth == (tooth.Pair{}) {
		sign := "+"
		if g.TravelMM < 0 {
			sign = "−"
		}
		return "towards " + sign + [...]string{"x", "y", "z"}[g.Axis]
	}
	return english().Towards(teeth.ActiveMember(), g.Axis, g.TravelMM)
}

// stepNotes says which step of a path is which.
func stepNotes(s spring.Spring) func(int) string {
	steps, numbers := s.Path.Steps(), s.Path.BendNumbers()
	ways := map[int]string{}
	if s.Teeth != (tooth.Pair{}) {
		for _, row := range bend.TableOf(s, s.Teeth).Rows {
			ways[row.PathStep] = bendWay(row)
		}
	}
	return func(i int) string {
		switch {
		case numbers[i] > 0:
			note := fmt.Sprintf("%s %d", bendNoun(steps[i]), numbers[i])
			if way := ways[i]; way != "" {
				note += ", " + way
			}
			return note
		case i == 0:
			return "from the anchor slot to " + neighbour(steps, numbers, 1)
		case i == len(steps)-1:
			return "from " + neighbour(steps, numbers, i-1) + " to the active slot"
		}
		return "between " + neighbour(steps, numbers, i-1) + " and " + neighbour(steps, numbers, i+1)
	}
}

func bendNoun(s spring.Step) string {
	if s.Kind == spring.Twist {
		return "twist"
	}
	return "bend"
}

// neighbour names the bend at an index, or the slot where there is none.
func neighbour(steps spring.Steps, numbers []int, i int) string {
	if i >= len(steps) {
		return "the active slot"
	}
	return fmt.Sprintf("%s %d", bendNoun(steps[i]), numbers[i])
}

// bendWay is which way a bend goes, in the words of the bend table.
func bendWay(r bend.Row) string {
	switch {
	case r.Twist && r.TwistRad > 0:
		return "clockwise looking along the wire from the anchor slot"
	case r.Twist:
		return "anticlockwise looking along the wire from the anchor slot"
	case !r.InView:
		return "to " + r.Towards
	case r.SeenRad > 0:
		return "left, seen from the cheek"
	}
	return "right, seen from the cheek"
}

// doubt says which readings to take again.
func (c console) doubt(s spring.Spring, doubts []asbent.Doubt) {
	for _, d := range doubts {
		text, hint := doubtText(s, d)
		c.say("warning", text)
		c.say("hint", hint)
	}
}

// doubtText says what is doubted of a reading.
func doubtText(s spring.Spring, d asbent.Doubt) (text, hint string) {
	name := "the gauge's reading"
	switch d.Kind {
	case asbent.OfStep:
		name = casefile.StepKeys(s.Path)[d.Step]
	case asbent.OfEnd:
		name = "the free end's place"
		if d.Along.Couple() {
			name = "the free end's turn"
		}
	}
	if d.Alone {
		return fmt.Sprintf("%s lies farther from the drawing than a hand is off, %.0f standard deviations", name, d.SDs),
			"measure it again: the estimate leans towards the drawing there"
	}
	return fmt.Sprintf("%s does not fit the other readings, by %.0f standard deviations", name, d.SDs), "measure it again, and what lies beside it"
}

// degrees is an angle for the terminal.
func degrees(rad float64) string { return fixed(quantity.Degree.Outside(rad), 1) + "°" }

// caseName is how a case is called on the terminal.
func caseName(c design.Case) string {
	if c.Code == "" {
		return c.Title
	}
	return "case " + c.Code + ": " + c.Title
}
