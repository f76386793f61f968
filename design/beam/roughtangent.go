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
	case s.options.RoughTangent && !s.lifted.on:
		s.roughen()
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

// exactTangent brings the flexibility up to date, and is never that of RoughTangent.
func (s *Solver) exactTangent() {
	if s.rough || s.stale {
		s.linearise()
	}
}

// roughen integrates the flexibility with one midpoint value a step:
//
//	S = Σ c (d, r×d) ⊗ (r×d, d) + Σ e (0, d) ⊗ (d, 0)
//
// over the section axes d at the middle r of the step, c the bending and e the stretching
// compliance times the step's length. What bending at a distance t from the middle adds to
// the shift, ∫t² dt = h³/12, goes with e, so that straight steps come out exactly.
func (s *Solver) roughen() {
	s.rough, s.stale = true, false
	s.flexibility[0] = mat6{}
	for i := range s.steps {
		h := s.steps[i].lengthMM
		axes, at := s.middleOf(i)
		before, after := &s.flexibility[i], &s.flexibility[i+1]
		*after = *before
		felt := s.feltBy(before)
		bend := [3]float64{h * s.flex.bend.X, h * s.flex.bend.Y, h * s.flex.bend.Z}
		spread := h * h * (1.0 / 12)
		stretch := [3]float64{h * s.flex.stretch.X, h*s.flex.stretch.Y + spread*bend[2], h*s.flex.stretch.Z + spread*bend[1]}
		for k := range axes {
			d := &axes[k]
			arm := r3.Cross(at, *d)
			for j := range 6 {
				moment := bend[k] * (arm.X*felt[0][j] + arm.Y*felt[1][j] + arm.Z*felt[2][j] + d.X*felt[3][j] + d.Y*felt[4][j] + d.Z*felt[5][j])
				force := stretch[k] * (d.X*felt[0][j] + d.Y*felt[1][j] + d.Z*felt[2][j])
				after[0][j] += d.X * moment
				after[1][j] += d.Y * moment
				after[2][j] += d.Z * moment
				after[3][j] += arm.X*moment + d.X*force
				after[4][j] += arm.Y*moment + d.Y*force
				after[5][j] += arm.Z*moment + d.Z*force
			}
		}
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
