package solve

import (
	"context"
	"errors"
	"fmt"
	"math"

	"springwright/design/beam"
	"springwright/design/notice"
	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// NextSlot is the slot of the tooth beyond the anchor, into which a straight wire goes on from the
// anchor slot: a third support. It is level with the anchor slot and in line with it.
type NextSlot struct {
	DistanceMM float64 // from the anchor slot's centre to its centre
	LengthMM   float64 // along the wire
	Hold       spring.SlotHold
}

// Continued are the loads of a straight wire: Positions those on the active and the anchor tooth, Next
// those on the tooth beyond the anchor, about its slot's centre, on the same axes; none where it ends in the
// anchor slot.
type Continued struct {
	Positions []spring.Position
	Next      []tooth.Load
	Warnings  notice.List
}

// ErrNotInPlane means that a wire in three slots was asked to leave the plane that is seen from the
// cheek.
var ErrNotInPlane = errors.New("a wire in three slots is solved only in the plane seen from the cheek")

// EvaluateStraight solves a straight wire in the active slot and the anchor slot that goes on, where next is
// given, into a third one, at every position of the travel. It stays in the plane seen from the cheek, lies
// straight at rest, and slides without friction through the outer slots. In each slot it lies as its hold
// says: tied, turning about the slot's centre, or shifting up and down as well. Where it is tied in the anchor
// slot, nothing is felt beyond it.
//
// The wire inside a slot is rigid, so that the two spans meet in the anchor slot in one place and turn; each is
// solved for itself with its ends held, and edgeRest finds where they lie. Wires with memory keep both
// spans' histories. For two slots Evaluate finds the same by another way, and can do more; this one is sure to
// find the contacts of a straight wire, in a fraction of the time. The errors are ErrNotInPlane, *PositionError,
// *YieldError, that of SlotHold.PlayOf and that of ctx.
func EvaluateStraight(ctx context.Context, s spring.Spring, next *NextSlot) (Continued, error) {
	for _, seat := range [...]spring.Seat{s.Start, s.End} {
		if seat.AtMM.Y != 0 || seat.Rotation.X != 0 || seat.Rotation.Z != 0 {
			return Continued{}, ErrNotInPlane
		}
	}
	if steps := s.Path.Steps(); len(steps) != 1 || steps[0].Kind != spring.Straight || s.Heading != spring.On || s.ActiveHold.Hook {
		return Continued{}, errors.New("only a straight wire in slots is solved with its ends held")
	}
	w, err := newStraightInSlots(s, next)
	if err != nil {
		return Continued{}, err
	}
	var out Continued
	before := passiveSeat(s)
	for i := range max(1, s.Positions) {
		if err := ctx.Err(); err != nil {
			return Continued{}, err
		}
		seat := s.SeatAt(i)
		err := w.move(before, seat)
		before = seat
		var p spring.Position
		if err == nil {
			p = w.position(seat)
			err = checkFinite(p)
		}
		if err != nil {
			return Continued{}, &PositionError{Index: i, Positions: s.Positions, Seat: seat, Cause: err}
		}
		out.Positions = append(out.Positions, p)
		if next != nil {
			out.Next = append(out.Next, w.spans[1].onFarTooth())
		}
	}
	e := Evaluation{Record: spring.Record{Positions: out.Positions}}
	if s.Wire.IsSuperelastic() {
		e.warnOfHistory(s)
	} else if err := e.judgeStress(s, Options{}); err != nil {
		return out, err
	}
	out.Warnings = e.Warnings
	return out, nil
}

// straightInSlots is a straight wire in its slots: the span to the active slot, and one beyond the anchor
// slot where it goes on.
type straightInSlots struct {
	spring spring.Spring
	spans  []*wireSpan
	anchor slotWays
	rest   edgeRest
	seated bool
}

// slotWays are the ways that a wire has in a slot: none, turning about its centre, or the ways of two edges
// (see beam.SlotCoordinates).
type slotWays struct {
	first, ways    int // of those of the whole wire
	playRad, armMM float64
	lengthMM       float64
}

func waysIn(h spring.SlotHold, of spring.Spring, lengthMM float64, first int) (slotWays, error) {
	play, err := h.PlayOf(of.Wire, lengthMM)
	if err != nil {
		return slotWays{}, err
	}
	s := slotWays{first: first, playRad: play.SecondOrder, lengthMM: lengthMM}
	s.armMM, _ = armsMM(h, of.Wire, play)
	switch {
	case s.playRad <= tightRad:
	case s.armMM == 0:
		s.ways = 1
	default:
		s.ways = 2
	}
	return s, nil
}

// place is how the wire lies in the slot: turned about y, and shifted up.
func (s slotWays) place(x []float64) (turnRad, shiftMM float64) {
	switch s.ways {
	case 1:
		return x[s.first], 0
	case 2:
		return (x[s.first] + x[s.first+1]) / 2, s.armMM * (x[s.first] - x[s.first+1]) / 2
	}
	return 0, 0
}

// held is how far the wire has gone its ways in the slot.
func (s slotWays) held(x []float64) (at [2]float64) {
	copy(at[:], x[s.first:s.first+s.ways])
	return at
}

// add adds a couple and a force of the slot on the wire to the loads along its ways.
func (s slotWays) add(load []float64, coupleNMM, forceN float64) {
	switch s.ways {
	case 1:
		load[s.first] += coupleNMM
	case 2:
		load[s.first] += (coupleNMM + s.armMM*forceN) / 2
		load[s.first+1] += (coupleNMM - s.armMM*forceN) / 2
	}
}

// state tells where the wire lies.
func (s slotWays) state(x []float64) spring.SlotState {
	touch := func(at float64) spring.Contact {
		switch {
		case at >= s.playRad:
			return spring.PlusWall
		case at <= -s.playRad:
			return spring.MinusWall
		}
		return spring.Free
	}
	turn, shift := s.place(x)
	state := spring.SlotState{TurnRad: r3.Vec{Y: turn}, ShiftMM: r3.Vec{Z: shift}}
	switch s.ways {
	case 1:
		state.SecondOrder = touch(x[s.first])
	case 2:
		state.SecondOrder = atEdges(touch(x[s.first]), touch(x[s.first+1]))
	}
	return state
}

func newStraightInSlots(s spring.Spring, next *NextSlot) (*straightInSlots, error) {
	w := &straightInSlots{spring: s}
	var err error
	if w.anchor, err = waysIn(s.AnchorHold, s, s.AnchorSlotLengthMM, 0); err != nil {
		return nil, fmt.Errorf("anchor slot: %w", err)
	}
	s.AnchorHold, s.Slide, s.SlidToRest = spring.SlotHold{}, spring.SlideActive, spring.NoSlide
	far, err := waysIn(s.ActiveHold, s, s.ActiveSlotLengthMM, w.anchor.ways)
	if err != nil {
		return nil, fmt.Errorf("active slot: %w", err)
	}
	if err := w.addSpan(s, far, 1); err != nil {
		return nil, err
	}
	if next != nil {
		free := next.DistanceMM - (s.AnchorSlotLengthMM+next.LengthMM)/2
		if !(free > 0) || math.IsInf(free, 0) {
			return nil, fmt.Errorf("the third slot is %g mm from the anchor slot: allowed is more than half of both slots, %g mm",
				next.DistanceMM, (s.AnchorSlotLengthMM+next.LengthMM)/2)
		}
		if far, err = waysIn(next.Hold, s, next.LengthMM, far.first+far.ways); err != nil {
			return nil, fmt.Errorf("third slot: %w", err)
		}
		s.ActiveSlotLengthMM = next.LengthMM
		s.Path = spring.PathOf(spring.StraightStep(free))
		s.Start = spring.Seat{AtMM: r3.Vec{X: free}}
		s.End = s.Start
		if err := w.addSpan(s, far, -1); err != nil {
			return nil, err
		}
		beyond := w.spans[1]
		beyond.seat = beam.Origin()
		beyond.seat.D1, beyond.seat.D2 = r3.Scale(-1, beyond.seat.D1), r3.Scale(-1, beyond.seat.D2)
		beyond.seat.At.X = -s.AnchorSlotLengthMM - free
	}
	w.rest = edgeRest{x: make([]float64, far.first+far.ways), play: make([]float64, far.first+far.ways), held: w.held}
	for _, slot := range append([]slotWays{w.anchor}, w.farSlots()...) {
		for k := range slot.ways {
			w.rest.play[slot.first+k] = slot.playRad
		}
	}
	return w, nil
}

func (w *straightInSlots) farSlots() (far []slotWays) {
	for _, span := range w.spans {
		far = append(far, span.far)
	}
	return far
}

// addSpan adds the wire of a spring that leaves the anchor slot towards the active one (+1) or beyond (-1).
func (w *straightInSlots) addSpan(s spring.Spring, far slotWays, towards float64) error {
	s.ActiveHold = spring.SlotHold{} // far says how it lies there
	span, err := newWireSpan(s, far, towards)
	w.spans = append(w.spans, span)
	return err
}

// move takes the active slot from one seat to another.
func (w *straightInSlots) move(from, to spring.Seat) error {
	n, shorter := 1.0, 0.0
	if w.spring.Wire.IsSuperelastic() {
		n = float64(historySteps(w.spring, from, to))
		if !w.seated {
			shorter = historyShorter
		}
	}
	last := from
	for k := 1.0; k <= n; k++ {
		share := k / n
		on := from.Towards(to, share*(1+shorter*(1-share)))
		if k == n {
			on = to
		}
		if err := w.advance(last, on, smallestHalving); err != nil {
			return err
		}
		last = on
	}
	w.seated = true
	return nil
}

// smallestHalving is how many times a step that cannot be gone at once is halved. Of 420 ways of superelastic wires
// into seats 1 to 4 mm off, slots 7 to 10 mm apart, ten stalled; two of them got there in four halvings, and the others, 4 mm off
// over 3.3 mm of free wire, in no more either.
const smallestHalving = 4

// advance takes the active slot on by one step, or by its halves.
func (w *straightInSlots) advance(from, to spring.Seat, halvings int) error {
	w.spans[0].seat = to.Pose(w.spring.Heading)
	lay := w.rest.x
	err := w.rest.find()
	if err == nil {
		for _, span := range w.spans {
			span.keep()
		}
		return nil
	}
	w.rest.x = lay
	if halvings == 0 {
		return err
	}
	middle := from.Towards(to, 0.5)
	if err := w.advance(from, middle, halvings-1); err != nil {
		return err
	}
	return w.advance(middle, to, halvings-1)
}

// centre is the wire's pose at the anchor slot's centre.
func (w *straightInSlots) centre(x []float64) beam.Pose {
	turn, shift := w.anchor.place(x)
	p := beam.Origin()
	p.At = w.spring.AnchorCentre()
	p.At.Z = shift
	return p.Turned(r3.Vec{Y: turn})
}

// held adds up the loads of the slots on the wire along its ways, with the wire held at x.
func (w *straightInSlots) held(x []float64) ([]float64, error) {
	load := make([]float64, len(x))
	turn, shift := w.anchor.place(x)
	for _, span := range w.spans {
		if err := span.hold(spanHold{turn, shift, span.far.held(x), span.seat}, w.centre(x)); err != nil {
			return nil, err
		}
		w.anchor.add(load, span.atAnchor.MomentNMM.Y, span.atAnchor.ForceN.Z)
		for k := range span.far.ways {
			load[span.far.first+k] += span.atFar[k]
		}
	}
	return load, nil
}

// position is the wire at rest at a seat.
func (w *straightInSlots) position(at spring.Seat) spring.Position {
	var onAnchor tooth.Load
	stress, nominal := 0.0, w.spring.AnchorCentre()
	for _, span := range w.spans {
		l := spring.OnTooth(span.atAnchor.About(w.centre(w.rest.x).At, nominal))
		onAnchor.ForceN = r3.Add(onAnchor.ForceN, l.ForceN)
		onAnchor.CoupleNMM = r3.Add(onAnchor.CoupleNMM, l.CoupleNMM)
		stress = max(stress, span.stress())
	}
	_, slidMM := w.spans[0].solver.SlidMM()
	return spring.Position{
		Seat:         at,
		TravelLeftMM: r3.Norm(r3.Sub(w.spring.End.AtMM, at.AtMM)),
		Active:       w.spans[0].onFarTooth(),
		Anchor:       onAnchor,
		StressRatio:  stress,
		Play:         &spring.PlayState{Anchor: w.anchor.state(w.rest.x), Active: w.spans[0].far.state(w.rest.x), SlidMM: slidMM},
	}
}
