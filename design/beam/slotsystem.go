package beam

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// slotView is what the conditions in the slots are made of, relative to the base.
type slotView struct {
	end                   Pose
	endTurn, endShift     r3.Vec
	baseAxes, endAxes     slotAxes
	baseCentre, endCentre r3.Vec
	// Internal moments about the centres, on the axes of their slots.
	baseMoment, endMoment r3.Vec
	baseForce, endForce   r3.Vec
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
	v.endShift = seat.ToLocal(r3.Sub(v.endCentre, seat.Along(s.inSlots.end.LeverMM).At))
	v.baseForce, v.endForce = s.base.ToLocal(s.force), seat.ToLocal(s.force)
	return v
}

// extraKind is an unknown beside the load, and the condition that comes with it.
type extraKind int

const (
	baseTurns  extraKind = iota // and shifts along one coordinate; no load that goes with it
	endTurns                    // the same in the far slot
	baseSlides                  // mm let out; no force along the wire
	endSlides
	endGlides // mm along the far slot's axis; no force along it
)

type extra struct {
	kind        extraKind
	coordinate  int
	turn, shift r3.Vec // by a unit of it, on the slot's axes
}

// mostUnknowns are the load, the coordinates in two slots and the lengths let out of them.
const mostUnknowns = 6 + 5 + 5 + 2

// slotSystem is Newton's linear system, every row and column a pure number. Unknowns are
// the load and the extras; conditions are the place and the turn of the far end, then
// those of the extras.
type slotSystem struct {
	extras   []extra
	n        int
	matrix   slotMatrix
	residual slotVector
	unit     slotVector         // of each unknown, N, N·mm, rad or mm
	origin   [mostUnknowns]vec6 // motion of the wire's start by a unit of an unknown
	moves    [mostUnknowns]vec6 // motion of its end
	pivot    float64            // the smallest of the last solve
	// Change of each condition by a motion of the end and by a change of the load.
	byMotion, byLoad [mostUnknowns]vec6
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
func (s *Solver) slotExtras() []extra { return s.appendSlotExtras(nil) }

func (s *Solver) appendSlotExtras(extras []extra) []extra {
	for k, slot := range [...]*Slot{&s.inSlots.base, &s.inSlots.end} {
		for i := range len(SlotCoordinates{}) {
			if slot.solved(i) {
				e := extra{kind: [...]extraKind{baseTurns, endTurns}[k], coordinate: i}
				e.turn, e.shift = slot.direction(i)
				extras = append(extras, e)
			}
		}
	}
	if s.inSlots.base.Slides {
		extras = append(extras, extra{kind: baseSlides})
	}
	if s.inSlots.end.Slides {
		extras = append(extras, extra{kind: endSlides})
	}
	if s.inSlots.end.Glides {
		extras = append(extras, extra{kind: endGlides})
	}
	return extras
}

// slotSystem sets up Newton's system at the present state.
func (s *Solver) slotSystem(t *slotTarget) *slotSystem {
	v := s.viewSlots(&t.seat)
	m := &slotSystem{extras: s.slotExtras()}
	m.n = 6 + len(m.extras)
	s.slotResidual(m, t, &v)
	if s.lifted.on {
		s.liftedColumns(m, t, &v)
		return m
	}
	s.slotMatrix(m, t, &v)
	return m
}

// slotResidual fills in how far the present state is from its target.
func (s *Solver) slotResidual(m *slotSystem, t *slotTarget, v *slotView) {
	scale := s.scales()
	base, end := s.inSlots.base.coordinates(s.inSlots.baseTurn, s.inSlots.baseShift), s.inSlots.end.coordinates(v.endTurn, v.endShift)
	off := end
	for i := range off {
		off[i] -= t.end[i]
		if s.inSlots.end.solved(i) {
			off[i] = 0
		}
	}
	turn, gap := s.inSlots.end.place(off)
	if !s.inSlots.end.Glides {
		gap.X = v.endShift.X
	}
	for i := range 3 {
		m.residual[i] = scale.place * component(gap, i)
		m.residual[3+i] = component(turn, i)
	}
	baseLoad, endLoad := s.slotLoads(v)
	for k, e := range m.extras {
		r := &m.residual[6+k]
		switch e.kind {
		case baseTurns:
			i := e.coordinate
			*r = scale.moment * (baseLoad[i] - t.baseLoad[i])
			if !s.inSlots.base.free(i) {
				*r = scale.moment * (baseLoad[i] - (base[i]-t.base[i])/s.inSlots.base.Give[i])
			}
		case endTurns:
			i := e.coordinate
			*r = scale.moment * (endLoad[i] - t.endLoad[i])
			if !s.inSlots.end.free(i) {
				*r = scale.moment * (endLoad[i] + (end[i]-t.end[i])/s.inSlots.end.Give[i])
			}
		case baseSlides:
			*r = scale.force * (r3.Dot(s.start.D1, s.force) - t.baseForce)
		case endSlides:
			*r = scale.force * (r3.Dot(v.end.D1, s.force) - t.endForceN)
		case endGlides:
			*r = scale.force * (v.endForce.X - t.endForceN)
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
			s.inSlots.baseTurn = r3.Sub(s.inSlots.baseTurn, r3.Scale(d[6+k], e.turn))
			s.inSlots.baseShift = r3.Sub(s.inSlots.baseShift, r3.Scale(d[6+k], e.shift))
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
	return s.largestTurn(&load, &origin)
}
