package solve

import (
	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/tooth"
)

// SeatFollower carries the wire of a spring from seat to seat, which need not lie on its
// travel. A wire plays, slides and remembers as Evaluate has it, but for one that yields, which is taken
// as elastic, and a superelastic one, whose slots are taken as tied.
type SeatFollower struct {
	spring spring.Spring
	solver *beam.Solver
	slots  *slotFollower // nil for a wire that is clamped or hooked and elastic
	memory bool
	last   spring.Seat
}

// NewSeatFollower returns the follower of an unloaded wire.
func NewSeatFollower(s spring.Spring) (*SeatFollower, error) {
	memory := s.Wire.IsSuperelastic()
	if memory {
		s = s.Tied()
	}
	f := &SeatFollower{spring: s, memory: memory}
	switch {
	case f.memory:
		held, err := newHistoryWire(s)
		if err != nil {
			return nil, err
		}
		f.solver, f.last = held.solver, passiveSeat(s)
	case s.Plain():
		f.solver = beam.NewSolver(s.Rod(), beam.Origin(), beam.Options{})
		return f, nil
	default:
		f.solver = beam.NewSolver(s.Rod(), beam.Origin(), solverOptions(s))
	}
	var err error
	if f.slots, err = newSlotFollower(s, f.solver); err != nil {
		return nil, err
	}
	if !f.memory {
		unloaded := f.solver.Configuration()
		f.slots.unloaded = &unloaded
	}
	return f, nil
}

// Follow takes the active slot to a pose and returns the loads on both teeth there, as seen from
// the anchor slot. A hook that slides does so along hung, the pose of what it hangs on; for
// others hung is the slot's pose.
func (f *SeatFollower) Follow(slot, hung beam.Pose) (active, anchor tooth.Load, err error) {
	switch {
	case f.slots == nil:
		err = f.solver.Follow(f.spring.HoldAtPose(hung))
	case f.memory:
		to := spring.SeatOf(slot, f.spring.Heading)
		_, err = moveInSteps(f.slots, f.last, to)
		f.last = to
	default:
		_, err = f.slots.follow(spring.SeatOf(hung, f.spring.Heading))
	}
	if err != nil {
		return tooth.Load{}, tooth.Load{}, err
	}
	return f.spring.ActiveLoad(f.solver.EndLoad(), f.solver.End().At, slot), f.spring.AnchorLoad(f.solver.BaseLoad()), nil
}
