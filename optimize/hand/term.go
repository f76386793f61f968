package hand

import (
	"math"

	"springwright/design"
	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/target"

	"gonum.org/v1/gonum/spatial/r3"
)

// Accuracy is that of the rod where many springs are judged: on a coarser grid than
// design.Evaluate, which has the last word, with loads within 0.05 % of converged ones.
var Accuracy = beam.Options{StepMM: 5, StepRad: math.Pi / 4, Tolerance: 1e-8, SmallestStep: 1.0 / 64, RoughTangent: true}

// LeastSlack is the least distance by which a load, in N or N·mm, is taken to lie better or worse
// in its window: below it a window has no width to measure by (a hundredth of the smallest forces
// that move a tooth: choice).
const LeastSlack = 0.005

// Term is a window of the target, for one quantity at one position of the travel.
type Term struct {
	Position int
	Quantity target.Quantity
	Window   target.Window
}

// Terms lists the windows of a case's target, in the order of the travel.
func Terms(c design.Case) []Term {
	var terms []Term
	made := c.SpringFor(spring.Path{})
	for i := range c.Positions {
		leftMM := r3.Norm(r3.Sub(made.End.AtMM, made.SeatAt(i).AtMM))
		for q := range target.Quantities {
			for _, start := range []bool{false, true} {
				if w := c.Target.WindowAt(q, leftMM, start); (i == 0 || !start) && !w.Free() {
					terms = append(terms, Term{i, q, w})
				}
			}
		}
	}
	return terms
}

// Beyond is how far a load lies outside the window, as a share of half its width; below 0 within.
func (t Term) Beyond(load float64) float64 {
	return max(t.Window.Min-load, load-t.Window.Max) / t.Half()
}

// Half is half the window's width, at least LeastSlack.
func (t Term) Half() float64 { return max(t.Width()/2, LeastSlack) }

// Width is that of the window; of one that is open on a side, how far its bound is from 0.
func (t Term) Width() float64 {
	w := t.Window
	switch {
	case !math.IsInf(w.Max-w.Min, 0):
		return w.Max - w.Min
	case math.IsInf(w.Min, 0):
		return math.Abs(w.Max)
	}
	return math.Abs(w.Min)
}
