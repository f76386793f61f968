package beam_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"springwright/design/beam"
)

// tipFlexibility returns the shift of the free end by a unit force, from two small
// opposite forces.
func tipFlexibility(t *testing.T, rod beam.Rod, options beam.Options, force r3.Vec) r3.Vec {
	t.Helper()
	const small = 1e-3
	var tip [2]r3.Vec
	for i, f := range []float64{-small, small} {
		s := beam.NewSolver(rod, beam.Origin(), options)
		mustFollow(t, s, beam.Hang(beam.Wrench{ForceN: r3.Scale(f, force)}))
		tip[i] = s.End().At
	}
	return r3.Scale(1/(2*small), r3.Sub(tip[1], tip[0]))
}

// curvedBeam is MacNeal and Harder's quarter circle: radii 4.12 and 4.32, 0.1 thick,
// E = 1e7, ν = 0.25 (Finite Elem. Anal. Des. 1 (1985) 3). The wire's line is at the mean
// radius.
func curvedBeam(shearCoefficient float64) beam.Rod {
	const e, g, deep, thick = 1e7, 4e6, 0.2, 0.1
	inf := math.Inf(1)
	section := beam.Section{
		EA: inf, GA2: inf, GA3: inf,
		GJ:  g * 0.228682 * deep * thick * thick * thick, // Timoshenko and Goodier, a/b = 2
		EI2: e * deep * thick * thick * thick / 12,
		EI3: e * thick * deep * deep * deep / 12,
	}
	if shearCoefficient > 0 {
		section.EA = e * deep * thick
		section.GA2 = shearCoefficient * g * deep * thick
		section.GA3 = section.GA2
	}
	return beam.Rod{Section: section, Pieces: []beam.Piece{arc(4.22, 90)}}
}

// Curved beam under unit tip loads: Castigliano's theorem, and the published values, which
// are those of solid elements.
func TestCurvedBeam(t *testing.T) {
	const r = 4.22
	kirchhoff, shear := curvedBeam(0), curvedBeam(5.0/6)
	options := beam.Options{StepMM: 10, StepRad: 0.03, Tolerance: 1e-13}
	ei, eiOut, gj := kirchhoff.Section.EI3, kirchhoff.Section.EI2, kirchhoff.Section.GJ

	// The tip's tangent is +y, so y is tangential there and x radial.
	radial := tipFlexibility(t, kirchhoff, options, r3.Vec{X: 1}).X
	near(t, "radial", radial, math.Pi*r*r*r/(4*ei), 1e-6*radial)
	out := tipFlexibility(t, kirchhoff, options, r3.Vec{Z: 1}).Z
	near(t, "out of plane", out, r*r*r*(math.Pi/4/eiOut+(3*math.Pi/4-2)/gj), 1e-6*out)
	tangential := tipFlexibility(t, kirchhoff, options, r3.Vec{Y: 1}).Y
	near(t, "tangential", tangential, r*r*r*(3*math.Pi/4-2)/ei, 1e-6*tangential)

	ga, ea := shear.Section.GA2, shear.Section.EA
	near(t, "radial with shear", tipFlexibility(t, shear, options, r3.Vec{X: 1}).X,
		radial+math.Pi*r/4*(1/ga+1/ea), 1e-6*radial)
	near(t, "out of plane with shear", tipFlexibility(t, shear, options, r3.Vec{Z: 1}).Z,
		out+math.Pi*r/2/ga, 1e-6*out)
	near(t, "published radial", radial, 0.08734, 0.015*0.08734)
	near(t, "published out of plane", out, 0.5022, 0.015*0.5022)
}

// twistedStrip is MacNeal and Harder's strip, twisted by 90° from root to tip: length 12,
// width 1.1, E = 29e6, ν = 0.22.
func twistedStrip(thick, shearCoefficient float64) beam.Rod {
	const e, wide, length = 29e6, 1.1, 12.0
	inf := math.Inf(1)
	section := beam.Section{
		EA: inf, GA2: inf, GA3: inf,
		// The tip loads do not twist the strip at first order.
		GJ:  e / 2.44 * wide * thick * thick * thick / 3,
		EI2: e * thick * wide * wide * wide / 12,
		EI3: e * wide * thick * thick * thick / 12,
	}
	if shearCoefficient > 0 {
		section.GA2 = shearCoefficient * e / 2.44 * wide * thick
		section.GA3 = section.GA2
	}
	return beam.Rod{Section: section, Pieces: []beam.Piece{
		{LengthMM: length, Curvature: r3.Vec{X: math.Pi / 2 / length}},
	}}
}

// Twisted strip under unit tip loads. The rod's values are integrals of the bending
// energy; the published ones are MacNeal and Harder's.
func TestTwistedStrip(t *testing.T) {
	options := beam.Options{StepMM: 0.1, Tolerance: 1e-13}
	// At the tip the width direction d3 has turned to −y.
	for _, row := range []struct {
		shear, width, thickness float64
	}{
		{0, 0.00542588, 0.00174618},
		{5.0 / 6, 0.00542932, 0.00174962},
	} {
		rod := twistedStrip(0.32, row.shear)
		width := tipFlexibility(t, rod, options, r3.Vec{Y: 1})
		thickness := tipFlexibility(t, rod, options, r3.Vec{Z: 1})
		near(t, "along the width", width.Y, row.width, 1e-8)
		near(t, "along the thickness", thickness.Z, row.thickness, 1e-8)
		near(t, "across", math.Abs(width.Z), 0.00171874, 1e-8)
		near(t, "reciprocal", width.Z, thickness.Y, 1e-9)
		near(t, "published, width", width.Y, 0.005424, 0.003*0.005424)
		near(t, "published, thickness", thickness.Z, 0.001754, 0.0045*0.001754)
	}
}
