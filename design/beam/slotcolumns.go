package beam

import "gonum.org/v1/gonum/spatial/r3"

// slotMatrix fills in the system's matrix, the nodes no unknowns.
func (s *Solver) slotMatrix(m *slotSystem, t *slotTarget, v *slotView) {
	scale := s.scales()
	psi := &s.flexibility[len(s.steps)]
	m.origin = [mostUnknowns]vec6{}
	s.slotRows(m, t, v)
	for j := range m.n {
		switch {
		case j < 3:
			m.unit[j] = 1 / scale.force
		case j < 6:
			m.unit[j] = 1 / scale.moment
		default:
			m.moves[j] = vec6{}
			s.moveByExtra(m, j, v)
		}
		if j >= 6 {
			s.slotColumn(m, j, v, nil)
			continue
		}
		for k := range psi {
			m.moves[j][k] = psi[k][j] * m.unit[j]
		}
		load := vec6{}
		load[j] = m.unit[j]
		s.slotColumn(m, j, v, &load)
	}
}

// moveByExtra fills in what a unit of an extra unknown moves, the load fixed in space: a
// start moved by η0 moves the end by η0 + Ψ A η0, A as in linearise.
func (s *Solver) moveByExtra(m *slotSystem, j int, v *slotView) {
	m.unit[j] = 1
	origin := &m.origin[j]
	switch e := m.extras[j-6]; e.kind {
	case endTurns:
		return
	case endGlides:
		m.unit[j] = s.lengthMM
		return
	case endSlides:
		m.unit[j] = s.lengthMM
		m.moves[j] = v.end.motion(s.straightStrain(&v.end, true).scaled(s.lengthMM))
		return
	case baseSlides:
		m.unit[j] = s.lengthMM
		*origin = s.start.motion(s.straightStrain(&s.start, false).scaled(s.lengthMM))
	case baseTurns:
		turn := s.base.ToGlobal(v.baseAxes.turned(e.turn))
		shift := r3.Add(r3.Cross(v.baseCentre, turn), s.base.ToGlobal(e.shift))
		*origin = vec6{turn.X, turn.Y, turn.Z, shift.X, shift.Y, shift.Z}
	}
	var felt vec6
	s.addFelt(&felt, origin)
	m.moves[j] = s.flexibility[len(s.steps)].mul(&felt)
	for k := range origin {
		m.moves[j][k] += origin[k]
	}
}

// straightStrain is the strain of the straight at the wire's start or end.
func (s *Solver) straightStrain(p *Pose, atEnd bool) twist {
	if s.points != nil {
		e := s.straightStretch(atEnd)
		return twist{r3.Vec{X: e[1], Y: e[2], Z: e[3]}, r3.Vec{X: 1 + e[0]}}
	}
	force, moment := s.localLoad(p)
	strain := twist{times(s.flex.bend, moment), times(s.flex.stretch, force)}
	strain.lin.X++
	return strain
}

