package beam

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// slotView is what the conditions in the slots are made of, relative to the base.
type slotView struct {
	end                   Pose
	endTurn               r3.Vec
	baseAxes, endAxes     slotAxes
	baseCentre, endCentre r3.Vec
	// Internal moments about the centres, on the axes of their slots.
	baseMoment, endMoment r3.Vec
}

func (s *Solver) viewSlots(seat *Pose) slotView {
	v := slotView{end: s.end(), baseCentre: s.baseCentre()}
	v.endTurn = TurnInSlot(*seat, v.end)
	v.baseAxes, v.endAxes = slotAxesAt(s.inSlots.baseTurn), slotAxesAt(v.endTurn)
	v.endCentre = v.end.Along(s.inSlots.end.LeverMM).At
	moment := s.moment
	subCross(&moment, &v.baseCentre, &s.force)
	v.baseMoment = s.base.ToLocal(moment)
	moment = s.moment
	subCross(&moment, &v.endCentre, &s.force)
	v.endMoment = seat.ToLocal(moment)
	return v
}

// extraKind is an unknown beside the load, and the condition that comes with it.
type extraKind int

const (
	baseTurns  extraKind = iota // about one axis; no couple about it
	endTurns                    // the same in the far slot
	baseSlides                  // mm let out; no force along the wire
	endSlides
)

type extra struct {
	kind extraKind
	axis int
}

// mostUnknowns are the load, the turns in two slots and the lengths let out of them.
const mostUnknowns = 6 + 3 + 3 + 2

// slotSystem is Newton's linear system, every row and column a pure number. Unknowns are
// the load and the extras; conditions are the place and the turn of the far end, then
// those of the extras.
type slotSystem struct {
	extras   []extra
	n        int
	matrix   [mostUnknowns][mostUnknowns]float64
	residual slotVector
	unit     slotVector         // of each unknown, N, N·mm, rad or mm
	origin   [mostUnknowns]vec6 // motion of the wire's start by a unit of an unknown
	moves    [mostUnknowns]vec6 // motion of its end
	pivot    float64            // the smallest of the last solve
}

type slotVector [mostUnknowns]float64

func (v *slotVector) size() float64 {
	var sum float64
	for _, x := range v {
		sum += x * x
	}
	return math.Sqrt(sum)
}

func (m *slotSystem) worst() float64 {
	var most float64
	for _, x := range m.residual[:m.n] {
		most = max(most, math.Abs(x)) // keeps a NaN
	}
	return most
}

// slotExtras lists the extra unknowns.
func (s *Solver) slotExtras() (extras []extra) {
	for i := range 3 {
		if s.inSlots.base.FreeTurn[i] {
			extras = append(extras, extra{baseTurns, i})
		}
	}
	for i := range 3 {
		if s.inSlots.end.FreeTurn[i] {
			extras = append(extras, extra{endTurns, i})
		}
	}
	if s.inSlots.base.Slides {
		extras = append(extras, extra{kind: baseSlides})
	}
	if s.inSlots.end.Slides {
		extras = append(extras, extra{kind: endSlides})
	}
	return extras
}

// slotSystem sets up Newton's system at the present state.
func (s *Solver) slotSystem(t *slotTarget) *slotSystem {
	v := s.viewSlots(&t.seat)
	m := &slotSystem{extras: s.slotExtras()}
	m.n = 6 + len(m.extras)
	s.slotResidual(m, t, &v)

	scale := s.scales()
	psi := &s.flexibility[len(s.steps)]
	if s.lifted.on {
		s.liftedColumns(m, t, &v)
		return m
	}
	for j := range m.n {
		var load vec6
		switch {
		case j < 3:
			m.unit[j] = 1 / scale.force
			load[j] = m.unit[j]
			m.moves[j] = psi.mul(&load)
		case j < 6:
			m.unit[j] = 1 / scale.moment
			load[j] = m.unit[j]
			m.moves[j] = psi.mul(&load)
		default:
			s.moveByExtra(m, j, &v)
		}
		s.slotColumn(m, j, t, &v, &load)
	}
	return m
}

