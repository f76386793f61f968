package beam

import "gonum.org/v1/gonum/spatial/r3"

// compliance is the inverse of a Section, zero where the section is rigid. The force and
// the moment on the section frame are multiplied component by component.
type compliance struct{ stretch, bend r3.Vec }

func newCompliance(s Section) compliance {
	return compliance{
		stretch: r3.Vec{X: 1 / s.EA, Y: 1 / s.GA2, Z: 1 / s.GA3},
		bend:    r3.Vec{X: 1 / s.GJ, Y: 1 / s.EI2, Z: 1 / s.EI3},
	}
}

func times(a, b r3.Vec) r3.Vec { return r3.Vec{X: a.X * b.X, Y: a.Y * b.Y, Z: a.Z * b.Z} }

// step is a stretch of wire that is crossed at once.
type step struct {
	piece     int
	lengthMM  float64
	curvature r3.Vec
}

// crossing carries one step from its start to its end.
//
// On the section frame the internal force n and moment m obey
//
//	n' = −u × n,   m' = −u × m − v × n,   u = κ + C_m m,   v = d1 + C_n n
//
// (Antman, Nonlinear Problems of Elasticity, 2nd ed. 2005, chapter 8, with no load
// between the ends), so the Taylor coefficients of the strain (u, v) follow by recurrence
// from n and m at the start, and the step's motion is the exponential of
//
//	Ω = h ξ0 + h²/2 ξ1 + h³/3 ξ2 + h⁴/4 ξ3 + h³/12 [ξ0,ξ1] + h⁴/12 [ξ0,ξ2] + O(h⁵)
//
// (Magnus expansion; Iserles, Munthe-Kaas, Nørsett and Zanna, Acta Numerica 9 (2000)
// 215): a method of order 4 that moves frames exactly with the rod as a whole.
type crossing struct {
	n, m, u, v [4]r3.Vec // Taylor coefficients in the wire length, on the section frame
	omega      twist
}

// begin evaluates the crossing of st with force n and moment m at its start.
func (c *crossing) begin(st *step, flex *compliance, n, m r3.Vec) {
	c.n[0], c.m[0] = n, m
	c.u[0] = r3.Add(st.curvature, times(flex.bend, m))
	c.v[0] = times(flex.stretch, n)
	c.v[0].X++
	c.fill(1, flex, 1)
	c.fill(2, flex, 1.0/2)
	c.fill(3, flex, 1.0/3)

	h := st.lengthMM
	h2 := h * h
	omega := c.strain(0).scaled(h)
	omega = omega.plusScaled(h2/2, c.strain(1))
	omega = omega.plusScaled(h2*h/3, c.strain(2))
	omega = omega.plusScaled(h2*h2/4, c.strain(3))
	mixed := c.strain(1).plusScaled(h, c.strain(2))
	c.omega = omega.plusScaled(h2*h/12, bracket(c.strain(0), mixed))
}

func (c *crossing) strain(k int) twist { return twist{c.u[k], c.v[k]} }

// fill computes coefficient k of the force, moment and strain; factor is 1/k.
func (c *crossing) fill(k int, flex *compliance, factor float64) {
	var n, m r3.Vec
	for i := range k {
		j := k - 1 - i
		subCross(&n, &c.u[i], &c.n[j])
		subCross(&m, &c.u[i], &c.m[j])
		subCross(&m, &c.v[i], &c.n[j])
	}
	n, m = r3.Scale(factor, n), r3.Scale(factor, m)
	c.n[k], c.m[k] = n, m
	c.u[k], c.v[k] = times(flex.bend, m), times(flex.stretch, n)
}

// subCross subtracts a × b from sum.
func subCross(sum, a, b *r3.Vec) {
	sum.X -= a.Y*b.Z - a.Z*b.Y
	sum.Y -= a.Z*b.X - a.X*b.Z
	sum.Z -= a.X*b.Y - a.Y*b.X
}

// slope returns the change of the crossing's Ω for small changes of the force, the moment
// and the unloaded curvature.
func (c *crossing) slope(st *step, flex *compliance, dn, dm, dcurvature r3.Vec) twist {
	var d crossing
	d.n[0], d.m[0] = dn, dm
	d.u[0] = r3.Add(dcurvature, times(flex.bend, dm))
	d.v[0] = times(flex.stretch, dn)
	for k := 1; k <= 3; k++ {
		var n, m r3.Vec
		for i := range k {
			j := k - 1 - i
			subCross(&n, &d.u[i], &c.n[j])
			subCross(&n, &c.u[i], &d.n[j])
			subCross(&m, &d.u[i], &c.m[j])
			subCross(&m, &c.u[i], &d.m[j])
			subCross(&m, &d.v[i], &c.n[j])
			subCross(&m, &c.v[i], &d.n[j])
		}
		factor := 1 / float64(k)
		n, m = r3.Scale(factor, n), r3.Scale(factor, m)
		d.n[k], d.m[k] = n, m
		d.u[k], d.v[k] = times(flex.bend, m), times(flex.stretch, n)
	}
	h := st.lengthMM
	h2 := h * h
	omega := d.strain(0).scaled(h)
	omega = omega.plusScaled(h2/2, d.strain(1))
	omega = omega.plusScaled(h2*h/3, d.strain(2))
	omega = omega.plusScaled(h2*h2/4, d.strain(3))
	mixed := c.strain(1).plusScaled(h, c.strain(2))
	dmixed := d.strain(1).plusScaled(h, d.strain(2))
	omega = omega.plusScaled(h2*h/12, bracket(d.strain(0), mixed))
	return omega.plusScaled(h2*h/12, bracket(c.strain(0), dmixed))
}

// slopeInLength returns the change of Ω for a small change of the step's length.
func (c *crossing) slopeInLength(st *step) twist {
	h := st.lengthMM
	h2 := h * h
	omega := c.strain(0).plusScaled(h, c.strain(1))
	omega = omega.plusScaled(h2, c.strain(2))
	omega = omega.plusScaled(h2*h, c.strain(3))
	mixed := c.strain(1).scaled(h2/4).plusScaled(h2*h/3, c.strain(2))
	return omega.plus(bracket(c.strain(0), mixed))
}
