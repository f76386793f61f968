package beam

import "gonum.org/v1/gonum/spatial/r3"

// slotStiffness is the stiffness of the wire against its extra unknowns, in their order.
type slotStiffness [mostUnknowns - 6][mostUnknowns - 6]float64

// stiffness eliminates the load from the system. It reports false where the wire clamped at
// both ends is at a limit of stability.
func (s *Solver) stiffness(m *slotSystem) (stiffness slotStiffness, ok bool) {
	// Clamped, an inextensible wire has no stiffness to start from: soften it a little.
	const softer = 1e-6
	var clamped mat6
	for i := range 6 {
		copy(clamped[i][:], m.matrix[i][:6])
	}
	for i, axis := range []r3.Vec{s.inSlots.seat.D1, s.inSlots.seat.D2, s.inSlots.seat.D3} {
		clamped[i][0] += softer * axis.X
		clamped[i][1] += softer * axis.Y
		clamped[i][2] += softer * axis.Z
	}
	f := factor(&clamped)
	if f.singular {
		return stiffness, false
	}
	for j := range m.extras {
		var column vec6
		for i := range 6 {
			column[i] = m.matrix[i][6+j]
		}
		load := f.solve(&column)
		for i := range m.extras {
			sum := m.matrix[6+i][6+j]
			for l := range 6 {
				sum -= m.matrix[6+i][l] * load[l]
			}
			// The internal load is that on the wire at its far end and the opposite at its
			// base; wire let out of a slot takes tension away.
			if k := m.extras[i].kind; k != endTurns && k != endGlides {
				sum = -sum
			}
			stiffness[i][j] = sum
		}
	}
	return stiffness, true
}

// stableInSlots returns ErrUnstable unless the equilibrium is a minimum of the energy: the
// wire clamped at both ends resists every change of its shape, and its stiffness against
// what the slots leave free is nowhere negative. A stiffness of zero is neutral and passes.
func (s *Solver) stableInSlots(m *slotSystem) error {
	if s.overdrawn {
		return nil // a straight of negative length has negative stiffness
	}
	if !s.surelyStable() && !s.positiveSecondVariation() {
		return ErrUnstable
	}
	stiffness, ok := s.stiffness(m)
	if !ok {
		return ErrUnstable
	}
	const tolerance = 1e-6
	for p := range m.extras {
		pivot := stiffness[p][p]
		if pivot < -tolerance {
			return ErrUnstable
		}
		if pivot > tolerance {
			stiffness.eliminate(p, len(m.extras))
		}
	}
	return nil
}

// eliminate takes the p-th of n unknowns out of those behind it.
func (k *slotStiffness) eliminate(p, n int) {
	for i := p + 1; i < n; i++ {
		for j := p + 1; j < n; j++ {
			k[i][j] -= k[i][p] * k[p][j] / k[p][p]
		}
	}
}

// SlotStiffness is how the loads of InSlots grow with the coordinates of the wire in its slots,
// N·mm per rad, those at the base first, with what slides free to do so; to about 1e-4. Shifts
// in slots without edges have none. It reports false at a limit of stability, and where the wire would snap
// against what gives.
func (s *Solver) SlotStiffness() (stiffness [10][10]float64, ok bool) {
	s.freshTangent()
	held := s.inSlots
	for _, slot := range [...]*Slot{&s.inSlots.base, &s.inSlots.end} {
		slot.FreeTurn, slot.FreeEdge = [3]bool{true, true, true}, [2]bool{true, true}
	}
	t := s.presentTarget()
	m := s.slotSystem(&t)
	k, ok := s.stiffness(m)
	s.inSlots = held
	if !ok {
		return stiffness, false
	}
	// What slides comes last in the system: eliminate it backwards.
	turns := 0
	for _, e := range m.extras {
		if e.kind == baseTurns || e.kind == endTurns {
			turns++
		}
	}
	for p := m.n - 7; p >= turns; p-- {
		if k[p][p] <= 0 {
			return stiffness, false
		}
		for i := range p {
			for j := range p {
				k[i][j] -= k[i][p] * k[p][j] / k[p][p]
			}
		}
	}
	scale := s.scales().moment
	at := func(e *extra) int {
		if e.kind == endTurns {
			return len(SlotCoordinates{}) + e.coordinate
		}
		return e.coordinate
	}
	for i := range turns {
		for j := range turns {
			stiffness[at(&m.extras[i])][at(&m.extras[j])] = k[i][j] / scale
		}
	}
	for slot, held := range [...]*Slot{&held.base, &held.end} {
		for i, give := range held.Give {
			if !behind(&stiffness, len(stiffness), slot*len(held.Give)+i, give) {
				return stiffness, false
			}
		}
	}
	return stiffness, true
}
