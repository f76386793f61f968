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

// BendInside lets the wire bend between the edges of the slot, as a beam on two supports 2a apart
// with the moment M of the wire outside at the edge where that begins and none at the other: there its
// section is turned against the line between the edges by
//
//	M 2a/(3EI) + M/(2a GA)
//
// (Timoshenko, Strength of Materials, part I, 3rd ed. 1955, sections 39 and 40). Gone on straight from
// there it passes the other edge, whose load is M/(2a), 2a times that beyond it. Told by the coordinate of
// that edge, whose share of the way is that by a and whose load is M/2, it is for a unit of load
//
//	8a/(3EI) + 2/(a GA).
//
// a is the lever; far tells that it is the slot at the wire's far end. Coordinates without edges give
// nothing.
func (s *Slot) BendInside(far bool, section Section) {
	height, depth := 1, 4 // of the edge behind the centre: at the base the wire goes on to +x
	if far {
		height, depth = 3, 2
	}
	s.Give = SlotCoordinates{}
	give := func(ei, ga float64) float64 { return 8*s.LeverMM/(3*ei) + 2/(s.LeverMM*ga) }
	if s.HeightArmMM > 0 {
		s.Give[height] = give(section.EI2, section.GA3)
	}
	if s.DepthArmMM > 0 {
		s.Give[depth] = give(section.EI3, section.GA2)
	}
}

// solved tells whether a coordinate is an unknown: free, or held by what gives.
func (s *Slot) solved(i int) bool { return s.free(i) || s.Give[i] > 0 }

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

// InSlots is how the wire lies in its slots, where it bends inside by the line between the edges, and
// the loads of the slots on the wire that go with it, N·mm (N where a coordinate is a shift), after
// FollowSlots.
func (s *Solver) InSlots() (base, end, baseLoad, endLoad SlotCoordinates) {
	t := s.presentTarget()
	for i := range t.baseLoad {
		t.baseLoad[i] = -t.baseLoad[i]
	}
	return t.base, t.end, t.baseLoad, t.endLoad
}

// PlacesInSlots are how the wire is turned and shifted in its slots, as InSlots has it, on the slots'
// axes: rad and mm.
func (s *Solver) PlacesInSlots() (baseTurn, baseShift, endTurn, endShift r3.Vec) {
	base, end, _, _ := s.InSlots()
	baseTurn, baseShift = s.inSlots.base.place(base)
	endTurn, endShift = s.inSlots.end.place(end)
	return baseTurn, baseShift, endTurn, endShift
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
