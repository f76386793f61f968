package beam

import "gonum.org/v1/gonum/spatial/r3"

// A slot that is higher than its wire leaves it room to shift as well as to turn: the wire lies
// between two edges of each wall, one at each mouth of the slot, and what counts is how near it
// comes to each. So its turn θ and its shift z are told by two coordinates,
//
//	θ + z/a,   θ − z/a,
//
// for edges that lie a from the slot's centre along it: the first is a share of the way at the
// edges on one side of the centre, the second at those on the other. Each has its own walls and
// its own load, and a wall stops one of them alone. Both at the same end of their way is a wire
// tipped until opposite edges stop it, both at opposite ends one that lies along a wall.
//
// Angles are small in a slot: that the line between these four states is straight is off by the
// square of the angle times half the wire's thickness, 2e-4 mm at 40 mrad.

// SlotCoordinates tell how a wire lies in a slot, rad: its roll, in second order and in first
// order, and in second and in first order at the other edges. Without edges the second and
// the third are the angles of TurnInSlot and the last two how far it is shifted, mm. Loads that
// go with them do work on them.
type SlotCoordinates [5]float64

// held is where the slot holds what is not free.
func (s *Slot) held() SlotCoordinates {
	return SlotCoordinates{s.TurnRad.X, s.TurnRad.Y, s.TurnRad.Z, s.EdgeRad[0], s.EdgeRad[1]}
}

// free tells whether the wire may move along a coordinate.
func (s *Slot) free(i int) bool {
	switch i {
	case 3:
		return s.HeightArmMM > 0 && s.FreeEdge[0]
	case 4:
		return s.DepthArmMM > 0 && s.FreeEdge[1]
	default:
		return s.FreeTurn[i]
	}
}

// pair is two coordinates of a turn and a shift, and back again.
func pair(turn, shift, arm float64) (one, other float64) {
	if arm > 0 {
		return turn + shift/arm, turn - shift/arm
	}
	return turn, shift
}

func unpair(one, other, arm float64) (turn, shift float64) {
	if arm > 0 {
		return (one + other) / 2, arm * (one - other) / 2
	}
	return one, other
}

// coordinates of a wire that is turned and shifted in the slot, on the slot's axes.
func (s *Slot) coordinates(turn, shift r3.Vec) (q SlotCoordinates) {
	q[0] = turn.X
	q[1], q[3] = pair(turn.Y, shift.Z, s.HeightArmMM)
	q[2], q[4] = pair(turn.Z, shift.Y, s.DepthArmMM)
	return q
}

// place is the turn and the shift that have the coordinates.
func (s *Slot) place(q SlotCoordinates) (turn, shift r3.Vec) {
	turn.X = q[0]
	turn.Y, shift.Z = unpair(q[1], q[3], s.HeightArmMM)
	turn.Z, shift.Y = unpair(q[2], q[4], s.DepthArmMM)
	return turn, shift
}

// loads are those of a couple, by its parts on the axes of the angles, and a force.
func (s *Slot) loads(couple, force r3.Vec) (l SlotCoordinates) {
	half := func(moment, force, arm float64) (one, other float64) {
		if arm > 0 {
			return (moment + arm*force) / 2, (moment - arm*force) / 2
		}
		return moment, force
	}
	l[0] = couple.X
	l[1], l[3] = half(couple.Y, force.Z, s.HeightArmMM)
	l[2], l[4] = half(couple.Z, force.Y, s.DepthArmMM)
	return l
}

// direction is the turn and the shift by a unit of one coordinate.
func (s *Slot) direction(i int) (turn, shift r3.Vec) {
	var q SlotCoordinates
	q[i] = 1
	return s.place(q)
}

// BaseShift is how far the wire is shifted across the slot at its base, on the slot's axes, mm.
func (s *Solver) BaseShift() r3.Vec { return s.inSlots.baseShift }

// EndShift is how far the wire is shifted in the far slot, after FollowSlots, mm.
func (s *Solver) EndShift() r3.Vec {
	at := r3.Sub(s.end().Along(s.inSlots.end.LeverMM).At, s.inSlots.seat.Along(s.inSlots.end.LeverMM).At)
	return s.inSlots.seat.ToLocal(at)
}

// InSlots is how the wire lies in its slots, and the loads of the slots on the wire that go with
// it, N·mm (N where a coordinate is a shift), after FollowSlots.
func (s *Solver) InSlots() (base, end, baseLoad, endLoad SlotCoordinates) {
	v := s.viewSlots(&s.inSlots.seat)
	base, end = s.inSlots.base.coordinates(s.inSlots.baseTurn, s.inSlots.baseShift), s.inSlots.end.coordinates(v.endTurn, v.endShift)
	baseLoad, endLoad = s.slotLoads(&v)
	for i := range baseLoad {
		baseLoad[i] = -baseLoad[i]
	}
	return base, end, baseLoad, endLoad
}

// slotLoads are the internal loads at the slots that go with the coordinates.
func (s *Solver) slotLoads(v *slotView) (base, end SlotCoordinates) {
	return s.inSlots.base.loads(v.baseAxes.onAxes(v.baseMoment), v.baseForce), s.inSlots.end.loads(v.endAxes.onAxes(v.endMoment), v.endForce)
}

func mixCoordinates(a, b SlotCoordinates, share float64) (out SlotCoordinates) {
	for i := range out {
		out[i] = (1-share)*a[i] + share*b[i]
	}
	return out
}
