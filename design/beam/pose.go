package beam

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Pose is where a section of the wire is and how it is turned. D1 (along the wire),
// D2 (width) and D3 (thickness) are orthonormal and right-handed: D3 = D1 × D2.
type Pose struct {
	At         r3.Vec // mm
	D1, D2, D3 r3.Vec
}

// Origin is the pose at the origin with D1 = x, D2 = y and D3 = z.
func Origin() Pose {
	return Pose{D1: r3.Vec{X: 1}, D2: r3.Vec{Y: 1}, D3: r3.Vec{Z: 1}}
}

// ToGlobal turns a vector given on the pose's own axes into global axes.
func (p Pose) ToGlobal(v r3.Vec) r3.Vec {
	return r3.Vec{
		X: v.X*p.D1.X + v.Y*p.D2.X + v.Z*p.D3.X,
		Y: v.X*p.D1.Y + v.Y*p.D2.Y + v.Z*p.D3.Y,
		Z: v.X*p.D1.Z + v.Y*p.D2.Z + v.Z*p.D3.Z,
	}
}

// ToLocal turns a vector given on global axes into the pose's own axes.
func (p Pose) ToLocal(v r3.Vec) r3.Vec {
	return r3.Vec{X: r3.Dot(p.D1, v), Y: r3.Dot(p.D2, v), Z: r3.Dot(p.D3, v)}
}

// Along returns the pose moved by distanceMM along its own D1.
func (p Pose) Along(distanceMM float64) Pose {
	p.At = r3.Add(p.At, r3.Scale(distanceMM, p.D1))
	return p
}

// Turned returns the pose with its frame turned by a rotation vector (rad, global
// axes, applied on the left); its place stays.
func (p Pose) Turned(rotation r3.Vec) Pose {
	p.D1, p.D2, p.D3 = Rotate(rotation, p.D1), Rotate(rotation, p.D2), Rotate(rotation, p.D3)
	return p
}

// Rotate turns v by a rotation vector in rad (Rodrigues' formula).
func Rotate(rotation, v r3.Vec) r3.Vec {
	sinc, cosc, _ := rotationCoefficients(r3.Norm2(rotation))
	c := r3.Cross(rotation, v)
	return r3.Add(v, r3.Add(r3.Scale(sinc, c), r3.Scale(cosc, r3.Cross(rotation, c))))
}

// RotationBetween returns the rotation vector (rad, global axes, length at most π)
// that turns the frame of from into the frame of to.
func RotationBetween(from, to Pose) r3.Vec {
	// The rotation matrix is M = Σ to.Di ⊗ from.Di. Its unit quaternion is the
	// dominant eigenvector; Shepperd's choice of pivot keeps it accurate near π.
	m := func(a, b func(r3.Vec) float64) float64 {
		return a(to.D1)*b(from.D1) + a(to.D2)*b(from.D2) + a(to.D3)*b(from.D3)
	}
	x := func(v r3.Vec) float64 { return v.X }
	y := func(v r3.Vec) float64 { return v.Y }
	z := func(v r3.Vec) float64 { return v.Z }
	xx, yy, zz := m(x, x), m(y, y), m(z, z)
	xy, xz, yx, yz, zx, zy := m(x, y), m(x, z), m(y, x), m(y, z), m(z, x), m(z, y)

	var w float64
	var q r3.Vec
	switch trace := xx + yy + zz; {
	case trace >= xx && trace >= yy && trace >= zz:
		w, q = 1+trace, r3.Vec{X: zy - yz, Y: xz - zx, Z: yx - xy}
	case xx >= yy && xx >= zz:
		w, q = zy-yz, r3.Vec{X: 1 + xx - yy - zz, Y: xy + yx, Z: xz + zx}
	case yy >= zz:
		w, q = xz-zx, r3.Vec{X: xy + yx, Y: 1 + yy - xx - zz, Z: yz + zy}
	default:
		w, q = yx-xy, r3.Vec{X: xz + zx, Y: yz + zy, Z: 1 + zz - xx - yy}
	}
	if w < 0 {
		w, q = -w, r3.Scale(-1, q)
	}
	s := r3.Norm(q)
	if s == 0 {
		return r3.Vec{}
	}
	if s < 1e-4*w { // atan2(s, w)/s would lose digits to underflow only far below this
		return r3.Scale(2/w*(1-s*s/(3*w*w)), q)
	}
	return r3.Scale(2*math.Atan2(s, w)/s, q)
}

// Wrench is a force in N and a moment in N·mm about a stated point.
type Wrench struct {
	ForceN    r3.Vec
	MomentNMM r3.Vec
}

// About moves a wrench whose moment is taken about from to the point to.
func (w Wrench) About(from, to r3.Vec) Wrench {
	w.MomentNMM = r3.Add(w.MomentNMM, r3.Cross(r3.Sub(from, to), w.ForceN))
	return w
}
