package export

import (
	"fmt"
	"math"

	"springwright/design/timeline"
	"springwright/design/tooth"
	"springwright/export/words"

	"gonum.org/v1/gonum/spatial/r3"
)

// anchor says what the anchor has lost.
func (v visitSpeech) anchor() []string {
	teeth := v.Case.Teeth
	if !v.Anchor.Moves {
		return []string{v.say("Tooth %d is held by a screw and is taken not to move.", int(teeth.Anchor))}
	}
	if len(v.Points) < 2 {
		return nil
	}
	of := teeth.AnchorMember()
	lost := func(mm r3.Vec) string {
		size := r3.Norm(mm)
		if size < 0.005 {
			return v.words.Number(0, 2) + " mm"
		}
		return v.words.Number(size, 2) + " mm" + " " + v.words.LargestWay(of, mm)
	}
	tipped := func(rad float64) string {
		if math.Abs(rad) < 0.05*degree {
			return v.words.Degrees(0)
		}
		return v.words.Degrees(math.Abs(rad)) + " " + v.words.Sense(of, tooth.CoupleY, rad)
	}
	a := v.Anchor
	sd := math.Sqrt(a.SD[0]*a.SD[0] + a.SD[1]*a.SD[1] + a.SD[2]*a.SD[2])
	text := v.say("The slot of the anchor tooth %d has come off its place by %s (± %s mm); foreseen: %s.", int(teeth.Anchor), lost(a.Lost.SlotMM), v.words.Number(sd, 2), lost(a.Predicted.SlotMM)) + " " +
		v.say("It has tipped by %s (± %s); foreseen: %s.", tipped(a.Lost.Rotation.Y), v.words.Degrees(a.SD[tooth.CoupleY]), tipped(a.Predicted.Rotation.Y))
	way := r3.Sub(v.Case.Goal.CentreMM, v.Points[0].Now.CentreMM)
	if met := -r3.Dot(way, a.Lost.SlotMM) / max(r3.Norm(way), 1e-9); !v.Turns && met > 0.05 {
		text += " " + v.say("Of the %s done %s mm are the anchor's, which came to meet the tooth.", v.size(v.last().Closed), v.words.Number(met, 2))
	}
	how := v.say("This is reckoned from how the slots stand to each other: what the anchor lost by itself was not measured.")
	if a.Measured {
		how = v.say("This is reckoned from all that was measured.")
	}
	return []string{text, how}
}

// doubts are measurements that the spring does not explain.
func (v visitSpeech) doubts() []string {
	var list []string
	for _, d := range v.Doubts {
		if d.Gauge { // a reason of the verdict
			continue
		}
		for _, l := range letters {
			if l.k != d.Along {
				continue
			}
			name := l.letter
			if d.Anchor {
				name = v.say("the anchor's place")
			}
			list = append(list, v.say("Visit %d: %s (%s) is not explained by this spring, by %s standard deviations. Measure it again; if it is so, something else moves the teeth.",
				d.Visit, name, v.say(l.name), v.words.Number(d.SDs, 0)))
		}
	}
	return list
}

// fits are the guesses, and in words what has become of those that have changed.
func (v visitSpeech) fits() (rows [][]string, told []string) {
	if len(v.Points) < 2 {
		return nil, nil
	}
	rows = [][]string{{"", v.say("guessed"), v.say("as it moves")}}
	for _, f := range v.Fits {
		unit := func(value float64) float64 { return value }
		if f.Kind == timeline.RateFit && v.Turns {
			unit = func(value float64) float64 { return value / degree }
		}
		if f.Kind.Distal() && f.Value < 0 { // said as so much mesial
			unit = func(value float64) float64 { return -value }
		}
		span := func(value, low, high float64) string {
			low, high = min(unit(low), unit(high)), max(unit(low), unit(high))
			return v.say("%s (%s to %s)", v.words.Number(unit(value), 1), v.words.Number(low, 1), v.words.Number(high, 1))
		}
		if !f.Moved() && f.Kind > timeline.HoldFit {
			continue
		}
		rows = append(rows, []string{v.fitName(f), span(f.Prior, f.PriorLow, f.PriorHigh), span(f.Value, f.Low, f.High)})
		if f.Moved() {
			if text := v.fitTold(f); text != "" {
				told = append(told, text)
			}
		}
	}
	return rows, told
}

func (v visitSpeech) fitName(f timeline.Fit) string {
	switch f.Kind {
	case timeline.RateFit:
		if v.Turns {
			return v.say("speed of the tooth under the planned spring, degrees a month")
		}
		return v.say("speed of the tooth under the planned spring, mm a month")
	case timeline.HoldFit:
		return v.say("hold of the anchor, times that of the active tooth")
	}
	n, way := v.centre(f)
	return v.say("centre of resistance of tooth %d, mm %s", int(n), way)
}

// centre is whose centre of resistance a fit is about, and along which way from the slot.
func (v visitSpeech) centre(f timeline.Fit) (n tooth.Number, way string) {
	teeth := v.Case.Teeth
	n = teeth.Active
	if f.Kind >= timeline.AnchorInwardFit {
		n = teeth.Anchor
	}
	switch {
	case f.Kind == timeline.ActiveInwardFit || f.Kind == timeline.AnchorInwardFit:
		return n, v.words.Inward(n)
	case f.Kind.Distal() && f.Value < 0:
		return n, v.words.Side("mesial")
	case f.Kind.Distal():
		return n, v.words.Side("distal")
	}
	return n, v.say("apical")
}

// fitTold says what a fit means.
func (v visitSpeech) fitTold(f timeline.Fit) string {
	up := f.Value > f.Prior
	switch {
	case math.Abs(f.Value-f.Prior) < (f.PriorHigh-f.PriorLow)/6:
		return "" // only surer than before
	case f.Kind == timeline.RateFit && up:
		return v.say("The tooth goes faster than guessed.")
	case f.Kind == timeline.RateFit:
		return v.say("The tooth goes more slowly than guessed.")
	case f.Kind == timeline.HoldFit && up:
		return v.say("The anchor holds more firmly than guessed.")
	case f.Kind == timeline.HoldFit:
		return v.say("The anchor gives way more easily than guessed: hold it better, or ask for less force.")
	}
	n, way := v.centre(f)
	value, prior := f.Value, f.Prior
	if f.Kind.Distal() && value < 0 {
		value, prior = -value, -prior
	}
	return v.say("The centre of resistance of tooth %d is more likely %s mm %s of the slot than %s mm.", int(n), v.words.Number(value, 1), way, v.words.Number(prior, 1))
}

// deedPhrases are what was done, in the order of the deeds.
var deedPhrases = [...]words.Phrase{"left as it was", "spring seated", "re-activated", "made anew", "taken out"}

func (v visitSpeech) history() [][]string {
	push := v.say("force towards the goal, N")
	if v.Turns {
		push = v.say("couple towards the goal, N·mm")
	}
	rows := [][]string{{"", v.say("day"), v.say("week"), v.say("of the way"), v.say("planned"), push, v.say("done")}}
	for _, p := range v.Points {
		done := v.say(deedPhrases[p.Visit.Done])
		if p.Visit.Done.NewSpring() {
			done += ", " + p.Visit.SpringFile
		}
		decimals := 2
		if v.Turns {
			decimals = 1
		}
		rows = append(rows, []string{
			fmt.Sprint(p.Visit.Number), isoDay(p.Visit.Date), v.words.Number(float64(p.Days)/7, 0), v.size(p.Closed), v.size(p.Planned), v.words.Number(p.Push, decimals), done,
		})
	}
	return rows
}
