package beam

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// updateTangent brings the flexibility up to date with the nodes.
func (s *Solver) updateTangent() {
	switch {
	case s.points != nil:
		s.roughenMemory()
	case s.lifted.on:
		s.linearise()
	case s.options.RoughTangent:
		s.roughen()
	case s.surelyStable():
		s.approximate()
	default:
		s.linearise()
	}
}

// freshTangent brings the flexibility up to date after Restore.
func (s *Solver) freshTangent() {
	if s.stale {
		s.updateTangent()
	}
}

// exactTangent brings the flexibility up to date, and is that of the discrete solution.
func (s *Solver) exactTangent() {
	if s.rough || s.stale {
		s.linearise()
	}
}

// roughen integrates the flexibility, whose change along the wire is
//
//	Ψ' = S (I + A Ψ),   S = Σ c (d, r×d) ⊗ (r×d, d) + Σ e (0, d) ⊗ (d, 0)
//
// over the section axes d at a place r, c the bending and e the stretching compliance, with one
// midpoint value of S a step and Ψ as it is before it: to first order in the step, which is all
// that steps to another state can use. What bending at a distance t from the middle adds to the
// shift, ∫t² dt = h³/12, goes with e, so that straight steps come out exactly.
func (s *Solver) roughen() {
	s.rough, s.stale = true, false
	s.flexibility[0] = mat6{}
	var own middleStep
	for i := range s.steps {
		s.middleStep(i, &own)
		before, after := &s.flexibility[i], &s.flexibility[i+1]
		felt := s.feltBy(before)
		*after = *before
		own.add(after, &felt, 1)
	}
}

// approximate is roughen by the midpoint method: to second order, within 2e-5 of the flexibility of
// a loop with steps of 0.5 mm and 5° (5e-4 by roughen), at an eighth of the cost of linearise.
func (s *Solver) approximate() {
	s.rough, s.stale = true, false
	s.flexibility[0] = mat6{}
	var own middleStep
	for i := range s.steps {
		s.middleStep(i, &own)
		before, after := &s.flexibility[i], &s.flexibility[i+1]
		felt := s.feltBy(before)
		middle := *before
		own.add(&middle, &felt, 0.5)
		felt = s.feltBy(&middle)
		*after = *before
		own.add(after, &felt, 1)
	}
}

// middleStep is S at the middle of a step times its length.
type middleStep struct {
	axes, arms    [3]r3.Vec
	bend, stretch [3]float64
}

// add adds a share of what the step's own motion makes of a felt change of the load.
func (m *middleStep) add(sum, felt *mat6, share float64) {
	for j := range 6 {
		force := r3.Vec{X: felt[0][j], Y: felt[1][j], Z: felt[2][j]}
		moment := r3.Vec{X: felt[3][j], Y: felt[4][j], Z: felt[5][j]}
		var turn, shift r3.Vec
		for k := range 3 {
			d, arm := &m.axes[k], &m.arms[k]
			bent := share * m.bend[k] * (arm.X*force.X + arm.Y*force.Y + arm.Z*force.Z + d.X*moment.X + d.Y*moment.Y + d.Z*moment.Z)
			drawn := share * m.stretch[k] * (d.X*force.X + d.Y*force.Y + d.Z*force.Z)
			turn.X += d.X * bent
			turn.Y += d.Y * bent
			turn.Z += d.Z * bent
			shift.X += arm.X*bent + d.X*drawn
			shift.Y += arm.Y*bent + d.Y*drawn
			shift.Z += arm.Z*bent + d.Z*drawn
		}
		sum[0][j] += turn.X
		sum[1][j] += turn.Y
		sum[2][j] += turn.Z
		sum[3][j] += shift.X
		sum[4][j] += shift.Y
		sum[5][j] += shift.Z
	}
}

// middleOf returns the section axes and the place at the middle of a step, to the accuracy
// of the midpoint rule.
func (s *Solver) middleOf(i int) (axes [3]r3.Vec, at r3.Vec) {
	a, b := &s.nodes[i], &s.nodes[i+1]
	axes = [3]r3.Vec{middle(&a.D1, &b.D1), middle(&a.D2, &b.D2), middle(&a.D3, &b.D3)}
	at = r3.Add(r3.Scale(0.5, r3.Add(a.At, b.At)), r3.Scale(s.steps[i].lengthMM/8, r3.Sub(a.D1, b.D1)))
	return axes, at
}

// middleStep fills in S at the middle of a step times its length.
func (s *Solver) middleStep(i int, m *middleStep) {
	var at r3.Vec
	m.axes, at = s.middleOf(i)
	for k := range m.axes {
		m.arms[k] = r3.Cross(at, m.axes[k])
	}
	h := s.steps[i].lengthMM
	m.bend = [3]float64{h * s.flex.bend.X, h * s.flex.bend.Y, h * s.flex.bend.Z}
	spread := h * h * (1.0 / 12)
	m.stretch = [3]float64{h * s.flex.stretch.X, h*s.flex.stretch.Y + spread*m.bend[2], h*s.flex.stretch.Z + spread*m.bend[1]}
}

// feltBy returns the change of the load that a section feels by a unit of each component,
// its own motion included: I + A Ψ.
func (s *Solver) feltBy(motion *mat6) (felt mat6) {
	f, m := &s.force, &s.moment
	for j := range 6 {
		wx, wy, wz := motion[0][j], motion[1][j], motion[2][j]
		vx, vy, vz := motion[3][j], motion[4][j], motion[5][j]
		felt[0][j] = wz*f.Y - wy*f.Z
		felt[1][j] = wx*f.Z - wz*f.X
		felt[2][j] = wy*f.X - wx*f.Y
		felt[3][j] = wz*m.Y - wy*m.Z + vz*f.Y - vy*f.Z
		felt[4][j] = wx*m.Z - wz*m.X + vx*f.Z - vz*f.X
		felt[5][j] = wy*m.X - wx*m.Y + vy*f.X - vx*f.Y
		felt[j][j]++
	}
	return felt
}

// middle is the unit vector half-way between two.
func middle(a, b *r3.Vec) r3.Vec {
	sum := r3.Add(*a, *b)
	return r3.Scale(1/math.Sqrt(r3.Norm2(sum)), sum)
}
