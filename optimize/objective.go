package optimize

import (
	"slices"

	"springwright/design"
	"springwright/design/beam"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/design/wire"
	"springwright/optimize/hand"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	// Preferences, half the squares of which are points: what a spring is better for when several meet
	// the target. See shape.go for those of its shape. A force that dies out by rateScaleN over the travel
	// costs half a point (choice).
	rateScaleN = 0.6
	// A wire that is slid to rest in the mouth should come to rest where it is drawn, so that it looks
	// there as on the template: so far from there costs half a point. Nothing else weighs the straight
	// that slides (choice).
	slidScaleMM = 1
)

// objective is the landscape of the springs of a pattern against a case: the rows are those of the
// limits on the unloaded wire, of the rate, of the loads and limits at every position, and of the
// shape. It is not safe for use by several goroutines.
type objective struct {
	c       design.Case
	pattern spring.Pattern
	spring  spring.Spring // as searched
	seats   []beam.Pose   // of the wire's end, along the travel
	judge   design.Judge
	// travelAxis is the direction of the travel, 0 where the slot only turns.
	travelAxis r3.Vec

	loads   []loadTerm
	reaches []reachTerm
	gap     selfGap
	shape   []shapeTerm

	steps    spring.Steps // laid last
	path     *solve.SeatedPath
	solver   *beam.Solver // of path
	strength wire.Strength
	nodes    []beam.Node
	slopes   []beam.Slope
	// The load on the active tooth at the first position, and its slopes.
	first       tooth.Load
	firstSlopes []tooth.Load
	parameters  []beam.Parameter
	bender      *benderView // whose model is put together while springs are looked at; mostly nil
	still       bool        // nobody has asked yet how the unloaded wire's nodes move
	count       int         // evaluations so far
}

// newObjective is the landscape of springs seated as in s. The error is that of solve.NewSeatedPath.
func newObjective(c design.Case, pattern spring.Pattern, s spring.Spring) (*objective, error) {
	o := &objective{c: c, pattern: pattern, spring: s, strength: c.Wire.Strength()}
	seats := make([]spring.Seat, c.Positions)
	for i := range seats {
		seats[i] = o.spring.SeatAt(i)
		o.seats = append(o.seats, seats[i].Pose(o.spring.Heading))
	}
	o.judge = c.Judge(seats)
	if travel := r3.Sub(o.spring.End.AtMM, o.spring.Start.AtMM); r3.Norm(travel) > 0 {
		o.travelAxis = r3.Unit(travel)
	}
	o.loads = loadTerms(c)
	o.reaches = reachTerms(c, pattern, o.spring)
	o.gap = newSelfGap(c, pattern)
	o.shape = shapeTerms(pattern)
	o.slopes = make([]beam.Slope, len(pattern.Freedoms))
	o.firstSlopes = make([]tooth.Load, len(pattern.Freedoms))
	var err error
	if o.path, err = solve.NewSeatedPath(s, hand.Accuracy); err != nil {
		return nil, err
	}
	o.solver = o.path.Solver()
	return o, nil
}

func (o *objective) size() (numbers, rows int) {
	reaches := 0
	for _, term := range o.reaches {
		reaches += term.rows()
	}
	const rate = 1
	slid := 0
	if o.slidToRest() {
		slid = slidRows
	}
	hooks := 0
	if o.spring.HookSlides() {
		hooks = o.c.Positions
	}
	return len(o.pattern.Freedoms), len(o.loads) + reaches + hooks + gapRivals*(o.c.Positions+1) + o.c.Positions + rate + slid + len(o.shape)
}

// lay lays out the unloaded spring of x.
func (o *objective) lay(x []float64, r *rows) {
	r.begin()
	steps := o.pattern.StepsFor(x)
	o.steps = steps
	o.path.SetSteps(steps)
	o.nodes = o.solver.AppendNodes(o.nodes[:0])
	o.still = true
	if r.slopes != nil {
		o.parameters = append(o.pattern.Parameters(steps), o.bender.parameters()...)
		o.slopes = slices.Grow(o.slopes[:0], len(o.parameters))[:len(o.parameters)]
		clear(o.slopes)
	}
}

