package optimize

import (
	"math"

	"springwright/design"
	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/design/wire"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// The search solves the rod on a coarser grid than design.Evaluate, which has the last
// word: its loads are within 0.05 % of converged ones.
var searchAccuracy = beam.Options{StepMM: 5, StepRad: math.Pi / 4, Tolerance: 1e-8, SmallestStep: 1.0 / 64, RoughTangent: true}

const (
	// A load outside its window costs as much at this share of the window's width as an
	// aimed load at the edge of its tolerance.
	windowSlack = 0.02
	// Loads are kept this much of the slack inside their windows, to leave room for
	// rounding.
	windowMargin = 0.5
	slackLeastN  = 0.005
	slackMM      = 0.1 // the same for a reach in mm
	marginMM     = 0.1
	exactMM      = 1e-6 // rounding of the arithmetic

	stressWanted = 0.8 // as a share of the largest that is allowed
	stressSlack  = 0.05

	// Preferences, small beside the target: what a spring is better for when several meet
	// it. A pre-activation bend of bendScaleRad or a force that dies out over the travel
	// costs as much as an aimed load at this share of its tolerance.
	bendWeight   = 0.2
	bendScaleRad = math.Pi / 6
	rateWeight   = 0.05
	rateScaleN   = 0.3
)

// loadTerm is one quantity at one position, and what is asked of it.
type loadTerm struct {
	position int
	quantity target.Quantity
	window   target.Window
	slack    float64
	weight   float64 // of its residual
}

// objective turns the numbers of a pattern into residuals against a case. It is not safe
// for use by several goroutines.
type objective struct {
	c       design.Case
	pattern spring.Pattern
	spring  spring.Spring
	holds   []beam.Hold
	judge   judgement
	// travelAxis is the direction of the travel, 0 where the slot only turns.
	travelAxis r3.Vec

	loads   []loadTerm
	reaches []reachTerm
	gap     selfGap

	// preference scales what a spring is better for beside its target.
	preference float64

	solver   *beam.Solver
	strength wire.Strength
	nodes    []beam.Node
	slopes   []beam.Slope
	// The load on the active tooth at the first position, and its slopes.
	first       tooth.Load
	firstSlopes []tooth.Load
	parameters  []beam.Parameter
	// kinds is filled by foresee, else nil.
	kinds []rowKind
	count int // evaluations so far
	// worst is the worst miss of a target or a limit at the last evaluation: at most 1
	// where all is met.
	worst float64
}

func newObjective(c design.Case, pattern spring.Pattern) *objective {
	o := &objective{preference: 1, c: c, pattern: pattern, spring: c.SpringFor(spring.Path{}), strength: c.Wire.Strength()}
	for i := range c.Positions {
		seat := o.spring.SeatAt(i)
		o.holds = append(o.holds, o.spring.HoldAt(seat))
	}
	o.judge = newJudgement(c, o.spring)
	if travel := r3.Sub(o.spring.End.AtMM, o.spring.Start.AtMM); r3.Norm(travel) > 0 {
		o.travelAxis = r3.Unit(travel)
	}
	o.loads = loadTerms(c)
	o.reaches = reachTerms(c, pattern, o.spring)
	o.gap = newSelfGap(c, pattern)
	o.slopes = make([]beam.Slope, len(pattern.Freedoms))
	o.firstSlopes = make([]tooth.Load, len(pattern.Freedoms))
	o.solver = beam.NewSolver(o.spring.RodOf(pattern.Steps), beam.Origin(), searchAccuracy)
	return o
}

func loadTerms(c design.Case) []loadTerm {
	var terms []loadTerm
	spring := c.SpringFor(spring.Path{})
	for i := range c.Positions {
		leftMM := r3.Norm(r3.Sub(spring.End.AtMM, spring.SeatAt(i).AtMM))
		for q := range target.Quantities {
			terms = appendTerm(terms, i, q, c.Target.WindowAt(q, leftMM, false))
			if i == 0 {
				terms = appendTerm(terms, i, q, c.Target.WindowAt(q, leftMM, true))
			}
		}
	}
	return terms
}

func appendTerm(terms []loadTerm, position int, q target.Quantity, w target.Window) []loadTerm {
	if w.Free() {
		return terms
	}
	width := w.Max - w.Min
	if math.IsInf(width, 0) {
		width = math.Abs(w.Min)
		if math.IsInf(w.Min, 0) {
			width = math.Abs(w.Max)
		}
	}
	slack := windowSlack * width
	if w.Aimed {
		slack = width / 2
	}
	weight := w.Weight
	if weight <= 0 {
		weight = 1
	}
	return append(terms, loadTerm{position: position, quantity: q, window: w, slack: max(slack, slackLeastN), weight: weight})
}

// residual returns the term's residual for a load and its derivative by the load. That of a
// window weighs only where it is above 0; below, it is how far the load is from weighing.
func (t loadTerm) residual(load float64) (residual, slope float64) {
	slope = t.weight / t.slack
	if t.window.Aimed {
		return slope * (load - (t.window.Min+t.window.Max)/2), slope
	}
	low, high := t.window.Min+t.margin()-load, load-t.window.Max+t.margin()
	if low > high {
		return slope * low, -slope
	}
	return slope * high, slope
}

// margin is how far inside its window a load is kept.
func (t loadTerm) margin() float64 {
	return min(windowMargin*t.slack, (t.window.Max-t.window.Min)/4)
}

// misses is how badly a load misses its term: below 1 it is inside its window, and within
// that share of the tolerance of an aimed one.
func (t loadTerm) misses(load float64) float64 {
	if t.window.Aimed {
		return math.Abs(load-(t.window.Min+t.window.Max)/2) / t.slack
	}
	if outside := t.window.Misses(load); outside > 0 {
		return 1 + outside/t.slack
	}
	return 0
}

func (o *objective) size() (variables, residuals int) {
	angles := 0
	for _, f := range o.pattern.Freedoms {
		if f.Angle {
			angles++
		}
	}
	reaches := 0
	for _, term := range o.reaches {
		reaches += term.rows()
	}
	const rate = 1
	hooks := 0
	if o.spring.HookSlides() {
		hooks = o.c.Positions
	}
	return len(o.pattern.Freedoms), len(o.loads) + reaches + hooks + gapRivals*(o.c.Positions+1) + o.c.Positions + rate + angles
}

// foresee is residuals for a look at what lies around x: the residuals of limits that do not
// weigh yet are below 0, by as much as is left of them, and have slopes. kinds tells what
// the residuals are of.
func (o *objective) foresee(x, r []float64, jacobian *mat.Dense, kinds []rowKind) bool {
	clear(kinds)
	o.kinds = kinds
	defer func() { o.kinds = nil }()
	return o.residuals(x, r, jacobian, toTheEnd)
}

// missed implements landscape.
func (o *objective) missed() float64 { return o.worst }

// residuals implements leastSquares.
func (o *objective) residuals(x, r []float64, jacobian *mat.Dense, enough float64) bool {
	o.count++
	o.worst = 0
	steps := o.pattern.StepsFor(x)
	o.solver.Reset(o.spring.RodOf(steps), beam.Origin())
	w := &rows{r: r, jacobian: jacobian, parameters: len(x), kinds: o.kinds}
	if jacobian != nil {
		jacobian.Zero()
		o.parameters = o.pattern.Parameters(steps)
		clear(o.slopes)
	}
	o.nodes = o.solver.AppendNodes(o.nodes[:0])
	if jacobian != nil && (o.kinds != nil || o.crowded()) {
		o.solver.UnloadedSlopes(o.parameters)
	}
	o.reachResiduals(w, -1)
	o.gapResidual(w)
	rate := w.next
	w.put(0)
	for i, hold := range o.holds {
		// The loads are largest at the start; design.Evaluate looks everywhere.
		o.solver.TrustStability(i > 0)
		if o.solver.Follow(hold) != nil {
			return false
		}
		if jacobian != nil && !o.solver.Slopes(hold, o.parameters, o.slopes) {
			return false
		}
		o.nodes = o.solver.AppendNodes(o.nodes[:0])
		o.loadResiduals(w, i)
		o.reachResiduals(w, i)
		o.gapResidual(w)
		o.hookResidual(w, i)
		o.stressResidual(w)
		if jacobian == nil && halfSquares(r[:w.next]) > enough {
			clear(r[w.next:])
			return true
		}
		switch i {
		case 0:
			o.addRate(w, rate, 1)
		case len(o.holds) - 1:
			o.addRate(w, rate, -1)
		}
	}
	for j, f := range o.pattern.Freedoms {
		if !f.Angle {
			continue
		}
		weight := o.preference * bendWeight / bendScaleRad
		w.put(weight * (x[j] - f.Neutral))
		w.setLast(j, weight)
	}
	return true
}

// addRate adds to a row the force along the travel, times sign: the loss of force over the
// travel is the load-deflection rate times the travel.
func (o *objective) addRate(w *rows, row int, sign float64) {
	weight := -sign * o.preference * rateWeight / rateScaleN // the load on the tooth is against the hold's
	w.r[row] += weight * r3.Dot(o.travelAxis, o.solver.EndLoad().ForceN)
	for j := range w.slopes() {
		w.add(row, j, weight*r3.Dot(o.travelAxis, o.slopes[j].End.ForceN))
	}
}
