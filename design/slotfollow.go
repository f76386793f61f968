package design

import (
	"fmt"

	"springwright/design/beam"

	"gonum.org/v1/gonum/spatial/r3"
)

// slotFollower carries a wire from seat to seat in slots with play or that it slides
// through.
type slotFollower struct {
	spring   Spring
	solver   *beam.Solver
	problem  gapProblem
	contacts contacts
	seated   bool
	hooked   bool    // hookMM is known
	hookMM   float64 // how far a hook that slides lies along its seat's axis
	seat     Seat    // the last one
}

// playTolerance is the beam solver's tolerance where there is play: far enough below
// angleSlackRad and coupleSlackNMM that they judge the contacts and not the solver.
const playTolerance = 1e-12

// smallestPlayStep is the smallest share of the way between two positions at which the
// contacts are looked for anew.
const smallestPlayStep = 1.0 / 8

// newSlotFollower starts from the wire as it lies in the solver. The error wraps that of
// SlotHold.PlayOf.
func newSlotFollower(s Spring, solver *beam.Solver) (*slotFollower, error) {
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
func (f *slotFollower) follow(seat Seat) (*PlayState, error) {
	if f.spring.Plain() {
		return nil, f.solver.Follow(f.spring.HoldAt(seat))
	}
	if err := f.moveTo(seat); err != nil {
		return nil, err
	}
	f.seat, f.seated = seat, true
	anchorMM, activeMM := f.solver.SlidMM()
	return &PlayState{
		Anchor: f.contacts.state(0, f.solver.BaseTurn()),
		Active: f.contacts.state(1, f.solver.EndTurn()),
		SlidMM: anchorMM + activeMM,
	}, nil
}

// plays tells whether a slot leaves the wire any play.
func (f *slotFollower) plays() bool {
	for _, play := range f.problem.play {
		if play > tightRad {
			return true
		}
	}
	return false
}

func (f *slotFollower) moveTo(seat Seat) error {
	f.problem.solve = f.solveAt(seat)
	switch {
	case !f.plays():
		_, _, err := f.problem.solve(contacts{})
		return err
	case !f.seated:
		return f.first(seat)
	}
	return f.carry(seat)
}

// carry takes the wire from its last seat to another and looks for its contacts on the way.
func (f *slotFollower) carry(seat Seat) error {
	reached, share := 0.0, 1.0
	for reached < 1 {
		next := min(1, reached+share)
		on := f.seat.towards(seat, next)
		before := f.solver.Configuration()
		f.problem.solve = f.solveAt(on)
		found, ok, _ := f.problem.settle(f.contacts)
		if !ok {
			f.solver.Restore(before)
			if share /= 2; share >= smallestPlayStep {
				continue
			}
			if found, ok = f.letGo(on); !ok {
				f.solver.Restore(before)
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

// first takes the unloaded wire into its first seat: tied, then let go.
func (f *slotFollower) first(seat Seat) error {
	f.problem.solve = f.solveAt(seat)
	loose := f.problem.startFrom(angles{}) // free wherever there is play
	_, couple, err := f.problem.solve(contacts{})
	if err != nil {
		// What ties would make snap may still be at rest in slots with play.
		found, ok, freeErr := f.problem.settle(loose)
		if !ok || freeErr != nil {
			return err
		}
		f.contacts = found
		return nil
	}
	tied := f.solver.Configuration()
	var ok bool
	if f.contacts, ok, _ = f.problem.settle(f.problem.startFrom(couple)); ok {
		return nil
	}
	f.solver.Restore(tied)
	if f.contacts, ok = f.letGo(seat); ok {
		return nil
	}
	f.solver.Restore(tied)
	f.contacts, err = f.enumerate(loose)
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
func (f *slotFollower) solveAt(seat Seat) func(contacts) (angle, couple angles, err error) {
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
func (f *slotFollower) hold(seat Seat, free [6]bool, turn angles) (angle, couple angles, err error) {
	s := f.spring
	anchor := beam.Slot{
		LeverMM:  s.AnchorSlotLengthMM / 2,
		FreeTurn: [3]bool(free[:3]),
		TurnRad:  r3.Vec{X: turn[0], Y: turn[1], Z: turn[2]},
		Slides:   s.Slide == SlideAnchor,
	}
	active := beam.Slot{
		LeverMM:  s.ActiveSlotLengthMM / 2,
		FreeTurn: [3]bool(free[3:]),
		TurnRad:  r3.Vec{X: turn[3], Y: turn[4], Z: turn[5]},
		Slides:   s.Slide == SlideActive,
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
	case Free:
		return true, 0
	case PlusWall:
		return false, f.problem.play[i]
	case MinusWall:
		return false, -f.problem.play[i]
	default:
		return false, 0
	}
}

// solverOptions are those of an evaluation.
func (s Spring) solverOptions() beam.Options {
	o := beam.Options{StepMM: sampleMM, StepRad: sampleRad}
	if !s.Plain() {
		o.Tolerance = playTolerance
		o.SmallestStep = 1.0 / 256 // contacts that do not hold should fail soon
	}
	return o
}