// look implements landscape.
func (o *objective) look(x []float64, w weights, enough float64, r *rows) bool {
	o.count++
	o.lay(x, r)
	o.putReaches(r, -1)
	o.putGaps(r)
	rate := r.next
	r.put(kind{part: preferences}, 0)
	for i, seat := range o.seats {
		if o.path.FollowPose(seat) != nil {
			return false
		}
		if r.slopes != nil && !o.path.Slopes(o.parameters, o.slopes) {
			return false
		}
		o.still = false
		o.nodes = o.solver.AppendNodes(o.nodes[:0])
		o.putLoads(r, i)
		o.putReaches(r, i)
		o.putGaps(r)
		o.putHook(r, i)
		o.putStress(r)
		if !o.bender.at(i, o) { // last, for its slopes take the place of those of the nodes
			return false
		}
		if r.slopes == nil && r.halfSquares(w) > enough {
			r.skipTo(len(r.values))
			return true
		}
		switch i {
		case 0:
			o.addRate(r, rate, 1)
			o.putSlid(r)
		case len(o.seats) - 1:
			o.addRate(r, rate, -1)
		}
	}
	o.putShape(r, x)
	return true
}

// slidToRest tells whether the wire is slid in its first seat until no force along it is left.
func (o *objective) slidToRest() bool {
	return o.spring.SlidToRest != spring.NoSlide && o.spring.Slide == spring.NoSlide && !o.spring.Plain()
}

const (
	slidRows = 2
	// straightLeftMM is what stays of the straight that slides into its slot, a little more than what a
	// hand is off by on a length (common practice), so that the next bend never reaches the slot.
	straightLeftMM = 0.2
)

// putSlid puts the rows of how far the wire slides to rest at the first position, and of how little of
// its straight is left; none for others.
func (o *objective) putSlid(r *rows) {
	if !o.slidToRest() {
		return
	}
	const perMM = 1.0 / slidScaleMM
	anchorMM, activeMM := o.solver.SlidMM()
	if r.put(kind{part: preferences}, perMM*(anchorMM+activeMM)) {
		r.setSlopes(func(j int) float64 { return perMM * (o.slopes[j].SlidMM[0] + o.slopes[j].SlidMM[1]) })
	}
	step, end, slidMM := len(o.steps)-1, 1, activeMM
	if o.spring.SlidToRest == spring.SlideAnchor {
		step, end, slidMM = 0, 0, anchorMM
	}
	if putExcess(r, straightLeftMM-o.steps[step].LengthMM-slidMM) {
		r.setSlopes(func(j int) float64 {
			slope := o.slopes[j].SlidMM[end]
			if f := o.pattern.Freedoms[j]; f.Step == step && !f.Angle && !f.Radius {
				slope++
			}
			return -slope / slackMM
		})
	}
}

// addRate adds to a row the force along the travel, times sign: the loss of force over the
// travel is the load-deflection rate times the travel.
func (o *objective) addRate(r *rows, row int, sign float64) {
	weight := -sign / rateScaleN // the load on the tooth is against the hold's
	r.values[row] += weight * r3.Dot(o.travelAxis, o.solver.EndLoad().ForceN)
	if r.slopes == nil {
		return
	}
	slopes := r.slopes.RawRowView(row)
	for j := range slopes {
		slopes[j] += weight * r3.Dot(o.travelAxis, o.slopes[j].End.ForceN)
	}
}

// nodeSlope is how a node moves by a unit of number j.
func (o *objective) nodeSlope(node, j int) beam.NodeMotion {
	if o.still {
		o.solver.UnloadedSlopes(o.parameters)
		o.still = false
	}
	return o.solver.NodeSlope(node, j, &o.slopes[j])
}
