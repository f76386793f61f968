package solve

import (
	"errors"
	"fmt"

	"springwright/design/beam"
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

// slotFollower carries a wire from seat to seat in slots with play or that it slides
// through.
type slotFollower struct {
	spring  spring.Spring
	solver  *beam.Solver
	problem gapProblem
	// The slots as the solver sees them: their lengths and edges; what is free in them is filled
	// in for every solution.
	anchor, active beam.Slot
	contacts       contacts
	seated         bool
	seat           spring.Seat // the last one
	limit          int         // of the solver's crossings
	// unloaded is the wire before its first seat; nil for one that remembers its way.
	unloaded *beam.Configuration
	cinched  bool    // nothing slides for now
	axialN   float64 // the force along the wire where it slides, tension above 0
	// onTheWay tells that a wire that remembers is not in its first seat yet, though followed to others,
	// or not yet drawn there to its force, of which the present share is undrawn less than all.
	onTheWay bool
	undrawn  float64
}

// ErrTooMuchWork means that the search for the state of the play was given up.
var ErrTooMuchWork = errors.New("no state of the play in the slots was found within the bound on work")

const (
	// mostCrossings bounds the work on one seat to about 0.4 s, or 2 s of a tight wire: a
	// crossing takes 0.7 µs and 4 µs with all that goes with it (measured). Random springs that
	// are solved take up to 0.4 s for two seats.
	mostCrossings = 500_000
	// trialStep is the smallest share of a way on which contacts are tried: those that do
	// not hold should fail soon.
	trialStep = 1.0 / 256
)

// playTolerance is the beam solver's tolerance where there is play: far enough below
// angleSlackRad and coupleSlackNMM that they judge the contacts and not the solver.
const playTolerance = 1e-12

// smallestPlayStep is the smallest share of the way between two positions at which the
// contacts are looked for anew.
const smallestPlayStep = 1.0 / 8

// newSlotFollower starts from the wire as it lies in the solver. The error wraps that of
// SlotHold.PlayOf.
func newSlotFollower(s spring.Spring, solver *beam.Solver) (*slotFollower, error) {
	anchor, err := s.AnchorHold.PlayOf(s.Wire, s.AnchorSlotLengthMM)
	if err != nil {
		return nil, fmt.Errorf("anchor slot: %w", err)
	}
	active, err := s.ActiveHold.PlayOf(s.Wire, s.ActiveSlotLengthMM)
	if err != nil {
		return nil, fmt.Errorf("active slot: %w", err)
	}
	f := &slotFollower{spring: s, solver: solver}
	f.anchor.LeverMM, f.active.LeverMM = s.AnchorSlotLengthMM/2, s.ActiveSlotLengthMM/2
	f.anchor.HeightArmMM, f.anchor.DepthArmMM = armsMM(s.AnchorHold, s.Wire, anchor)
	f.active.HeightArmMM, f.active.DepthArmMM = armsMM(s.ActiveHold, s.Wire, active)
	section := s.Wire.Section()
	f.anchor.BendInside(false, section)
	f.active.BendInside(true, section)
	f.problem.play = anglesOf(coordinates(anchor, f.anchor), coordinates(active, f.active))
	return f, nil
}

// follow takes the wire to a seat. It returns nil for a plain spring.
func (f *slotFollower) follow(seat spring.Seat) (*spring.PlayState, error) {
	if f.spring.Plain() {
		return nil, f.solver.Follow(f.spring.HoldAt(seat))
	}
	f.limit = f.solver.Crossings() + mostCrossings
	f.solver.SetSmallestStep(0)
	if f.unloaded == nil {
		f.solver.SetSmallestStep(trialStep) // a wire that remembers is moved in short ways
	}
	if err := f.moveTo(seat); err != nil {
		switch {
		case errors.Is(err, ErrTooMuchWork) && !f.plays(): // a wire that only slides
			err = beam.ErrNoConvergence
		case f.exhausted() && f.plays():
			err = fmt.Errorf("%w; the last state tried: %w", ErrTooMuchWork, err)
		}
		return nil, err
	}
	f.arrived(seat)
	return f.state(), nil
}

// coordinates are how far the wire may go along each coordinate in a slot, one way.
func coordinates(p spring.Play, slot beam.Slot) beam.SlotCoordinates {
	c := beam.SlotCoordinates{p.ThirdOrder, p.SecondOrder, p.FirstOrder}
	if slot.HeightArmMM > 0 {
		c[3] = p.SecondOrder
	}
	if slot.DepthArmMM > 0 {
		c[4] = p.FirstOrder
	}
	return c
}

// arrived tells that the wire is in a seat, where it is cinched if that was to be the first.
func (f *slotFollower) arrived(seat spring.Seat) {
	if !f.seated && f.spring.SlidToRest != spring.NoSlide && f.unloaded != nil {
		cinched := f.unloaded.Slid(f.solver.Configuration())
		f.unloaded = &cinched
	}
	f.seat, f.seated = seat, true
}

// state is how the wire lies in its slots.
func (f *slotFollower) state() *spring.PlayState {
	anchorMM, activeMM := f.solver.SlidMM()
	anchorTurn, anchorShift, activeTurn, activeShift := f.solver.PlacesInSlots()
	return &spring.PlayState{
		Anchor: f.contacts.state(0, anchorTurn, anchorShift),
		Active: f.contacts.state(1, activeTurn, activeShift),
		SlidMM: anchorMM + activeMM,
	}
}

// exhausted tells that the bound on work is reached.
func (f *slotFollower) exhausted() bool { return f.solver.Crossings() > f.limit }

// plays tells whether a slot leaves the wire any play.
func (f *slotFollower) plays() bool {
	for _, play := range f.problem.play {
		if play > tightRad {
			return true
		}
	}
	return false
}

func (f *slotFollower) moveTo(seat spring.Seat) error {
	f.problem.solve = f.solveAt(seat)
	switch {
	case !f.plays():
		if f.followQuickly(seat) == nil {
			return nil
		}
		_, err := f.tied()
		return err
	case !f.seated:
		return f.first(seat)
	}
	if err := f.rest(seat); err == nil || usedUp(err) {
		return err
	}
	last, lay := f.solver.Configuration(), f.contacts
	err := f.carry(seat, false)
	if err == nil {
		return nil
	}
	if f.unloaded == nil { // by energy, where contacts tried one after the other lead nowhere
		f.solver.Restore(last)
		f.contacts = lay
		if f.restInSlots(seat) == nil {
			return nil
		}
	}
	// What cannot be followed there may still lie there, once put in anew.
	if f.unloaded != nil && !f.exhausted() {
		f.solver.Restore(*f.unloaded)
		f.solver.SetSmallestStep(trialStep)
		if f.restAnew(seat) == nil {
			return nil
		}
	}
	f.solver.Restore(last)
	f.contacts = lay
	if err = f.carry(seat, true); err != nil && f.unloaded != nil && !f.exhausted() {
		f.solver.Restore(*f.unloaded)
		f.solver.SetSmallestStep(0)
		if f.first(seat) == nil {
			return nil
		}
		f.solver.Restore(last)
	}
	return err
}

// carry takes the wire from its last seat to another and looks for its contacts on the way; in the
// end by trying all of them, if it is to be thorough.
func (f *slotFollower) carry(seat spring.Seat, thorough bool) error {
	f.solver.SetSmallestStep(trialStep)
	reached, share := 0.0, 1.0
	for reached < 1 {
		next := min(1, reached+share)
		on := f.seat.Towards(seat, next)
		before := f.solver.Configuration()
		f.problem.solve = f.solveAt(on)
		found, ok, solveErr := f.problem.settle(f.contacts)
		if !ok {
			f.solver.Restore(before)
			if share /= 2; share >= smallestPlayStep {
				continue
			}
			if found, ok = f.letGo(on); !ok {
				f.solver.Restore(before)
				switch {
				case !f.plays():
					return solveErr // there is but one state to try
				case !thorough:
					return ErrNoContact
				}
				var err error
				if found, err = f.enumerate(f.contacts); err != nil {
					return err
				}
			}
		}
		f.contacts, reached, share = found, next, 2*share
	}
	return nil
}

// tied solves with all angles held at zero. A wire that cannot be brought to its seat sliding
// on the way, because it would snap or slide in up to a bend, is brought there cinched and then
// let slide.
func (f *slotFollower) tied() (couple angles, err error) {
	before := f.solver.Configuration()
	_, couple, err = f.problem.solve(contacts{})
	if err == nil || f.unloaded == nil || !f.slides(spring.SlideAnchor) && !f.slides(spring.SlideActive) || f.spring.HookSlides() {
		return couple, err
	}
	f.cinched = true
	_, _, cinchedErr := f.problem.solve(contacts{})
	f.cinched = false
	if cinchedErr == nil {
		if _, let, letErr := f.problem.solve(contacts{}); letErr == nil {
			return let, nil
		}
	}
	f.solver.Restore(before)
	return couple, err
}

// first takes the unloaded wire into its first seat.
func (f *slotFollower) first(seat spring.Seat) error {
	f.solver.SetSmallestStep(trialStep)
	quick := f.restAnew(seat)
	if quick == nil || usedUp(quick) {
		return quick
	}
	f.solver.SetSmallestStep(0)
	err := f.letIn(seat)
	if err != nil && errors.Is(quick, beam.ErrNoStraight) {
		return quick // which tells more than that no contacts were found
	}
	return err
}

// letIn takes the unloaded wire into its first seat tied, and then lets it go. What ties would make
// snap, or a tied wire could not be bent to, may still be at rest in slots with play: then
// the wire is let lie in them from where it is unloaded.
func (f *slotFollower) letIn(seat spring.Seat) error {
	unloaded := f.solver.Configuration()
	loose := f.problem.startFrom(angles{}) // free wherever there is play
	couple, err := f.tied()
	f.solver.SetSmallestStep(trialStep)
	if err == nil {
		tied := f.solver.Configuration()
		f.contacts = contacts{}
		if f.rest(seat) == nil {
			return nil
		}
		var ok bool
		if f.contacts, ok, _ = f.problem.settle(f.problem.startFrom(couple)); ok {
			return nil
		}
		f.solver.Restore(tied)
		if f.contacts, ok = f.letGo(seat); ok {
			return nil
		}
		if f.unloaded == nil {
			f.solver.Restore(tied)
			f.contacts = contacts{}
			if f.restInSlots(seat) == nil {
				return nil
			}
		}
		f.solver.Restore(unloaded)
	}
	found, ok, freeErr := f.problem.settle(loose)
	if ok && freeErr == nil {
		f.contacts = found
		return nil
	}
	if errors.Is(err, beam.ErrNoStraight) {
		return err // it would not slide back on the way
	}
	f.solver.Restore(unloaded)
	f.contacts, f.seat = loose, passiveSeat(f.spring)
	if carryErr := f.carry(seat, true); err == nil {
		err = carryErr
	} else if carryErr == nil {
		return nil
	}
	return err
}

// enumerate tries all contacts, each from the present state: a wire that nothing but the
// walls keeps from rolling stays where the last try has left it.
func (f *slotFollower) enumerate(c contacts) (contacts, error) {
	start, solve := f.solver.Configuration(), f.problem.solve
	f.problem.solve = func(c contacts) (angle, couple angles, err error) {
		f.solver.Restore(start)
		return solve(c)
	}
	return f.problem.enumerate(c)
}

// solveAt returns the solver of the wire at a seat with given contacts. After a failure it
// is back where it was.
func (f *slotFollower) solveAt(seat spring.Seat) func(contacts) (angle, couple angles, err error) {
	return func(c contacts) (angle, couple angles, err error) {
		var free [2 * perSlot]bool
		var turn angles
		for i := range c {
			free[i], turn[i] = f.held(c, i)
		}
		return f.hold(seat, free, turn)
	}
}

// hold solves the wire at a seat with each of the angles free or held as given. After a
// failure it is back where it was.
func (f *slotFollower) hold(seat spring.Seat, free [2 * perSlot]bool, turn angles) (angle, couple angles, err error) {
	s := f.spring
	anchor, active := f.anchor, f.active
	for k, slot := range [...]*beam.Slot{&anchor, &active} {
		free, turn := free[k*perSlot:], turn[k*perSlot:]
		slot.FreeTurn, slot.FreeEdge = [3]bool(free[:3]), [2]bool(free[3:5])
		slot.TurnRad, slot.EdgeRad = r3.Vec{X: turn[0], Y: turn[1], Z: turn[2]}, [2]float64(turn[3:5])
	}
	f.let(&anchor, &active)
	if f.exhausted() {
		return angle, couple, ErrTooMuchWork
	}
	before := f.solver.Configuration()
	if err := f.solver.FollowSlots(seat.Pose(s.Heading), anchor, active); err != nil {
		f.solver.Restore(before)
		return angle, couple, err
	}
	angle, couple = loadsIn(f.solver)
	return angle, couple, nil
}

// held tells whether angle i is free, or at which angle it is held.
func (f *slotFollower) held(c contacts, i int) (free bool, angleRad float64) {
	switch c[i] {
	case spring.Free:
		return true, 0
	case spring.PlusWall:
		return false, f.problem.play[i]
	case spring.MinusWall:
		return false, -f.problem.play[i]
	default:
		return false, 0
	}
}

// solverOptions are those of an evaluation.
func solverOptions(s spring.Spring) beam.Options {
	o := beam.Options{StepMM: sampleMM, StepRad: sampleRad}
	if !s.Plain() {
		o.Tolerance = playTolerance
	}
	return o
}
