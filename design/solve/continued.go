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

// Continued are the loads of a wire in three slots: Positions those on the active and the anchor
// tooth, Next those on the tooth beyond the anchor, about its slot's centre, on the same axes.
type Continued struct {
	Positions []spring.Position
	Next      []tooth.Load
	Warnings  notice.List
}

// ErrNotInPlane means that a wire in three slots was asked to leave the plane that is seen from the
// cheek.
var ErrNotInPlane = errors.New("a wire in three slots is solved only in the plane seen from the cheek")

// EvaluateContinued solves a straight wire that runs through the active slot and the anchor slot and on
// into a third one, at every position of the travel. It stays in the plane seen from the cheek, lies
// straight at rest, and slides without friction through both outer slots. In the anchor slot it plays
// as its hold says: where that is tied, nothing is felt beyond it.
//
// The wire inside the anchor slot is rigid, so that the two spans meet there in one place and turn; each
// is solved for itself, and place and turn are found at which the slot has either no load or a wall that
// pushes. Wires with memory keep both spans' histories. The errors are ErrNotInPlane, *PositionError,
// *YieldError, that of SlotHold.PlayOf and that of ctx.
func EvaluateContinued(ctx context.Context, s spring.Spring, next NextSlot) (Continued, error) {
	for _, seat := range [...]spring.Seat{s.Start, s.End} {
		if seat.AtMM.Y != 0 || seat.Rotation.X != 0 || seat.Rotation.Z != 0 {
			return Continued{}, ErrNotInPlane
		}
	}
	if steps := s.Path.Steps(); len(steps) != 1 || steps[0].Kind != spring.Straight || s.Heading != spring.On || s.ActiveHold.Hook {
		return Continued{}, errors.New("only a straight wire in slots goes on beyond the anchor")
	}
	if free := next.DistanceMM - (s.AnchorSlotLengthMM+next.LengthMM)/2; !(free > 0) || math.IsInf(free, 0) {
		return Continued{}, fmt.Errorf("the third slot is %g mm from the anchor slot: allowed is more than half of both slots, %g mm",
			next.DistanceMM, (s.AnchorSlotLengthMM+next.LengthMM)/2)
	}
	w, err := newContinuedWire(s, next)
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
		var onNext tooth.Load
		if err == nil {
			p, onNext = w.position(seat)
			err = checkFinite(p)
		}
		if err != nil {
			return Continued{}, &PositionError{Index: i, Positions: s.Positions, Seat: seat, Cause: err}
		}
		out.Positions, out.Next = append(out.Positions, p), append(out.Next, onNext)
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

// continuedWire is a wire in three slots.
type continuedWire struct {
	spring     spring.Spring
	span, next wireSpan  // to the active slot, and beyond the anchor slot
	nextSeat   beam.Pose // of the wire's end in the third slot, seen from the anchor slot
	playRad    float64   // in the anchor slot, one way
	armMM      float64   // of its edges; 0: the wire turns about the slot's centre
	edges      [2]float64
	slope      [2][2]float64 // of the slot's loads by the edges; zero: not known
	seated     bool
}

// wireSpan is one of the two wires that meet in the anchor slot, as it is seen from there.
type wireSpan struct {
	slots   *slotFollower
	memory  bool
	kept    spanState
	start   beam.Pose // of the wire, where it leaves the anchor slot
	stress  func() float64
	towards float64 // from the anchor slot's centre along x: +1 to the active slot, -1 beyond
}

// spanState is what a trial begins from.
type spanState struct {
	configuration beam.Configuration
	contacts      contacts
	seated        bool
	seat          spring.Seat
}

func newContinuedWire(s spring.Spring, next NextSlot) (*continuedWire, error) {
	play, err := s.AnchorHold.PlayOf(s.Wire, s.AnchorSlotLengthMM)
	if err != nil {
		return nil, fmt.Errorf("anchor slot: %w", err)
	}
	w := &continuedWire{spring: s, playRad: play.SecondOrder}
	w.armMM, _ = armsMM(s.AnchorHold, s.Wire, play)
	s.AnchorHold, s.Slide = spring.SlotHold{}, spring.SlideActive
	if w.span, err = newWireSpan(s, 1); err != nil {
		return nil, err
	}
	beyond := s
	beyond.ActiveSlotLengthMM, beyond.ActiveHold = next.LengthMM, next.Hold
	free := next.DistanceMM - (s.AnchorSlotLengthMM+next.LengthMM)/2
	beyond.Path = spring.PathOf(spring.StraightStep(free))
	beyond.Start = spring.Seat{AtMM: r3.Vec{X: free}}
	beyond.End = beyond.Start
	if w.next, err = newWireSpan(beyond, -1); err != nil {
		return nil, fmt.Errorf("third slot: %w", err)
	}
	w.nextSeat = backwards()
	w.nextSeat.At.X = -s.AnchorSlotLengthMM - free
	return w, nil
}

// backwards is the pose of a wire that leaves the anchor slot away from the active one.
func backwards() beam.Pose {
	p := beam.Origin()
	p.D1, p.D2 = r3.Scale(-1, p.D1), r3.Scale(-1, p.D2)
	return p
}

func newWireSpan(s spring.Spring, towards float64) (wireSpan, error) {
	span := wireSpan{memory: s.Wire.IsSuperelastic(), towards: towards}
	var solver *beam.Solver
	if span.memory {
		held, err := newHistoryWire(s)
		if err != nil {
			return wireSpan{}, err
		}
		solver = held.solver
		strain := strainGauge(s)
		span.stress = func() float64 { return strain(solver.Responses()) }
	} else {
		solver = beam.NewSolver(s.Rod(), beam.Origin(), solverOptions(s))
		strength := s.Wire.Strength()
		span.stress = func() float64 {
			worst := 0.0
			for _, n := range solver.AppendNodes(nil) {
				worst = max(worst, strength.Ratio(n.MomentNMM))
			}
			return worst
		}
	}
	slots, err := newSlotFollower(s, solver)
	if err != nil {
		return wireSpan{}, err
	}
	if !span.memory {
		unloaded := solver.Configuration()
		slots.unloaded = &unloaded
	}
	span.slots = slots
	span.keep()
	return span, nil
}

// keep takes the present state as the one to go on from.
func (p *wireSpan) keep() {
	if p.memory {
		p.slots.solver.Keep()
	}
	p.kept = spanState{p.slots.solver.Configuration(), p.slots.contacts, p.slots.seated, p.slots.seat}
}

// solve holds the wire in the anchor slot by centre, its pose at the slot's centre there, and in the
// far slot at seat, from the state that was kept. It returns the load of the anchor slot on it, about
// that centre.
func (p *wireSpan) solve(centre beam.Pose, halfMM float64, seat beam.Pose) (beam.Wrench, error) {
	f := p.slots
	f.solver.Restore(p.kept.configuration)
	f.contacts, f.seated, f.seat = p.kept.contacts, p.kept.seated, p.kept.seat
	p.start = centre.Along(p.towards * halfMM)
	if p.towards < 0 {
		p.start.D1, p.start.D2 = r3.Scale(-1, p.start.D1), r3.Scale(-1, p.start.D2)
	}
	if _, err := f.follow(spring.SeatOf(p.local(seat), spring.On)); err != nil {
		return beam.Wrench{}, err
	}
	return p.global(f.solver.BaseLoad()).About(p.start.At, centre.At), nil
}

// local is a pose as seen from where the wire leaves the anchor slot.
func (p *wireSpan) local(pose beam.Pose) beam.Pose {
	s := p.start
	return beam.Pose{At: s.ToLocal(r3.Sub(pose.At, s.At)), D1: s.ToLocal(pose.D1), D2: s.ToLocal(pose.D2), D3: s.ToLocal(pose.D3)}
}

// global is a load on the axes of the anchor slot.
func (p *wireSpan) global(w beam.Wrench) beam.Wrench {
	return beam.Wrench{ForceN: p.start.ToGlobal(w.ForceN), MomentNMM: p.start.ToGlobal(w.MomentNMM)}
}

// onFarTooth is the load on the tooth of the far slot, about its centre at seat.
func (p *wireSpan) onFarTooth(seat beam.Pose) tooth.Load {
	s, solver := p.slots.spring, p.slots.solver
	l := s.ActiveLoad(solver.EndLoad(), solver.End().At, p.local(seat))
	return tooth.Load{ForceN: p.start.ToGlobal(l.ForceN), CoupleNMM: p.start.ToGlobal(l.CoupleNMM)}
}

// move takes the active slot from one seat to another.
func (w *continuedWire) move(from, to spring.Seat) error {
	n, shorter := 1.0, 0.0
	if w.span.memory {
		n = float64(historySteps(w.span.slots.spring, from, to))
		if !w.seated {
			shorter = historyShorter
		}
	}
	for k := 1.0; k <= n; k++ {
		share := k / n
		on := from.Towards(to, share*(1+shorter*(1-share)))
		if k == n {
			on = to
		}
		if err := w.settle(on); err != nil {
			return err
		}
		w.span.keep()
		w.next.keep()
	}
	w.seated = true
	return nil
}

// centre is the wire's pose at the anchor slot's centre, by how far its edges are on their ways.
func (w *continuedWire) centre(edges [2]float64) beam.Pose {
	p := beam.Origin()
	p.At = w.spring.AnchorCentre()
	p.At.Z = w.armMM * (edges[0] - edges[1]) / 2
	return p.Turned(r3.Vec{Y: (edges[0] + edges[1]) / 2})
}

// held is the load that the anchor slot puts on the wire, along the ways of its edges, N·mm, with the
// wire there.
func (w *continuedWire) held(edges [2]float64, seat beam.Pose) (load [2]float64, err error) {
	half := w.spring.AnchorSlotLengthMM / 2
	centre := w.centre(edges)
	a, err := w.span.solve(centre, half, seat)
	if err != nil {
		return load, err
	}
	b, err := w.next.solve(centre, half, w.nextSeat)
	if err != nil {
		return load, err
	}
	moment, force := a.MomentNMM.Y+b.MomentNMM.Y, a.ForceN.Z+b.ForceN.Z
	if w.armMM == 0 {
		force = 0 // the slot bears it at its centre
	}
	return [2]float64{(moment + w.armMM*force) / 2, (moment - w.armMM*force) / 2}, nil
}

const (
	// edgeDifferenceRad is the change of an edge by which the slope of its load is found: far above the
	// solver's tolerance, far below any play.
	edgeDifferenceRad = 1e-5
	// edgeSlackNMM is the load at which an edge counts as free: what prints is a thousand times as much.
	edgeSlackNMM = 1e-5
	edgeRounds   = 60 // of Newton's method and changes of contact; about five are usual
)

// settle finds how the wire lies in the anchor slot with the active slot at a seat. The loads of the
// slot are the slopes of the wire's energy by its edges' ways, each of which may go as far as the play:
// a minimum in a box, found by Newton's method. A step is cut where the energy rises again at its end, as
// where the wire meets a wall of an outer slot on the way.
func (w *continuedWire) settle(at spring.Seat) error {
	seat := at.Pose(w.spring.Heading)
	if w.playRad <= tightRad {
		_, err := w.held([2]float64{}, seat)
		return err
	}
	x := w.edges
	load, err := w.held(x, seat)
	if err != nil {
		return err
	}
	stale := true
	for range edgeRounds {
		left := w.unborne(x, load)
		if left <= edgeSlackNMM {
			w.edges = x
			_, err := w.held(x, seat) // the state to be kept
			return err
		}
		if stale {
			if err := w.findSlope(x, load, seat); err != nil {
				return err
			}
		}
		by := w.step(x, load)
		from := edgeWork(load, by)
		share, low, high := 1.0, 0.0, 1.0
		to, after := x, load
		for range edgeRounds {
			to = w.within([2]float64{x[0] + share*by[0], x[1] + share*by[1]})
			if after, err = w.held(to, seat); err != nil {
				return err
			}
			slope := edgeWork(after, by)
			if slope <= -from/2 { // slopes begin below 0
				break
			}
			high = share
			share = (low + high) / 2
			if now := share * from / (from - slope) * 2; now > low && now < high {
				share = now
			}
		}
		stale = share < 1 || w.unborne(to, after) > left/3
		x, load = to, after
	}
	return ErrNoContact
}

// edgeWork is what loads do along ways of the edges.
func edgeWork(load, by [2]float64) float64 { return load[0]*by[0] + load[1]*by[1] }

// within holds the edges between their walls.
func (w *continuedWire) within(x [2]float64) [2]float64 {
	for i := range x {
		x[i] = max(-w.playRad, min(w.playRad, x[i]))
	}
	return x
}

// findSlope finds how the loads of the slot change by the ways of the edges.
func (w *continuedWire) findSlope(x, load [2]float64, seat beam.Pose) error {
	for j := range x {
		y := x
		y[j] -= math.Copysign(edgeDifferenceRad, x[j])
		moved, err := w.held(y, seat)
		if err != nil {
			return err
		}
		for i := range x {
			w.slope[i][j] = (moved[i] - load[i]) / (y[j] - x[j])
		}
	}
	return nil
}

// unborne is the largest load of an edge that no wall bears.
func (w *continuedWire) unborne(x, load [2]float64) (worst float64) {
	for i := range x {
		if bears := x[i] >= w.playRad && load[i] <= 0 || x[i] <= -w.playRad && load[i] >= 0; !bears {
			worst = max(worst, math.Abs(load[i]))
		}
	}
	return worst
}

// step is the way of the edges to the least energy between the walls, as the slope has it: every set of
// edges at their walls is tried.
func (w *continuedWire) step(x, load [2]float64) (best [2]float64) {
	k := w.slope
	cross := (k[0][1] + k[1][0]) / 2
	least := 0.0
	try := func(by [2]float64) {
		to := w.within([2]float64{x[0] + by[0], x[1] + by[1]})
		by = [2]float64{to[0] - x[0], to[1] - x[1]}
		energy := edgeWork(load, by) + (k[0][0]*by[0]*by[0]+k[1][1]*by[1]*by[1])/2 + cross*by[0]*by[1]
		if energy < least {
			best, least = by, energy
		}
	}
	if det := k[0][0]*k[1][1] - cross*cross; det > 0 && k[0][0] > 0 {
		try([2]float64{(cross*load[1] - k[1][1]*load[0]) / det, (cross*load[0] - k[0][0]*load[1]) / det})
	}
	for _, wall := range [...]float64{-w.playRad, w.playRad} {
		if by := wall - x[0]; k[1][1] > 0 {
			try([2]float64{by, -(load[1] + cross*by) / k[1][1]})
		}
		if by := wall - x[1]; k[0][0] > 0 {
			try([2]float64{-(load[0] + cross*by) / k[0][0], by})
		}
		for _, other := range [...]float64{-w.playRad, w.playRad} {
			try([2]float64{wall - x[0], other - x[1]})
		}
	}
	return best
}

// position is the solved wire at a seat.
func (w *continuedWire) position(at spring.Seat) (p spring.Position, onNext tooth.Load) {
	centre, nominal := w.centre(w.edges), w.spring.AnchorCentre()
	var onAnchor tooth.Load
	for _, span := range [...]*wireSpan{&w.span, &w.next} {
		l := spring.OnTooth(span.global(span.slots.solver.BaseLoad()).About(span.start.At, nominal))
		onAnchor.ForceN = r3.Add(onAnchor.ForceN, l.ForceN)
		onAnchor.CoupleNMM = r3.Add(onAnchor.CoupleNMM, l.CoupleNMM)
	}
	anchor := spring.SlotState{TurnRad: r3.Vec{Y: (w.edges[0] + w.edges[1]) / 2}, ShiftMM: r3.Sub(centre.At, nominal)}
	_, slidMM := w.span.slots.solver.SlidMM()
	return spring.Position{
		Seat:         at,
		TravelLeftMM: r3.Norm(r3.Sub(w.spring.End.AtMM, at.AtMM)),
		Active:       w.span.onFarTooth(at.Pose(w.spring.Heading)),
		Anchor:       onAnchor,
		StressRatio:  max(w.span.stress(), w.next.stress()),
		Play:         &spring.PlayState{Anchor: anchor, Active: w.span.slots.state().Active, SlidMM: slidMM},
	}, w.next.onFarTooth(w.nextSeat)
}
