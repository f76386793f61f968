package beam_test

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"springwright/design/beam"
)

// line is a straight piece.
func line(lengthMM float64) beam.Piece { return beam.Piece{LengthMM: lengthMM} }

// arc is a bend about d3: it turns the wire in the d1–d2 plane, towards +d2 where the
// angle is positive.
func arc(radiusMM, angleDeg float64) beam.Piece {
	angleRad := angleDeg * math.Pi / 180
	lengthMM := radiusMM * math.Abs(angleRad)
	return beam.Piece{LengthMM: lengthMM, Curvature: r3.Vec{Z: angleRad / lengthMM}}
}

// corner is a sharp bend about d3: an arc too short to deform noticeably.
func corner(angleRad, lengthMM float64) beam.Piece {
	return beam.Piece{LengthMM: lengthMM, Curvature: r3.Vec{Z: angleRad / lengthMM}}
}

// planar is a section that bends about d3 only: the others are so stiff that a plane
// problem stays plane and stable.
func planar(ei float64) beam.Section {
	inf := math.Inf(1)
	return beam.Section{EA: inf, GA2: inf, GA3: inf, GJ: 1e4 * ei, EI2: 1e4 * ei, EI3: ei}
}

// titaniumWire is 0.4318 × 0.6350 mm wire of E = 65 GPa and G = 25 GPa, its thin side in
// the d1–d2 plane, with a shear coefficient of 5/6 and the torsion constant 0.0098797429
// mm⁴ of that rectangle (Timoshenko and Goodier, Theory of Elasticity, 3rd ed. 1970,
// article 109).
func titaniumWire() beam.Section {
	const e, g, thickMM, wideMM = 65000.0, 25000.0, 0.4318, 0.6350
	area := thickMM * wideMM
	return beam.Section{
		EA:  e * area,
		GA2: 5.0 / 6 * g * area,
		GA3: 5.0 / 6 * g * area,
		GJ:  246.993573,
		EI2: e * thickMM * wideMM * wideMM * wideMM / 12,
		EI3: e * wideMM * thickMM * thickMM * thickMM / 12,
	}
}

// unshearable takes the stretch and the shear out of a section.
func unshearable(s beam.Section) beam.Section {
	inf := math.Inf(1)
	s.EA, s.GA2, s.GA3 = inf, inf, inf
	return s
}

// verticalLoop lies in the x–y plane with its ends at (0, 0) and (8, 0).
func verticalLoop(section beam.Section) beam.Rod {
	return beam.Rod{Section: section, Pieces: []beam.Piece{
		line(2.5), arc(0.5, 90), line(6), arc(1, -180), line(6), arc(0.5, 90), line(2.5),
	}}
}

// boxLoop lies in the x–y plane with its ends at (0, 0) and (11, 0).
func boxLoop(section beam.Section) beam.Rod {
	return beam.Rod{Section: section, Pieces: []beam.Piece{
		line(2), arc(0.5, 90), line(4), arc(0.5, -90), line(5), arc(0.5, -90), line(4), arc(0.5, 90), line(2),
	}}
}

// boxHold is a share of the spatial movement that the box loop is tested with: 1, 0.5 and
// 0.8 mm and the rotation vector (5, −4, 8)°.
func boxHold(rod beam.Rod, share float64) beam.Hold {
	return moved(rod, beam.Origin(), r3.Scale(share, r3.Vec{X: 1, Y: 0.5, Z: 0.8}),
		r3.Scale(share*math.Pi/180, r3.Vec{X: 5, Y: -4, Z: 8}))
}

// moved clamps the end of a rod moved and turned from where it lies unloaded.
func moved(rod beam.Rod, base beam.Pose, shift, rotation r3.Vec) beam.Hold {
	end := rod.UnloadedEnd(base).Turned(rotation)
	end.At = r3.Add(end.At, shift)
	return beam.Clamp(end)
}

// fine are options whose integration error is below 1e-7 of the loads in every test.
func fine() beam.Options { return beam.Options{StepMM: 0.1, StepRad: 0.05, Tolerance: 1e-12} }

// parts are options that cut a rod of one straight piece into equal steps.
func parts(lengthMM float64, n int) beam.Options {
	return beam.Options{StepMM: lengthMM / float64(n), StepRad: 100, Tolerance: 1e-12}
}
