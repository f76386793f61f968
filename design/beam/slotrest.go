package beam

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// A wire in slots with play comes to rest where its energy is least within the walls. What is
// solved at once is the wire, its load, where it lies in its slots and which walls it touches: a
// step of Newton's method on the wire gives, with the load and what slides eliminated, the
// slope g and the stiffness K of the energy in the coordinates of the slots, and the step in
// those is the one that goes down ½ dᵀK d + gᵀd as far as the walls let it (Josephy–Newton
// method for variational inequalities; Facchinei and Pang, Finite-Dimensional Variational
// Inequalities and Complementarity Problems, 2003, section 7.3). Where contacts stay what they
// are this is Newton's method with those contacts.

// Touch is where a wire lies along one coordinate of a slot.
type Touch int8

const (
	NoRoom  Touch = iota // it cannot move there
	Between              // between the walls: no load
	AtPlus               // on the wall that stops positive coordinates
	AtMinus              // on the other
)

// Touches are those of a slot's coordinates.
type Touches [5]Touch

const (
	restMaximum = 40 // steps for one seat: where walls change, one or two more each
	// restRough is the step from which on a wire is not left to RoughTangent: what has not come to rest by
	// then is as good as neutral to that, and goes to and fro as it errs. Of 20 000 seats in a search
	// a hundredth need as many steps.
	restRough = 8
	// longestRestRad is the longest step of a coordinate that has more room, rad: K is good for
	// a small part of a radian. Others may have to go farther to come along with their slot.
	longestRestRad = 0.1
	// smallestRest is the smallest share of a way between two seats that is tried (choice: what
	// needs less is left to slower ways).
	smallestRest = 1.0 / 256
	// smallestRemembered is that of a wire that remembers, which is moved in short ways anyway (choice).
	smallestRemembered = 1.0 / 4
	// liftedRest is the share with which a wire drawn tight is tried next.
	liftedRest = 1.0 / 8
	// betweenTolerance is enough for a state from which the next is looked for.
	betweenTolerance = 1e-5
	// settledRad is a step of a coordinate that is no more than the rest of Newton's method.
	settledRad = 1e-5
	// restKeeps is how much of a step may be left by the next one with the same tangent.
	restKeeps = 0.3
)

// RestInSlots moves the far slot to a seat and lets the wire come to rest in slots in which it
// may go as far as room tells, one way, along each coordinate: 0 is tied, +Inf free. It starts
// from the present state, with which FollowSlots or RestInSlots has to have ended, and from
// the contacts in touch, which it brings up to date. What is free or held in base and end
// does not matter. On failure the solver is back where it was. A wire that remembers answers from what it last
// kept, and is not judged: the tangent that it has is too rough.
func (s *Solver) RestInSlots(seat Pose, base, end Slot, room *[2]SlotCoordinates, touch *[2]Touches) error {
	if !s.inSlots.seated {
		return ErrNoConvergence
	}
	before, touched := s.Configuration(), *touch
	err := s.comeToRest(seat, base, end, room, touch)
	if !errors.Is(err, ErrNoStraight) || s.points != nil {
		return err
	}
	// Tell how much is missing, or that nothing is missing at the seat itself.
	s.overdrawn = true
	overdrawn := s.comeToRest(seat, base, end, room, touch)
	if baseMM, endMM := s.straightsLeft(base, end); overdrawn == nil && min(baseMM, endMM) > 0 {
		s.overdrawn = false
		if s.stableAtRest() == nil {
			return nil
		}
	}
	s.inSlots.base, s.inSlots.end = base, end
	err = s.straightError(before, overdrawn == nil)
	*touch = touched
	return err
}

// comeToRest is RestInSlots without telling what a straight lacks.
func (s *Solver) comeToRest(seat Pose, base, end Slot, room *[2]SlotCoordinates, touch *[2]Touches) error {
	seat.At = r3.Sub(seat.At, s.base.At)
	before, touched := s.Configuration(), *touch
	from := s.inSlots.seat
	turn := RotationBetween(from, seat)
	// What begins to slide is let go little by little.
	loads := [2]float64{r3.Dot(s.start.D1, s.force), r3.Dot(s.end().D1, s.force)}
	if end.Glides {
		loads[1] = r3.Dot(from.D1, s.force)
	}
	// So is what was tied and bends inside now: its loads may be many times those at rest.
	gives := [2]SlotCoordinates{s.inSlots.base.Give, s.inSlots.end.Give}
	smallest := max(s.options.SmallestStep, smallestRest)
	if s.points != nil {
		smallest = smallestRemembered
	}
	reached, share := 0.0, 1.0
	for reached < 1 {
		next := min(1, reached+share)
		to := seat
		if next < 1 {
			to = from.Turned(r3.Scale(next, turn))
			to.At = mix(from.Along(end.LeverMM).At, seat.Along(end.LeverMM).At, next)
			to = to.Along(-end.LeverMM)
		}
		here, contacts := s.Configuration(), *touch
		a, b := base, end
		a.ForceN, b.ForceN = loads[0]+next*(base.ForceN-loads[0]), loads[1]+next*(end.ForceN-loads[1])
		a.Give, b.Give = mixCoordinates(gives[0], base.Give, next), mixCoordinates(gives[1], end.Give, next)
		if err := s.rest(to, a, b, room, touch); err != nil {
			s.Restore(here)
			*touch = contacts
			if share /= 2; share < smallest && s.lift() {
				share = liftedRest
			}
			if share < smallest {
				s.Restore(before)
				*touch = touched
				return err
			}
			continue
		}
		reached, share = next, 2*share
	}
	s.lower()
	return nil
}

