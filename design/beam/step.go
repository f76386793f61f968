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
	n, m   [3]r3.Vec // Taylor coefficients in the wire length, on the section frame
	strain [4]twist
	omega  twist
}

// begin evaluates the crossing of st with force n and moment m at its start.
func (c *crossing) begin(st *step, flex *compliance, n, m r3.Vec) {
	x := &c.strain
	c.n[0], c.m[0] = n, m
	x[0] = twist{r3.Add(st.curvature, times(flex.bend, m)), times(flex.stretch, n)}
	x[0].lin.X++

	n, m = r3.Vec{}, r3.Vec{}
	subCross(&n, &x[0].ang, &c.n[0])
	subCross(&m, &x[0].ang, &c.m[0])
	subCross(&m, &x[0].lin, &c.n[0])
	c.n[1], c.m[1] = n, m
	x[1] = twist{times(flex.bend, m), times(flex.stretch, n)}

	n, m = r3.Vec{}, r3.Vec{}
	subCross(&n, &x[0].ang, &c.n[1])
	subCross(&n, &x[1].ang, &c.n[0])
	subCross(&m, &x[0].ang, &c.m[1])
	subCross(&m, &x[0].lin, &c.n[1])
	subCross(&m, &x[1].ang, &c.m[0])
	subCross(&m, &x[1].lin, &c.n[0])
	c.n[2], c.m[2] = r3.Scale(1.0/2, n), r3.Scale(1.0/2, m)
	x[2] = twist{times(flex.bend, c.m[2]), times(flex.stretch, c.n[2])}

	n, m = r3.Vec{}, r3.Vec{}
	subCross(&n, &x[0].ang, &c.n[2])
	subCross(&n, &x[1].ang, &c.n[1])
	subCross(&n, &x[2].ang, &c.n[0])
	subCross(&m, &x[0].ang, &c.m[2])
	subCross(&m, &x[0].lin, &c.n[2])
	subCross(&m, &x[1].ang, &c.m[1])
	subCross(&m, &x[1].lin, &c.n[1])
	subCross(&m, &x[2].ang, &c.m[0])
	subCross(&m, &x[2].lin, &c.n[0])
	x[3] = twist{times(flex.bend, r3.Scale(1.0/3, m)), times(flex.stretch, r3.Scale(1.0/3, n))}

	h := st.lengthMM
	mixed := x[1].plusScaled(h, x[2])
	c.omega = integral(x, h).plusScaled(h*h*h*(1.0/12), bracket(x[0], mixed))
}

// integral is h ξ0 + h²/2 ξ1 + h³/3 ξ2 + h⁴/4 ξ3.
func integral(x *[4]twist, h float64) twist {
	a, b, c := h*h*(1.0/2), h*h*h*(1.0/3), h*h*h*h*(1.0/4)
	return twist{
		r3.Vec{
			X: h*x[0].ang.X + a*x[1].ang.X + b*x[2].ang.X + c*x[3].ang.X,
			Y: h*x[0].ang.Y + a*x[1].ang.Y + b*x[2].ang.Y + c*x[3].ang.Y,
			Z: h*x[0].ang.Z + a*x[1].ang.Z + b*x[2].ang.Z + c*x[3].ang.Z,
		},
		r3.Vec{
			X: h*x[0].lin.X + a*x[1].lin.X + b*x[2].lin.X + c*x[3].lin.X,
			Y: h*x[0].lin.Y + a*x[1].lin.Y + b*x[2].lin.Y + c*x[3].lin.Y,
			Z: h*x[0].lin.Z + a*x[1].lin.Z + b*x[2].lin.Z + c*x[3].lin.Z,
		},
	}
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
	y, cn, cm := &c.strain, &c.n, &c.m
	var x [4]twist
	x[0] = twist{r3.Add(dcurvature, times(flex.bend, dm)), times(flex.stretch, dn)}

	var n1, m1 r3.Vec
	subCross(&n1, &x[0].ang, &cn[0])
	subCross(&n1, &y[0].ang, &dn)
	subCross(&m1, &x[0].ang, &cm[0])
	subCross(&m1, &y[0].ang, &dm)
	subCross(&m1, &x[0].lin, &cn[0])
	subCross(&m1, &y[0].lin, &dn)
	x[1] = twist{times(flex.bend, m1), times(flex.stretch, n1)}

	var n2, m2 r3.Vec
	subCross(&n2, &x[0].ang, &cn[1])
	subCross(&n2, &y[0].ang, &n1)
	subCross(&n2, &x[1].ang, &cn[0])
	subCross(&n2, &y[1].ang, &dn)
	subCross(&m2, &x[0].ang, &cm[1])
	subCross(&m2, &y[0].ang, &m1)
	subCross(&m2, &x[0].lin, &cn[1])
	subCross(&m2, &y[0].lin, &n1)
	subCross(&m2, &x[1].ang, &cm[0])
	subCross(&m2, &y[1].ang, &dm)
	subCross(&m2, &x[1].lin, &cn[0])
	subCross(&m2, &y[1].lin, &dn)
	n2, m2 = r3.Scale(1.0/2, n2), r3.Scale(1.0/2, m2)
	x[2] = twist{times(flex.bend, m2), times(flex.stretch, n2)}

	var n3, m3 r3.Vec
	subCross(&n3, &x[0].ang, &cn[2])
	subCross(&n3, &y[0].ang, &n2)
	subCross(&n3, &x[1].ang, &cn[1])
	subCross(&n3, &y[1].ang, &n1)
	subCross(&n3, &x[2].ang, &cn[0])
	subCross(&n3, &y[2].ang, &dn)
	subCross(&m3, &x[0].ang, &cm[2])
	subCross(&m3, &y[0].ang, &m2)
	subCross(&m3, &x[0].lin, &cn[2])
	subCross(&m3, &y[0].lin, &n2)
	subCross(&m3, &x[1].ang, &cm[1])
	subCross(&m3, &y[1].ang, &m1)
	subCross(&m3, &x[1].lin, &cn[1])
	subCross(&m3, &y[1].lin, &n1)
	subCross(&m3, &x[2].ang, &cm[0])
	subCross(&m3, &y[2].ang, &dm)
	subCross(&m3, &x[2].lin, &cn[0])
	subCross(&m3, &y[2].lin, &dn)
	x[3] = twist{times(flex.bend, r3.Scale(1.0/3, m3)), times(flex.stretch, r3.Scale(1.0/3, n3))}

	h := st.lengthMM
	mixed := c.strain[1].plusScaled(h, c.strain[2])
	dmixed := x[1].plusScaled(h, x[2])
	omega := integral(&x, h).plusScaled(h*h*h*(1.0/12), bracket(x[0], mixed))
	return omega.plusScaled(h*h*h*(1.0/12), bracket(c.strain[0], dmixed))
}

// slopeInLength returns the change of Ω for a small change of the step's length.
func (c *crossing) slopeInLength(st *step) twist {
	h := st.lengthMM
	h2 := h * h
	x := &c.strain
	omega := x[0].plusScaled(h, x[1])
	omega = omega.plusScaled(h2, x[2])
	omega = omega.plusScaled(h2*h, x[3])
	mixed := x[1].scaled(h2/4).plusScaled(h2*h/3, x[2])
	return omega.plus(bracket(x[0], mixed))
}
