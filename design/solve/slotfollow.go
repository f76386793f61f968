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
	spring   spring.Spring
	solver   *beam.Solver
	problem  gapProblem
	contacts contacts
	seated   bool
	hooked   bool        // hookMM is known
	hookMM   float64     // how far a hook that slides lies along its seat's axis
	seat     spring.Seat // the last one
	limit    int         // of the solver's crossings
	// unloaded is the wire before its first seat; nil for one that remembers its way.
	unloaded *beam.Configuration
	cinched  bool // nothing slides for now
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
	return &slotFollower{spring: s, solver: solver, problem: gapProblem{play: angles{
		anchor.ThirdOrder, anchor.SecondOrder, anchor.FirstOrder,
		active.ThirdOrder, active.SecondOrder, active.FirstOrder,
	}}}, nil
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
	f.seat, f.seated = seat, true
	return f.state(), nil
}

// state is how the wire lies in its slots.
func (f *slotFollower) state() *spring.PlayState {
	anchorMM, activeMM := f.solver.SlidMM()
	return &spring.PlayState{
		Anchor: f.contacts.state(0, f.solver.BaseTurn()),
		Active: f.contacts.state(1, f.solver.EndTurn()),
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
		_, err := f.tied()
		return err
	case !f.seated:
		return f.first(seat)
	}
	last := f.solver.Configuration()
	err := f.carry(seat)
	if err != nil && f.unloaded != nil && !f.exhausted() {
		// What cannot be followed there may still lie there, once put in anew.
		f.solver.Restore(*f.unloaded)
		f.solver.SetSmallestStep(0)
		if f.first(seat) == nil {
			return nil
		}
		f.solver.Restore(last)
	}
	return err
}

// carry takes the wire from its last seat to another and looks for its contacts on the way.
func (f *slotFollower) carry(seat spring.Seat) error {
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
				if !f.plays() {
					return solveErr // there is but one state to try
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
	if err == nil || f.unloaded == nil || f.spring.Slide == spring.NoSlide || f.spring.HookSlides() {
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

// first takes the unloaded wire into its first seat: tied, then let go. What ties would make
// snap, or a tied wire could not be bent to, may still be at rest in slots with play: then
// the wire is let lie in them from where it is unloaded.
func (f *slotFollower) first(seat spring.Seat) error {
	unloaded := f.solver.Configuration()
	loose := f.problem.startFrom(angles{}) // free wherever there is play
	couple, err := f.tied()
	f.solver.SetSmallestStep(trialStep)
	if err == nil {
		tied := f.solver.Configuration()
		var ok bool
		if f.contacts, ok, _ = f.problem.settle(f.problem.startFrom(couple)); ok {
			return nil
		}
		f.solver.Restore(tied)
		if f.contacts, ok = f.letGo(seat); ok {
			return nil
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
	if carryErr := f.carry(seat); err == nil {
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
		var free [6]bool
		var turn angles
		for i := range c {
			free[i], turn[i] = f.held(c, i)
		}
		return f.hold(seat, free, turn)
	}
}

// hold solves the wire at a seat with each of the angles free or held as given. After a
// failure it is back where it was.
func (f *slotFollower) hold(seat spring.Seat, free [6]bool, turn angles) (angle, couple angles, err error) {
	s := f.spring
	anchor := beam.Slot{
		LeverMM:  s.AnchorSlotLengthMM / 2,
		FreeTurn: [3]bool(free[:3]),
		TurnRad:  r3.Vec{X: turn[0], Y: turn[1], Z: turn[2]},
		Slides:   s.Slide == spring.SlideAnchor && !f.cinched,
	}
	active := beam.Slot{
		LeverMM:  s.ActiveSlotLengthMM / 2,
		FreeTurn: [3]bool(free[3:]),
		TurnRad:  r3.Vec{X: turn[3], Y: turn[4], Z: turn[5]},
		Slides:   s.Slide == spring.SlideActive && !f.cinched,
	}
	if f.exhausted() {
		return angle, couple, ErrTooMuchWork
	}
	before := f.solver.Configuration()
	if err := f.followSlots(seat.Pose(s.Heading), anchor, active); err != nil {
		f.solver.Restore(before)
		return angle, couple, err
	}
	anchorCouple, activeCouple := f.solver.SlotCouples()
	return anglesOf(f.solver.BaseTurn(), f.solver.EndTurn()), anglesOf(anchorCouple, activeCouple), nil
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
