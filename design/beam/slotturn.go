package beam

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// How a wire is turned against its slot is told by three angles in rad, on the slot's
// axes: X the roll of the wire about itself, Y and Z the rotation vector (0, Y, Z) that
// swings the slot's D1 into the wire's. The roll comes first, then the swing, so that a
// wire tips by the same angles however far it has rolled. All three are the components of
// the rotation vector to first order.

// turnedInSlot returns the pose turned by the three angles; its place stays.
func (p Pose) turnedInSlot(turn r3.Vec) Pose {
	roll, swing := r3.Vec{X: turn.X}, swingOf(turn)
	axis := func(v r3.Vec) r3.Vec { return p.ToGlobal(Rotate(swing, Rotate(roll, v))) }
	p.D1, p.D2, p.D3 = axis(r3.Vec{X: 1}), axis(r3.Vec{Y: 1}), axis(r3.Vec{Z: 1})
	return p
}

func swingOf(turn r3.Vec) r3.Vec { return r3.Vec{Y: turn.Y, Z: turn.Z} }

// TurnInSlot returns the three angles by which a wire is turned against its slot, rad: X
// in third order, Y in second and Z in first. The wire must not point backwards.
func TurnInSlot(slot, wire Pose) r3.Vec {
	t := slot.ToLocal(wire.D1)
	perSine := 1.0
	if sine := math.Hypot(t.Y, t.Z); sine > 0 {
		perSine = math.Atan2(sine, t.X) / sine
	}
	swing := r3.Vec{Y: -perSine * t.Z, Z: perSine * t.Y}
	rolled := Rotate(r3.Scale(-1, swing), slot.ToLocal(wire.D2))
	return r3.Vec{X: math.Atan2(rolled.Z, rolled.Y), Y: swing.Y, Z: swing.Z}
}

// slotAxes are the axes about which the wire turns as one of its three angles grows, the
// others held, on the slot's axes. A couple does work on an angle by its component on that
// axis: a frictionless wall stops one angle and puts no couple on the other two.
type slotAxes struct {
	swing r3.Vec
	axis  [3]r3.Vec
}

func slotAxesAt(turn r3.Vec) slotAxes {
	a := slotAxes{swing: swingOf(turn)}
	_, b, c := rotationCoefficients(r3.Norm2(a.swing))
	a.axis[0] = Rotate(a.swing, r3.Vec{X: 1})
	for i, e := range []r3.Vec{{Y: 1}, {Z: 1}} {
		x := r3.Cross(a.swing, e)
		a.axis[1+i] = r3.Add(e, r3.Add(r3.Scale(b, x), r3.Scale(c, r3.Cross(a.swing, x))))
	}
	return a
}

// turned is how the wire turns, on the slot's axes, as its angles grow so.
func (a *slotAxes) turned(angles r3.Vec) r3.Vec {
	return r3.Add(r3.Scale(angles.X, a.axis[0]), r3.Add(r3.Scale(angles.Y, a.axis[1]), r3.Scale(angles.Z, a.axis[2])))
}

// byTurn returns the change of the three angles by a small turn of the wire on the slot's
// axes.
func (a *slotAxes) byTurn(turn r3.Vec) r3.Vec {
	whole, own := rotationLogSlope(a.swing, turn), rotationLogSlope(a.swing, a.axis[0])
	roll := whole.X / own.X
	return r3.Vec{X: roll, Y: whole.Y - roll*own.Y, Z: whole.Z - roll*own.Z}
}

// slope returns the change of the axes by a small turn of the wire.
func (a *slotAxes) slope(turn r3.Vec) (d [3]r3.Vec) {
	d[0] = r3.Cross(turn, a.axis[0])
	moved := swingOf(a.byTurn(turn))
	square := r3.Norm2(a.swing)
	_, b, c := rotationCoefficients(square)
	// Derivatives of b and c by the square of the angle; the terms left out are below
	// 1e-4 up to one radian, and only Newton's tangent uses them.
	grow := 2 * r3.Dot(a.swing, moved)
	db := grow * (-1.0/24 + square*(1.0/360-square/13440))
	dc := grow * (-1.0/120 + square*(1.0/2520-square/120960))
	for i, e := range []r3.Vec{{Y: 1}, {Z: 1}} {
		x, dx := r3.Cross(a.swing, e), r3.Cross(moved, e)
		sum := r3.Add(r3.Scale(db, x), r3.Scale(b, dx))
		sum = r3.Add(sum, r3.Scale(dc, r3.Cross(a.swing, x)))
		d[1+i] = r3.Add(sum, r3.Scale(c, r3.Add(r3.Cross(moved, x), r3.Cross(a.swing, dx))))
	}
	return d
}

// onAxes are the components of a vector, given on the slot's axes.
func (a *slotAxes) onAxes(v r3.Vec) r3.Vec {
	return r3.Vec{X: r3.Dot(a.axis[0], v), Y: r3.Dot(a.axis[1], v), Z: r3.Dot(a.axis[2], v)}
}

func component(v r3.Vec, i int) float64 { return [3]float64{v.X, v.Y, v.Z}[i] }