// FollowTied moves the far end to a hold with the wire tied in the slot at its base, as Follow
// does, so that RestInSlots can go on from there with the seat of that hold: that looks at the
// stability.
func (s *Solver) FollowTied(hold Hold, base, end Slot) error {
	s.inSlots.base, s.inSlots.end = Slot{LeverMM: base.LeverMM}, Slot{LeverMM: end.LeverMM}
	s.inSlots.baseTurn, s.inSlots.baseShift = r3.Vec{}, r3.Vec{}
	s.turnBase()
	trusted, tolerance := s.trusted, s.options.Tolerance
	s.trusted, s.options.Tolerance = true, max(tolerance, betweenTolerance)
	err := s.Follow(hold)
	s.trusted, s.options.Tolerance = trusted, tolerance
	if err != nil {
		return err
	}
	seat := hold.Pose
	seat.At = r3.Sub(seat.At, s.base.At)
	s.inSlots.seat, s.inSlots.seated = seat, true
	return nil
}

// rest is RestInSlots at one seat.
func (s *Solver) rest(seat Pose, base, end Slot, room *[2]SlotCoordinates, touch *[2]Touches) error {
	n := &s.resting
	n.begin(s, seat, base, end, room, touch)
	if s.lifted.on {
		return s.restLifted(n, touch)
	}
	fresh, limited := false, false
	previous := math.Inf(1)
	for i := range restMaximum {
		n.look(s)
		if i > 0 && !limited && n.worst(s) <= s.options.Tolerance && n.atRest(s) && (s.trusted || n.settled(s)) {
			*touch = n.touch
			n.hold(s)
			return s.stableAtRest()
		}
		if !fresh {
			s.stale = s.stale || i > 0
			if !n.tangent(s) {
				return ErrUnstable
			}
			fresh = true
		}
		n.reduce(s)
		changed := n.quadratic.solve()
		if (n.quadratic.least < doubtfulStiffness && !s.options.RoughTangent || i >= restRough) && n.exactly(s) {
			n.reduce(s)
			changed = n.quadratic.solve()
		}
		limited = n.quadratic.limited
		size := n.step(s)
		if (i == 0 || changed) && !(s.largestSlotTurn(&n.system, &n.delta) <= longestTurn) || math.IsNaN(size) || math.IsInf(size, 0) {
			return ErrNoConvergence
		}
		if !changed && !limited && !n.old && !(size <= newtonContraction*previous) { // also catches NaN
			if n.exactly(s) {
				continue
			}
			return ErrNoConvergence
		}
		n.old = !limited && !changed && size <= restKeeps*previous
		fresh = n.old
		previous = size
		if changed || limited {
			previous = math.Inf(1)
		}
		if !s.applySlotStep(&n.system, &n.delta) {
			return ErrNoStraight
		}
		s.turnBase()
		s.shoot()
		if s.broken() { // of a wire that remembers
			return ErrNoConvergence
		}
	}
	return ErrNoConvergence
}

// restLifted is rest with the nodes as unknowns.
func (s *Solver) restLifted(n *resting, touch *[2]Touches) error {
	limited, previous := false, math.Inf(1)
	for i := range restMaximum {
		n.look(s)
		miss := n.worst(s)
		rests := n.atRest(s)
		if !n.linearise(s) { // and with it the gaps
			return ErrUnstable
		}
		n.reduce(s)
		changed := n.quadratic.solve()
		if i > 0 && !limited && !changed && rests && max(miss, s.lifted.residue) <= s.options.Tolerance {
			*touch = n.touch
			n.hold(s)
			s.updateTangent()
			return s.stableAtRest()
		}
		limited = n.quadratic.limited
		size := n.step(s)
		if math.IsNaN(size) || math.IsInf(size, 0) || !changed && !limited && !(size <= newtonContraction*previous) {
			return ErrNoConvergence
		}
		previous = size
		if changed || limited {
			previous = math.Inf(1)
		}
		turn, ok := s.applyLiftedStep(&n.system, &n.delta)
		if !ok {
			return ErrNoStraight
		}
		if (i == 0 || changed) && !(turn <= longestTurn) {
			return ErrNoConvergence
		}
		s.turnBase()
		s.nodes[0] = s.start
	}
	return ErrNoConvergence
}

// stableAtRest judges a wire at rest: held as it lies it has to be stable, and what is free has
// been found to have no negative stiffness.
func (s *Solver) stableAtRest() error {
	if s.overdrawn || s.points != nil {
		return nil // a straight of negative length has negative stiffness; see reachSlotsWithMemory
	}
	s.stale = s.stale || s.trusted && !s.lifted.on // settled has brought it up to date
	if s.trusted || s.surelyStable() || s.positiveSecondVariation() {
		return nil
	}
	return ErrUnstable
}
