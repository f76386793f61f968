package solve

import (
	"context"
	"errors"
	"math"

	"springwright/design/beam"
	"springwright/design/fibre"
	"springwright/design/notice"
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

// A spring whose wire yields or turns into martensite is solved with the history of every
// section: from its passive shape to the first seat, then let go over the travel. Its bends
// hold what stress bending them by hand has left; the straight wire between them is taken as
// free of stress.

const (
	// Steps of a wire that remembers; with them the loop that the model was checked with
	// past yield comes within 0.4 % of the largest force and 2 % of the largest couple.
	historyStepMM  = 0.25
	historyStepRad = 0.35
	// Sections answer to about a ten thousandth of this. Places are 1e-9 of the wire's length
	// off then, and loads as little; what tells the contacts in slots with play apart is finer.
	historyTolerance     = 1e-9
	historyPlayTolerance = 1e-11
	// The way into a seat, between two positions and out of the slot is cut so that the end
	// moves and turns by no more than this at once.
	historyMoveMM  = 0.75
	historyTurnRad = 0.1
	// A superelastic wire, and one that yields and slides, goes in so many times as many
	// steps. Random springs come out up to 7 % of the largest load off otherwise, and one in a
	// thousand is lost.
	historyParts = 2
	// On its way into the first seat the steps of such a wire become shorter, from 1+x times
	// their mean to 1-x times. Wire comes out of a slot the faster the farther the end is from
	// where it lay, and a section that has come out and turns back remembers only what it bore
	// at the end of a step. Of 40 random superelastic springs the worst comes out 1.1 % of the
	// largest load off instead of 5.8 % (x = 0), nine tenths within 0.3 % instead of 0.5 %.
	historyShorter = 0.8
	// Of random springs, none needed a smaller share of such a step (see
	// TestRandomMemorySprings).
	historySmallestStep = 1.0 / 256
)

// PermanentSet is how far the free end of a spring, once taken out of its slots, lies from
// where it lay before.
type PermanentSet struct {
	ShiftMM float64
	TurnRad float64
	Unknown bool // no set was found; the loads do not depend on it
}

// Set is what a spring keeps from use. It is zero for a wire that stays elastic and for a
// superelastic one, which its law brings back.
type Set struct {
	AfterTrial  PermanentSet // taken out again at the first position
	AfterTravel PermanentSet // taken out at the last position
}

// yields tells whether a spring must be solved with history because the stress ratio found
// elastically at a position is above 1.
func yields(s spring.Spring, p spring.Position) bool {
	return s.Wire.TangentMPa > 0 && p.StressRatio > 1
}

// historyWire is an unloaded wire with memory in its solver.
type historyWire struct {
	solver *beam.Solver
	steps  []int // of the path, by the pieces of the rod
	// spareMM is the wire in front of the path, inside a slot that it slides through.
	spareMM float64
}

// newHistoryWire returns the wire of a spring. Where it slides through a slot, some more
// wire lies in there, as far as the end of the wire may come.
//
// A rigidly held section cannot contract across, so that a wire yields later next to a
// slot; by Saint-Venant's principle this fades within about half a thickness, and there the
// wire is taken as elastic. Without that the couples of the loop that the model was checked
// with were off by 4 % of the largest. The plateaus of superelastic wire are known from
// bending tests alone, which have no such places: there the law holds up to the slots.
func newHistoryWire(s spring.Spring) (historyWire, error) {
	length := s.Path.WireLengthMM()
	// As much as an end could have to come out on its way from where it lies passively.
	spare := r3.Norm(passiveSeat(s).AtMM) + r3.Norm(s.Start.AtMM) + r3.Norm(s.End.AtMM)
	pieces := s.Path.Pieces()
	var h historyWire
	var rod []beam.Piece
	add := func(lengthMM float64, curvature r3.Vec, step int) {
		rod = append(rod, beam.Piece{LengthMM: lengthMM, Curvature: curvature})
		h.steps = append(h.steps, step)
	}
	if s.SlidesThrough(spring.SlideAnchor) {
		h.spareMM = spare
		add(spare, r3.Vec{}, 0)
	}
	rim := min(s.Wire.HeightMM(), s.Wire.DepthMM()) / 2
	at := 0.0
	for i, piece := range pieces {
		to := at + piece.LengthMM
		for _, cut := range [...]float64{rim, length - rim} {
			if cut > at && cut < to {
				add(cut-at, piece.Curvature, i)
				at = cut
			}
		}
		add(to-at, piece.Curvature, i)
		at = to
	}
	if s.SlidesThrough(spring.SlideActive) {
		add(spare, r3.Vec{}, len(pieces)-1)
	}

	bending := s.Wire.Bending()
	sections := make([]*fibre.Section, len(rod))
	for i, piece := range rod {
		if piece.LengthMM == 0 { // nothing is solved there
			continue
		}
		var err error
		if sections[i], _, err = bending.Fibres(piece.Curvature); err != nil {
			return historyWire{}, err
		}
	}
	stiff := s.Wire.Fibres()
	if !s.Wire.IsSuperelastic() {
		stiff = s.Wire.ElasticFibres()
	}
	options := solverOptions(s)
	options.StepMM, options.StepRad = historyStepMM, historyStepRad
	options.Tolerance = historyTolerance
	if s.AnchorHold.Play || s.ActiveHold.Play {
		options.Tolerance = historyPlayTolerance
	}
	options.SmallestStep = historySmallestStep
	h.solver = beam.NewMemorySolver(beam.Rod{Section: s.Wire.Section(), Pieces: rod}, beam.Origin(), options,
		func(piece int, arcMM float64) beam.Point {
			if at := arcMM - h.spareMM; min(at, length-at) < rim {
				return stiff.NewPoint()
			}
			return sections[piece].NewPoint()
		})
	h.solver.SetSpan(h.spareMM, h.spareMM+length)
	return h, nil
}

// samples are those of the nodes, counted from the start of the path.
func (h historyWire) samples(nodes []beam.Node) []Sample {
	out := samples(nodes)
	for i := range out {
		out[i].Step = h.steps[out[i].Step]
		out[i].ArcMM -= h.spareMM
	}
	return out
}

// evaluateWithHistory is Evaluate for a wire that yields or is superelastic, which has no yield
// to reach against a bend and so no opposed bends.
//
// A wire that is slid to rest slides on its way into its first seat, too; where a straight is too short for
// that, it is let go there only.
func evaluateWithHistory(ctx context.Context, s spring.Spring, opposed []OpposedBend) (Evaluation, error) {
	e, err := evaluateOnTheWay(ctx, s, opposed, false)
	if errors.Is(err, beam.ErrNoStraight) && s.SlidToRest != spring.NoSlide && s.Slide == spring.NoSlide {
		if again, cinchedErr := evaluateOnTheWay(ctx, s, opposed, true); cinchedErr == nil {
			return again, nil
		}
	}
	return e, err
}

// evaluateOnTheWay is evaluateWithHistory with a wire that is cinched on its way into its first seat, or not.
func evaluateOnTheWay(ctx context.Context, s spring.Spring, opposed []OpposedBend, cinched bool) (Evaluation, error) {
	held, err := newHistoryWire(s)
	if err != nil {
		return Evaluation{}, err
	}
	solver := held.solver
	slots, err := newSlotFollower(s, solver)
	if err != nil {
		return Evaluation{}, err
	}
	slots.cinched = cinched
	nodes := solver.AppendNodes(nil)
	e := Evaluation{Record: spring.Record{Title: s.Title, Teeth: s.Teeth, FirstDayLoss: s.Wire.FirstDayLoss()}, Passive: poses(nodes), Samples: held.samples(nodes), History: true}
	strain := strainGauge(s)
	before := passiveSeat(s)
	for i := range max(1, s.Positions) {
		if err := ctx.Err(); err != nil {
			return Evaluation{}, err
		}
		seat := s.SeatAt(i)
		play, err := moveInSteps(slots, before, seat)
		before = seat
		if err != nil {
			return Evaluation{}, &PositionError{Index: i, Positions: s.Positions, Seat: seat, Cause: err}
		}
		position := spring.Position{
			Seat:         seat,
			TravelLeftMM: r3.Norm(r3.Sub(s.End.AtMM, seat.AtMM)),
			Active:       s.ActiveLoad(solver.EndLoad(), solver.End().At, seat.Pose(s.Heading)),
			Anchor:       s.AnchorLoad(solver.BaseLoad()),
			HookMM:       hookAt(s, solver.End()),
			StressRatio:  strain(solver.Responses()),
			Play:         play,
		}
		if err := checkFinite(position); err != nil {
			return Evaluation{}, &PositionError{Index: i, Positions: s.Positions, Seat: seat, Cause: err}
		}
		e.Record.Positions = append(e.Record.Positions, position)
		if i == 0 {
			nodes = solver.AppendNodes(nodes[:0])
			e.Seated = poses(nodes)
			e.Set.AfterTrial = setOf(s, solver)
		}
	}
	e.Set.AfterTravel = setOf(s, solver)
	e.Gauge = gaugeCheck(s, e.Record.Positions[0].Active, e.History)
	e.warnOfHook(s)
	e.warnOfHistory(s)
	e.warnOfOpposedBends(opposed)
	return e, nil
}

// passiveSeat is where the unloaded wire's end lies, as a seat.
func passiveSeat(s spring.Spring) spring.Seat {
	return spring.SeatOf(s.Rod().UnloadedEnd(beam.Origin()), s.Heading)
}

// stepsFinely tells whether a wire that remembers needs the finer steps of historyParts.
func stepsFinely(s spring.Spring) bool { return s.Wire.IsSuperelastic() || s.SlidesAtFirst() }

// historySteps is in how many steps a wire that remembers goes from one seat to another.
func historySteps(s spring.Spring, from, to spring.Seat) int {
	move, turn := r3.Norm(r3.Sub(to.AtMM, from.AtMM)), r3.Norm(r3.Sub(to.Rotation, from.Rotation))
	parts := 1.0
	if stepsFinely(s) {
		parts = historyParts
	}
	return int(max(1, math.Ceil(parts*move/historyMoveMM), math.Ceil(parts*turn/historyTurnRad)))
}

// drawingSteps are those in which a wire that remembers is drawn to its force: of a loop that is drawn
// past yield the force changes by less than 0.1 % with twice as many (TestYieldingWireIsDrawnToItsForce).
const drawingSteps = 8

// moveInSteps takes a wire that remembers from one seat to another. Slid to rest or drawn to a force it
// is when it is in its first seat, where it goes by itself until then.
func moveInSteps(slots *slotFollower, from, to spring.Seat) (play *spring.PlayState, err error) {
	n := float64(historySteps(slots.spring, from, to))
	first := !slots.seated
	slots.onTheWay = first
	if first {
		slots.undrawn = 1
	}
	shorter := 0.0
	if !slots.seated && stepsFinely(slots.spring) {
		shorter = historyShorter
	}
	for k := 1.0; k <= n; k++ {
		share := k / n
		on := from.Towards(to, share*(1+shorter*(1-share)))
		if k == n {
			on = to
		}
		if play, err = slots.follow(on); err != nil {
			return nil, err
		}
		slots.solver.Keep()
	}
	if slots.cinched { // until it is in its first seat
		slots.cinched = false
		if play, err = slots.follow(to); err != nil {
			return nil, err
		}
		slots.solver.Keep()
	}
	if first && slots.spring.DrawnToN != 0 {
		for k := 1.0; k <= drawingSteps; k++ {
			slots.undrawn = 1 - k/drawingSteps
			if play, err = slots.follow(to); err != nil {
				return nil, err
			}
			slots.solver.Keep()
		}
	}
	slots.onTheWay = false
	return play, nil
}

// setOf returns how far from where it lay the end of the present wire would come to rest
// out of its slots, seen from the other end and for the length of the path.
func setOf(s spring.Spring, solver *beam.Solver) PermanentSet {
	if s.Wire.IsSuperelastic() {
		return PermanentSet{}
	}
	fromMM, toMM := solver.Span()
	anchorMM, activeMM := solver.SlidMM()
	end, ok := solver.Released(fromMM+anchorMM, toMM-activeMM)
	passive := s.Rod().UnloadedEnd(beam.Origin())
	set := PermanentSet{
		ShiftMM: r3.Norm(r3.Sub(end.At, passive.At)),
		TurnRad: r3.Norm(beam.RotationBetween(passive, end)),
	}
	set.Unknown = !ok || !finite(set.ShiftMM) || !finite(set.TurnRad)
	if set.Unknown {
		return PermanentSet{Unknown: true}
	}
	return set
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// strainGauge returns a function from the sections' stretches to the stress ratio of a wire
// with history.
//
// Past yield the stress hardly tells how far a wire was bent, so strain takes its place: the
// largest equivalent strain over the yield strain, which is what an elastic wire's stress
// would be over yield at this shape and runs on from the elastic stress ratio. What is left
// of the strain as the wire is let go counts too. For a superelastic wire it is the largest
// equivalent strain over that at which all is martensite; beyond 1 real wires keep a set.
func strainGauge(s spring.Spring) func([]beam.Stretch) float64 {
	section, strength := s.Wire.Section(), s.Wire.Strength()
	scale := 1.0
	if l := s.Wire.Superelastic; s.Wire.IsSuperelastic() {
		scale = (s.Wire.YieldMPa / s.Wire.EMPa) / (l.LoadEndMPa/s.Wire.EMPa + l.TransformationStrain)
	}
	return func(stretches []beam.Stretch) float64 {
		var worst float64
		for _, e := range stretches {
			worst = max(worst, scale*strength.Ratio(r3.Vec{X: section.GJ * e[1], Y: section.EI2 * e[2], Z: section.EI3 * e[3]}))
		}
		return worst
	}
}

// warnOfHistory warns of what a wire keeps from the way it went.
func (e *Evaluation) warnOfHistory(s spring.Spring) {
	if !s.Wire.IsSuperelastic() {
		set := notice.PermanentSet{Unknown: e.Set.AfterTrial.Unknown}
		if !set.Unknown {
			set.ShiftMM, set.TurnRad = e.Set.AfterTrial.ShiftMM, e.Set.AfterTrial.TurnRad
		}
		e.Warnings = append(e.Warnings, set)
		return
	}
	var worst float64
	for _, p := range e.Record.Positions {
		worst = max(worst, p.StressRatio)
	}
	if worst > 1 {
		e.Warnings = append(e.Warnings, notice.PhaseStrain{StrainRatio: worst})
	}
}