// slotRows fills in how the residual changes with a motion of the wire's end and a change of the
// load, which are the same for every unknown.
func (s *Solver) slotRows(m *slotSystem, t *slotTarget, v *slotView) {
	scale := s.scales()
	put := func(row int, byTurn, byShift, byForce, byMoment r3.Vec, scale float64) {
		m.byMotion[row] = vec6{scale * byTurn.X, scale * byTurn.Y, scale * byTurn.Z, scale * byShift.X, scale * byShift.Y, scale * byShift.Z}
		m.byLoad[row] = vec6{scale * byForce.X, scale * byForce.Y, scale * byForce.Z, scale * byMoment.X, scale * byMoment.Y, scale * byMoment.Z}
	}
	seatAxes := [3]r3.Vec{t.seat.D1, t.seat.D2, t.seat.D3}
	var angles [3]r3.Vec   // turns of the three angles by a unit of each, on the seat's axes
	var tilts [3][3]r3.Vec // of the axes by a unit of turn, the axis first
	for k, unit := range [...]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
		angles[k] = v.endAxes.byTurn(unit)
		tilt := v.endAxes.slope(unit)
		for i := range tilt {
			tilts[i][k] = tilt[i]
		}
	}
	for i, axis := range seatAxes {
		put(i, r3.Cross(v.endCentre, axis), axis, r3.Vec{}, r3.Vec{}, scale.place)
		local := r3.Vec{X: component(angles[0], i), Y: component(angles[1], i), Z: component(angles[2], i)}
		put(3+i, t.seat.ToGlobal(local), r3.Vec{}, r3.Vec{}, r3.Vec{}, 1)
	}
	for k := range m.extras {
		e, row := &m.extras[k], 6+k
		switch e.kind {
		case baseTurns:
			about := s.base.ToGlobal(v.baseAxes.turned(e.turn))
			byForce := s.base.ToGlobal(e.shift)
			subCross(&byForce, &about, &v.baseCentre)
			put(row, r3.Vec{}, r3.Vec{}, byForce, about, scale.moment)
		case endTurns:
			about := t.seat.ToGlobal(v.endAxes.turned(e.turn))
			byForce := t.seat.ToGlobal(e.shift)
			subCross(&byForce, &about, &v.endCentre)
			lever := r3.Cross(about, s.force)
			tilt := r3.Vec{}
			for i := range 3 {
				share := component(e.turn, i)
				tilt.X += share * r3.Dot(tilts[i][0], v.endMoment)
				tilt.Y += share * r3.Dot(tilts[i][1], v.endMoment)
				tilt.Z += share * r3.Dot(tilts[i][2], v.endMoment)
			}
			put(row, r3.Add(r3.Cross(v.endCentre, lever), t.seat.ToGlobal(tilt)), lever, byForce, about, scale.moment)
		case baseSlides:
			put(row, r3.Vec{}, r3.Vec{}, s.start.D1, r3.Vec{}, scale.force)
		case endSlides:
			put(row, r3.Cross(v.end.D1, s.force), r3.Vec{}, v.end.D1, r3.Vec{}, scale.force)
		case endGlides:
			put(row, r3.Vec{}, r3.Vec{}, t.seat.D1, r3.Vec{}, scale.force)
		}
	}
}

// slotColumn fills in the change of the residual by a unit of unknown j, which changes the
// load (nil: it does not); slotRows has been called.
func (s *Solver) slotColumn(m *slotSystem, j int, v *slotView, load *vec6) {
	scale := s.scales()
	motion := &m.moves[j]
	for i := range m.n {
		a := &m.byMotion[i]
		m.matrix[i][j] = a[0]*motion[0] + a[1]*motion[1] + a[2]*motion[2] + a[3]*motion[3] + a[4]*motion[4] + a[5]*motion[5]
	}
	if load != nil {
		for i := range m.n {
			b := &m.byLoad[i]
			m.matrix[i][j] += b[0]*load[0] + b[1]*load[1] + b[2]*load[2] + b[3]*load[3] + b[4]*load[4] + b[5]*load[5]
		}
	}
	if j < 6 {
		return
	}
	switch e := &m.extras[j-6]; e.kind {
	case endGlides:
		m.matrix[0][j] -= scale.place * m.unit[j]
	case endTurns:
		if i := e.coordinate; !s.inSlots.end.free(i) {
			m.matrix[j][j] += scale.moment / s.inSlots.end.Give[i]
		}
		for i := range 3 {
			m.matrix[i][j] -= scale.place * component(e.shift, i)
			m.matrix[3+i][j] -= component(e.turn, i)
		}
	case baseTurns:
		if i := e.coordinate; !s.inSlots.base.free(i) {
			m.matrix[j][j] -= scale.moment / s.inSlots.base.Give[i]
		}
		turn := v.baseAxes.turned(e.turn)
		tilt := v.baseAxes.slope(turn)
		var couple r3.Vec // on the axes of the angles
		moved := s.base.ToGlobal(e.shift)
		var arm r3.Vec
		subCross(&arm, &moved, &s.force)
		couple = v.baseAxes.onAxes(s.base.ToLocal(arm))
		couple = r3.Add(couple, r3.Vec{X: r3.Dot(tilt[0], v.baseMoment), Y: r3.Dot(tilt[1], v.baseMoment), Z: r3.Dot(tilt[2], v.baseMoment)})
		along := r3.Cross(s.base.ToGlobal(turn), s.start.D1)
		for k := range m.extras {
			switch other := &m.extras[k]; other.kind {
			case baseTurns:
				m.matrix[6+k][j] += scale.moment * r3.Dot(other.turn, couple)
			case baseSlides:
				m.matrix[6+k][j] += scale.force * r3.Dot(along, s.force)
			}
		}
	}
}
