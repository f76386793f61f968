package effect

import (
	"math"

	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// Plane is a plane in which a tooth is seen to move.
type Plane int

const (
	SidePlane Plane = iota // seen from the cheek: mesial and distal tipping
	EndPlane               // seen along the arch: buccal and lingual tipping, torque
	BitePlane              // seen from the biting side: rotation
)

// Movement is how a tooth starts to move in one plane.
type Movement struct {
	Plane  Plane
	ForceN float64 // in the plane
	// MomentNMM is about the centre of resistance, about the axis normal to the plane.
	MomentNMM float64
	// RotationAboutMM is the place of the centre of rotation from the centre of resistance;
	// it is meaningless where Kind is Translation or Rest.
	RotationAboutMM r3.Vec
	Kind            MovementKind
}

// MovementKind names what a tooth does in one plane.
type MovementKind int

const (
	Rest         MovementKind = iota // no load worth naming
	Translation                      // bodily, or along the root
	SmallTipping                     // turns about a point beyond the root's end or the crown
	Tipping                          // turns about a point on the tooth
	PureRotation                     // turns about its centre of resistance
)

// Loads below these are not worth naming: no gauge shows them.
const (
	LeastForceN    = 0.01
	LeastCoupleNMM = 0.1
)

const (
	farMM        = 60 // a centre of rotation beyond it is as good as at infinity
	nearCentreMM = 0.5
)

// Movements returns how a tooth starts to move under a load at its centre of resistance,
// in each plane. A force shifts the centre of resistance, a moment M about it turns the
// tooth; together they turn it about the point
//
//	c = LeverMM2 · (ω̂ × F) / M
//
// from the centre of resistance, ω̂ the plane's normal (Burstone and Pryputniewicz, Am J
// Orthod 1980;77:396).
func Movements(atResistance tooth.Load, leverMM2 float64) [3]Movement {
	normals := [3]r3.Vec{SidePlane: {Y: 1}, EndPlane: {X: 1}, BitePlane: {Z: 1}}
	var out [3]Movement
	for plane, normal := range normals {
		force := r3.Sub(atResistance.ForceN, r3.Scale(r3.Dot(normal, atResistance.ForceN), normal))
		m := Movement{Plane: Plane(plane), ForceN: r3.Norm(force), MomentNMM: r3.Dot(normal, atResistance.CoupleNMM)}
		switch {
		case m.ForceN < LeastForceN && math.Abs(m.MomentNMM) < LeastCoupleNMM:
			m.Kind = Rest
		case math.Abs(m.MomentNMM)*farMM <= leverMM2*m.ForceN:
			m.Kind = Translation
		default:
			m.RotationAboutMM = r3.Scale(leverMM2/m.MomentNMM, r3.Cross(normal, force))
			switch distance := r3.Norm(m.RotationAboutMM); {
			case distance > tooth.BeyondRootMM:
				m.Kind = SmallTipping
			case distance < nearCentreMM:
				m.Kind = PureRotation
			default:
				m.Kind = Tipping
			}
		}
		out[plane] = m
	}
	return out
}

// TorqueRemedy is what would cancel the third-order tipping of a load: either of the two.
type TorqueRemedy struct {
	CoupleNMM float64 // about x, at the slot
	ForceN    float64 // along y, at the slot
}

// Remedy returns what has to be added at the slot so that nothing is left that tips the
// tooth about x. Its centre of resistance lies at offset from the slot.
func Remedy(atResistance tooth.Load, offset r3.Vec) TorqueRemedy {
	r := TorqueRemedy{CoupleNMM: -atResistance.CoupleNMM.X}
	// A force Fy at the slot has the moment (−offset × F)·x = offset.Z · Fy about x.
	if offset.Z != 0 {
		r.ForceN = -atResistance.CoupleNMM.X / offset.Z
	}
	return r
}
