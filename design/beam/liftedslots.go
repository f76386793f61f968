package beam

// reachSlotsLifted is reachSlots with the nodes as unknowns.
func (s *Solver) reachSlotsLifted(t *slotTarget) error {
	previous := 0.0
	for i := range newtonMaximum {
		system := s.slotSystem(t)
		if max(system.worst(), s.lifted.residue) <= s.options.Tolerance {
			s.updateTangent()
			return s.stableInSlots(system)
		}
		gaps := system.withGaps(s, t)
		delta, ok := gaps.solve()
		if !ok {
			return ErrUnstable
		}
		size := delta.size()
		if i > 0 && !(size <= newtonContraction*previous) { // also catches NaN
			return ErrNoConvergence
		}
		turn, ok := s.applyLiftedStep(system, &delta)
		if !ok {
			return ErrNoStraight
		}
		if i == 0 && !(turn <= longestTurn) {
			return ErrNoConvergence
		}
		previous = size
		s.turnBase()
		s.nodes[0] = s.start
	}
	return ErrNoConvergence
}

// liftedColumns fills in the system with the dead load on the wire's end, carried along with
// it, in place of the load.
func (s *Solver) liftedColumns(m *slotSystem, t *slotTarget, v *slotView) {
	scale := s.scales()
	var starts []vec6
	for j := 6; j < m.n; j++ {
		s.moveByExtra(m, j, v)
		if k := m.extras[j-6].kind; k == baseTurns || k == baseSlides {
			starts = append(starts, m.origin[j])
		}
	}
	s.sweep(starts)
	last := &s.lifted.nodes[len(s.steps)]
	start := 0
	for j := range m.n {
		var dead, load vec6
		switch {
		case j < 6:
			m.unit[j] = 1 / scale.force
			if j >= 3 {
				m.unit[j] = 1 / scale.moment
			}
			dead[j] = m.unit[j]
			m.moves[j] = last.yields.mul(&dead)
			load = s.loadUnder(&dead, &m.moves[j])
		case m.extras[j-6].kind == baseTurns || m.extras[j-6].kind == baseSlides:
			m.moves[j] = last.starts[start]
			start++
			load = s.loadUnder(&dead, &m.moves[j])
		}
		s.slotColumn(m, j, t, v, &load)
	}
}

// withGaps is the system with what the gaps add to the residual.
func (m *slotSystem) withGaps(s *Solver, t *slotTarget) *slotSystem {
	v := s.viewSlots(&t.seat)
	last := &s.lifted.nodes[len(s.steps)]
	gaps := *m
	gaps.moves[0] = last.offset
	load := s.loadUnder(&vec6{}, &last.offset)
	s.slotColumn(&gaps, 0, t, &v, &load)
	sum := *m
	for i := range m.n {
		sum.residual[i] += gaps.matrix[i][0]
	}
	return &sum
}

// applyLiftedStep subtracts a step. It returns the largest turn of a node, rad, and reports
// false where a straight would be used up.
func (s *Solver) applyLiftedStep(m *slotSystem, delta *slotVector) (turn float64, ok bool) {
	var dead vec6
	var starts []float64
	var atEnd vec6 // motion of the end by wire let out of its slot
	rest := *delta
	for j := range m.n {
		by := -delta[j] * m.unit[j]
		switch {
		case j < 6:
			dead[j] = by
			rest[j] = 0
		case m.extras[j-6].kind == baseTurns || m.extras[j-6].kind == baseSlides:
			starts = append(starts, -delta[j])
		case m.extras[j-6].kind == endSlides:
			for k := range atEnd {
				atEnd[k] -= delta[j] * m.moves[j][k]
			}
		}
	}
	motion := s.lifted.nodes[len(s.steps)].motion(&dead, starts)
	load := s.loadUnder(&dead, &motion)
	if !s.applySlotStep(m, &rest) {
		return 0, false
	}
	turn = s.moveNodes(&load, dead, starts)
	last := len(s.steps)
	s.nodes[last] = s.nodes[last].movedBy(&atEnd)
	return turn, true
}
