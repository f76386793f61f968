package beam_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"springwright/design/beam"
)

// The rotation between a frame and the turned one is the turn, up to half a turn.
func TestRotationBetween(t *testing.T) {
	from := beam.Origin().Turned(r3.Vec{X: 0.4, Y: 1.3, Z: -0.8})
	for _, axis := range []r3.Vec{{X: 1}, {Y: -1}, {Z: 1}, r3.Unit(r3.Vec{X: 1, Y: -2, Z: 3}), r3.Unit(r3.Vec{X: -3, Y: 2, Z: 1})} {
		for _, angle := range []float64{0, 1e-9, 1e-5, 2e-4, 0.3, 1.5, 3, math.Pi - 1e-6} {
			rotation := r3.Scale(angle, axis)
			// Half a turn is where the rounding of the axes counts most.
			nearVec(t, "rotation", beam.RotationBetween(from, from.Turned(rotation)), rotation, 1e-14+1e-14*angle)
		}
		half := r3.Scale(math.Pi, axis)
		turned := from.Turned(half)
		nearVec(t, "frame after half a turn",
			from.Turned(beam.RotationBetween(from, turned)).D1, turned.D1, 1e-12)
	}
}

// A turned frame stays orthonormal and right-handed.
func TestTurnedFrame(t *testing.T) {
	p := beam.Origin().Turned(r3.Vec{X: 2, Y: -1, Z: 0.5})
	nearVec(t, "d3", r3.Cross(p.D1, p.D2), p.D3, 1e-14)
	near(t, "|d1|", r3.Norm(p.D1), 1, 1e-14)
	near(t, "d1·d2", r3.Dot(p.D1, p.D2), 0, 1e-14)
	v := r3.Vec{X: 3, Y: -4, Z: 5}
	nearVec(t, "there and back", p.ToLocal(p.ToGlobal(v)), v, 1e-13)
}

// A wrench moved to another point does the same work in a rigid motion.
func TestWrenchAbout(t *testing.T) {
	from, to := r3.Vec{X: 1, Y: 2, Z: 3}, r3.Vec{X: -2, Y: 0.5, Z: 4}
	w := beam.Wrench{ForceN: r3.Vec{X: 0.3, Y: -0.7, Z: 1.1}, MomentNMM: r3.Vec{X: 5, Y: 6, Z: -7}}
	turn, shift := r3.Vec{X: 0.2, Y: -0.4, Z: 0.1}, r3.Vec{X: 3, Y: 1, Z: -2} // shift of from
	work := r3.Dot(w.ForceN, shift) + r3.Dot(w.MomentNMM, turn)
	shift = r3.Add(shift, r3.Cross(turn, r3.Sub(to, from)))
	w = w.About(from, to)
	near(t, "work", r3.Dot(w.ForceN, shift)+r3.Dot(w.MomentNMM, turn), work, 1e-13)
}

// A bent and twisted piece is a helix: in one go or in many, and round after a whole turn.
func TestAdvance(t *testing.T) {
	curvature := r3.Vec{X: 0.3, Y: -0.5, Z: 0.7}
	start := beam.Origin().Turned(r3.Vec{Y: 0.9})
	whole, small := start.Advance(curvature, 4), start
	for range 1000 {
		small = small.Advance(curvature, 4e-3)
	}
	nearVec(t, "place", small.At, whole.At, 1e-11)
	nearVec(t, "turn", beam.RotationBetween(small, whole), r3.Vec{}, 1e-11)

	circle := start.Advance(r3.Vec{Z: 0.5}, 4*math.Pi)
	nearVec(t, "after a whole turn", circle.At, start.At, 1e-14*4*math.Pi)
	nearVec(t, "straight", start.Advance(r3.Vec{}, 3).At, start.Along(3).At, 1e-15*3)
}
