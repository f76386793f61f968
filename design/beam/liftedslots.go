package beam

import "math"

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
	s.slotRows(m, t, v)
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
		s.slotColumn(m, j, v, &load)
	}
}

// withGaps is the system with what the gaps add to the residual.
func (m *slotSystem) withGaps(s *Solver, t *slotTarget) *slotSystem {
	v := s.viewSlots(&t.seat)
	last := &s.lifted.nodes[len(s.steps)]
	gaps := *m
	gaps.moves[0] = last.offset
	load := s.loadUnder(&vec6{}, &last.offset)
	s.slotColumn(&gaps, 0, &v, &load)
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
	// Motion of the end by wire let out of its slot, and of the start: back by as much as the
	// sweep has moved it on.
	var atEnd, atStart vec6
	rest := *delta
	for j := range m.n {
		by := -delta[j] * m.unit[j]
		switch {
		case j < 6:
			dead[j] = by
			rest[j] = 0
		case m.extras[j-6].kind == baseTurns || m.extras[j-6].kind == baseSlides:
			starts = append(starts, -delta[j])
			if m.extras[j-6].kind == baseSlides {
				for k := range atStart {
					atStart[k] += delta[j] * m.origin[j][k]
				}
			}
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
	// Nodes in a straight that has become longer move by their share of it.
	s.moveShares(&atStart, s.straightAt(true), true)
	s.moveShares(&atEnd, s.straightAt(false), false)
	return turn, true
}

// moveShares moves the nodes from the base, or towards the end, by that share of a motion
// which of a straight lies on the side of the slot.
func (s *Solver) moveShares(motion *vec6, straight []step, atBase bool) {
	if *motion == (vec6{}) {
		return
	}
	wholeMM, leftMM := lengthOf(straight), lengthOf(straight)
	for k := range s.nodes {
		i := k
		if !atBase {
			i = len(s.nodes) - 1 - k
		}
		part := *motion
		for j := range part {
			part[j] *= leftMM / wholeMM
		}
		s.nodes[i] = s.nodes[i].movedBy(&part)
		if k == len(s.steps) {
			return
		}
		next := i
		if !atBase {
			next = i - 1
		}
		if leftMM -= s.steps[next].lengthMM; math.Abs(leftMM) <= 1e-9*math.Abs(wholeMM) { // rounding
			return
		}
	}
}