// slotResidual fills in how far the present state is from its target.
func (s *Solver) slotResidual(m *slotSystem, t *slotTarget, v *slotView) {
	scale := s.scales()
	gap := t.seat.ToLocal(r3.Sub(v.endCentre, t.seat.Along(s.inSlots.end.LeverMM).At))
	off := r3.Sub(v.endTurn, t.endTurn)
	baseCouple, endCouple := v.baseAxes.onAxes(v.baseMoment), v.endAxes.onAxes(v.endMoment)
	for i := range 3 {
		m.residual[i] = scale.place * component(gap, i)
		if !s.inSlots.end.FreeTurn[i] {
			m.residual[3+i] = component(off, i)
		}
	}
	for k, e := range m.extras {
		r := &m.residual[6+k]
		switch e.kind {
		case baseTurns:
			*r = scale.moment * component(r3.Sub(baseCouple, t.baseLoad), e.axis)
		case endTurns:
			*r = scale.moment * component(r3.Sub(endCouple, t.endLoad), e.axis)
		case baseSlides:
			*r = scale.force * (r3.Dot(s.start.D1, s.force) - t.baseForce)
		case endSlides:
			*r = scale.force * (r3.Dot(v.end.D1, s.force) - t.endForceN)
		}
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
	case endSlides:
		m.unit[j] = s.lengthMM
		m.moves[j] = v.end.motion(s.straightStrain(&v.end, true).scaled(s.lengthMM))
		return
	case baseSlides:
		m.unit[j] = s.lengthMM
		*origin = s.start.motion(s.straightStrain(&s.start, false).scaled(s.lengthMM))
	case baseTurns:
		turn := s.base.ToGlobal(v.baseAxes.axis[e.axis])
		shift := r3.Cross(v.baseCentre, turn)
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

// slotColumn fills in the change of the residual by a unit of unknown j, which changes the
// load.
func (s *Solver) slotColumn(m *slotSystem, j int, t *slotTarget, v *slotView, load *vec6) {
	scale := s.scales()
	motion := &m.moves[j]
	turn := r3.Vec{X: motion[0], Y: motion[1], Z: motion[2]}
	force := r3.Vec{X: load[0], Y: load[1], Z: load[2]}
	moment := r3.Vec{X: load[3], Y: load[4], Z: load[5]}
	moved := shiftOf(motion, v.endCentre)
	localTurn := t.seat.ToLocal(turn)

	shift, angles := t.seat.ToLocal(moved), v.endAxes.byTurn(localTurn)
	for i := range 3 {
		m.matrix[i][j] = scale.place * component(shift, i)
		m.matrix[3+i][j] = component(angles, i)
	}
	if j >= 6 && m.extras[j-6].kind == endTurns {
		m.matrix[3+m.extras[j-6].axis][j] = -1
	}

	endMoment := moment
	subCross(&endMoment, &moved, &s.force)
	subCross(&endMoment, &v.endCentre, &force)
	endCouple := v.endAxes.onAxes(t.seat.ToLocal(endMoment))
	endTilt := v.endAxes.slope(localTurn)

	baseMoment := moment
	subCross(&baseMoment, &v.baseCentre, &force)
	baseCouple := v.baseAxes.onAxes(s.base.ToLocal(baseMoment))
	var baseTurn r3.Vec
	if j >= 6 && m.extras[j-6].kind == baseTurns {
		baseTurn = v.baseAxes.axis[m.extras[j-6].axis]
	}
	baseTilt := v.baseAxes.slope(baseTurn)

	for k, e := range m.extras {
		cell := &m.matrix[6+k][j]
		switch e.kind {
		case baseTurns:
			*cell = scale.moment * (component(baseCouple, e.axis) + r3.Dot(baseTilt[e.axis], v.baseMoment))
		case endTurns:
			*cell = scale.moment * (component(endCouple, e.axis) + r3.Dot(endTilt[e.axis], v.endMoment))
		case baseSlides:
			*cell = scale.force * (r3.Dot(s.start.D1, force) + r3.Dot(r3.Cross(s.base.ToGlobal(baseTurn), s.start.D1), s.force))
		case endSlides:
			*cell = scale.force * (r3.Dot(v.end.D1, force) + r3.Dot(r3.Cross(turn, v.end.D1), s.force))
		}
	}
}

// neutral is the pivot below which an unknown has no effect: nothing but the play keeps it.
const neutral = 1e-8

// solve returns the step to subtract. Unknowns that no condition depends on, such as the
// roll of a straight wire that is free of both slots' walls, stay as they are. It reports
// false where the conditions contradict each other.
func (m *slotSystem) solve() (x slotVector, ok bool) {
	a, b, n := m.matrix, m.residual, m.n
	var column [mostUnknowns]int
	for k := range n {
		column[k] = k
	}
	rank := n
	for k := range n {
		p, q, best := k, k, 0.0
		for i := k; i < n; i++ {
			for j := k; j < n; j++ {
				if v := math.Abs(a[i][j]); v > best {
					p, q, best = i, j, v
				}
			}
		}
		m.pivot = best
		if !(best > neutral) {
			rank = k
			break
		}
		a[k], a[p] = a[p], a[k]
		b[k], b[p] = b[p], b[k]
		column[k], column[q] = column[q], column[k]
		for i := range n {
			a[i][k], a[i][q] = a[i][q], a[i][k]
		}
		for i := k + 1; i < n; i++ {
			f := a[i][k] / a[k][k]
			b[i] -= f * b[k]
			for j := k; j < n; j++ {
				a[i][j] -= f * a[k][j]
			}
		}
	}
	for i := rank; i < n; i++ {
		if !(math.Abs(b[i]) <= neutral) {
			return x, false
		}
	}
	for i := rank - 1; i >= 0; i-- {
		sum := b[i]
		for j := i + 1; j < rank; j++ {
			sum -= a[i][j] * x[column[j]]
		}
		x[column[i]] = sum / a[i][i]
	}
	return x, true
}

// applySlotStep subtracts a step. It reports false where a straight would be used up.
func (s *Solver) applySlotStep(m *slotSystem, delta *slotVector) bool {
	d := *delta
	for j := range m.n {
		d[j] *= m.unit[j]
	}
	s.force = r3.Sub(s.force, r3.Vec{X: d[0], Y: d[1], Z: d[2]})
	s.moment = r3.Sub(s.moment, r3.Vec{X: d[3], Y: d[4], Z: d[5]})
	var baseMM, endMM float64
	for k, e := range m.extras {
		switch e.kind {
		case baseTurns:
			setComponent(&s.inSlots.baseTurn, e.axis, component(s.inSlots.baseTurn, e.axis)-d[6+k])
		case baseSlides:
			baseMM -= d[6+k]
		case endSlides:
			endMM -= d[6+k]
		}
	}
	return s.slide(baseMM, endMM)
}

// largestSlotTurn is the largest turn of a node, rad, by a step, to first order.
func (s *Solver) largestSlotTurn(m *slotSystem, delta *slotVector) float64 {
	var load, origin vec6
	for j := range m.n {
		if j < 6 {
			load[j] = delta[j] * m.unit[j]
		}
		for k := range origin {
			origin[k] += delta[j] * m.origin[j][k]
		}
	}
	s.addFelt(&load, &origin)
	var most float64
	for i := range s.flexibility {
		motion := s.flexibility[i].mul(&load)
		most = max(most, r3.Norm(r3.Vec{X: motion[0] + origin[0], Y: motion[1] + origin[1], Z: motion[2] + origin[2]}))
	}
	return most
}
