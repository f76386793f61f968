package desk

import (
	"math"

	"springwright/design"
	"springwright/design/beam"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/export/words"

	"gonum.org/v1/gonum/spatial/r3"
)

// The widest numbers that a hand on the page can give a path.
const (
	mostLegMM   = 40
	mostTurnDeg = 180
)

// handleMM is how far behind its bend an angle's handle lies: far enough to be turned finely, near
// enough to be seen as that bend's.
const handleMM = 1.6

// handles are the numbers of a path, and where they are taken hold of on the unloaded wire.
func handles(b *words.Book, c design.Case, path spring.Path, e solve.Evaluation, see seen) []handle {
	var list []handle
	bends, legs := 0, 0
	steps := path.Steps()
	for i, step := range steps {
		h := handle{Index: i, Sense: 1, Flip: 1}
		first, last := stepEnds(e, i)
		along := see.point(last.D1)
		switch step.Kind {
		case spring.Straight:
			legs++
			h.Label, h.Unit, h.Value = b.Say("leg %d", legs), "mm", rounded(step.LengthMM, 3)
			h.Min, h.Max, h.Step = 0.1, mostLegMM, c.Search.LengthStepMM
			h.Text = b.Number(step.LengthMM, 2) + " mm"
			if n := math.Hypot(along[0], along[1]); n > 0.5 {
				h.Along = [2]float64{along[0] / n, along[1] / n}
				at := see.point(r3.Scale(0.5, r3.Add(first.At, last.At)))
				h.At = &at
			}
		default:
			bends++
			turn := step.AngleRad * 180 / math.Pi
			h.Flip = math.Copysign(1, turn)
			h.Label, h.Unit, h.Value, h.Angle = b.Say("bend %d", bends), "°", rounded(math.Abs(turn), 3), true
			h.Min, h.Max, h.Step = -mostTurnDeg, mostTurnDeg, rounded(c.Search.AngleStepRad*180/math.Pi, 6)
			h.Text = b.Number(math.Abs(turn), 1) + "°"
			inView := step.Kind == spring.Bend && step.Order != 1
			left := turn * see.view.XSign * see.view.ZSign
			switch {
			case step.Kind == spring.Twist && turn < 0:
				h.Way = b.Say("anticlockwise")
			case step.Kind == spring.Twist:
				h.Way = b.Say("clockwise")
			case !inView:
				h.Way = b.Say("in or out")
			case left < 0:
				h.Way = b.Say("right")
			default:
				h.Way = b.Say("left")
			}
			if inView {
				// A turn to the left as the page sees it, in the sense of the path's angle.
				h.Sense = see.view.XSign * see.view.ZSign * h.Flip
				h.About = see.point(r3.Scale(0.5, r3.Add(first.At, last.At)))
				reach := handleMM
				if i+1 < len(steps) && steps[i+1].Kind == spring.Straight {
					reach = min(reach, 0.45*steps[i+1].LengthMM)
				}
				at := see.point(last.Along(reach).At)
				h.At = &at
			}
		}
		h.Min, h.Max = min(h.Min, h.Value), max(h.Max, h.Value)
		list = append(list, h)
	}
	return list
}

// stepEnds are the unloaded poses at both ends of a step.
func stepEnds(e solve.Evaluation, step int) (first, last beam.Pose) {
	found := false
	for k, s := range e.Samples {
		if s.Step != step {
			continue
		}
		if !found {
			first = e.Passive[max(k-1, 0)]
			found = true
		}
		last = e.Passive[k]
	}
	if !found && len(e.Passive) > 0 {
		first, last = e.Passive[0], e.Passive[0]
	}
	return first, last
}
