package beam

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// twist is an element of se(3): an angular and a linear part. As a strain it is the
// curvature and the stretch of the wire; as a motion, a small turn and the velocity of
// the point at the origin.
type twist struct{ ang, lin r3.Vec }

func (a twist) plus(b twist) twist { return twist{r3.Add(a.ang, b.ang), r3.Add(a.lin, b.lin)} }

func (a twist) scaled(f float64) twist { return twist{r3.Scale(f, a.ang), r3.Scale(f, a.lin)} }

// plusScaled returns a + f·b.
func (a twist) plusScaled(f float64, b twist) twist {
	return twist{
		r3.Vec{X: a.ang.X + f*b.ang.X, Y: a.ang.Y + f*b.ang.Y, Z: a.ang.Z + f*b.ang.Z},
		r3.Vec{X: a.lin.X + f*b.lin.X, Y: a.lin.Y + f*b.lin.Y, Z: a.lin.Z + f*b.lin.Z},
	}
}

// bracket is the Lie bracket [a, b] of se(3).
func bracket(a, b twist) twist {
	return twist{
		r3.Cross(a.ang, b.ang),
		r3.Add(r3.Cross(a.ang, b.lin), r3.Cross(a.lin, b.ang)),
	}
}

// exp moves p by the exponential of a twist given on p's own axes.
func (p Pose) exp(t twist) Pose {
	a, b, c := rotationCoefficients(r3.Norm2(t.ang))
	shift := r3.Cross(t.ang, t.lin)
	shift = r3.Add(t.lin, r3.Add(r3.Scale(b, shift), r3.Scale(c, r3.Cross(t.ang, shift))))
	// Columns of I + a ω^ + b ω^ω^.
	w := t.ang
	d1 := r3.Vec{X: 1 - b*(w.Y*w.Y+w.Z*w.Z), Y: a*w.Z + b*w.X*w.Y, Z: -a*w.Y + b*w.X*w.Z}
	d2 := r3.Vec{X: -a*w.Z + b*w.X*w.Y, Y: 1 - b*(w.X*w.X+w.Z*w.Z), Z: a*w.X + b*w.Y*w.Z}
	d3 := r3.Vec{X: a*w.Y + b*w.X*w.Z, Y: -a*w.X + b*w.Y*w.Z, Z: 1 - b*(w.X*w.X+w.Y*w.Y)}
	return Pose{
		At: r3.Add(p.At, p.ToGlobal(shift)),
		D1: p.ToGlobal(d1),
		D2: p.ToGlobal(d2),
		D3: p.ToGlobal(d3),
	}
}

// expSlope holds the coefficients of the derivative of the exponential:
//
//	d exp(t)/dε · exp(−t) = δ + k1 [t,δ] + k2 [t,[t,δ]] + k3 [t,…] + k4 [t,…]
//
// exact on se(3), because ad_t satisfies ad⁵ + 2θ² ad³ + θ⁴ ad = 0 (Selig, Geometric
// Fundamentals of Robotics, 2nd ed. 2005, section 7.5).
type expSlope struct{ k1, k2, k3, k4 float64 }

func newExpSlope(t twist) expSlope {
	s := r3.Norm2(t.ang)
	if s < 0.25 {
		// The closed forms lose digits to cancellation. The series Σ ad^n/(n+1)!, folded
		// to degree 4 with ad⁵ = −2θ²ad³ − θ⁴ad, gives these Taylor series in θ²; the
		// first dropped term is below 1e-13 of the leading one here.
		return expSlope{
			k1: 1.0/2 - s*s*(1.0/720-s*(1.0/20160-s*(1.0/1209600))),
			k2: 1.0/6 - s*s*(1.0/5040-s*(1.0/181440-s*(1.0/13305600))),
			k3: 1.0/24 - s*(1.0/360-s*(1.0/13440-s*(1.0/907200-s*(1.0/95800320)))),
			k4: 1.0/120 - s*(1.0/2520-s*(1.0/120960-s*(1.0/9979200-s*(1.0/1245404160)))),
		}
	}
	theta := math.Sqrt(s)
	sin, cos := math.Sincos(theta)
	return expSlope{
		k1: (4 - theta*sin - 4*cos) / (2 * s),
		k2: (4*theta - 5*sin + theta*cos) / (2 * s * theta),
		k3: (2 - theta*sin - 2*cos) / (2 * s * s),
		k4: (2*theta - 3*sin + theta*cos) / (2 * s * s * theta),
	}
}

// apply returns the derivative of exp at t in the direction d, as a motion on the axes of
// the pose that exp(t) starts from.
func (k expSlope) apply(t, d twist) twist {
	b := bracket(t, d)
	sum := d.plusScaled(k.k1, b)
	b = bracket(t, b)
	sum = sum.plusScaled(k.k2, b)
	b = bracket(t, b)
	sum = sum.plusScaled(k.k3, b)
	return sum.plusScaled(k.k4, bracket(t, b))
}

// rotationLogSlope returns the change of the rotation vector e of a rotation exp(e) that
// is turned further by the small rotation turn, applied on the left.
func rotationLogSlope(e, turn r3.Vec) r3.Vec {
	s := r3.Norm2(e)
	c := 1.0/12 + s/720*(1+s/42)
	if s > 0.01 {
		theta := math.Sqrt(s)
		sin, cos := math.Sincos(theta)
		c = 1/s - (1+cos)/(2*theta*sin)
	}
	x := r3.Cross(e, turn)
	return r3.Add(turn, r3.Add(r3.Scale(-0.5, x), r3.Scale(c, r3.Cross(e, x))))
}

// rotationCoefficients returns sinθ/θ, (1−cosθ)/θ² and (θ−sinθ)/θ³ for θ² = squared.
func rotationCoefficients(squared float64) (a, b, c float64) {
	if squared < 0.04 {
		// Taylor series to θ¹⁰; the first dropped term is below 1e-17 here.
		a = 1 - squared*(1.0/6)*(1-squared*(1.0/20)*(1-squared*(1.0/42)*(1-squared*(1.0/72)*(1-squared*(1.0/110)))))
		b = 0.5 - squared*(1.0/24)*(1-squared*(1.0/30)*(1-squared*(1.0/56)*(1-squared*(1.0/90)*(1-squared*(1.0/132)))))
		c = 1.0/6 - squared*(1.0/120)*(1-squared*(1.0/42)*(1-squared*(1.0/72)*(1-squared*(1.0/110)*(1-squared*(1.0/156)))))
		return a, b, c
	}
	theta := math.Sqrt(squared)
	sin, cos := math.Sincos(theta)
	return sin / theta, (1 - cos) / squared, (theta - sin) / (theta * squared)
}
