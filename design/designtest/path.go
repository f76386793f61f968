package designtest

import (
	"math"

	"springwright/design/beam"
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

// Degree turns an angle in degrees to rad.
func Degree(angle float64) float64 { return angle * math.Pi / 180 }

// UnloadedEnd is where a path leads from the origin; no test of a path depends on the section.
func UnloadedEnd(p spring.Path) beam.Pose { return UnloadedEndOf(p.Steps()) }

// UnloadedEndOf is where steps lead from the origin, tidy or not.
func UnloadedEndOf(s spring.Steps) beam.Pose {
	return beam.Rod{Pieces: s.Pieces()}.UnloadedEnd(beam.Origin())
}

// Far is how far two poses are apart, mm and rad in one number.
func Far(a, b beam.Pose) float64 {
	return r3.Norm(r3.Sub(a.At, b.At)) + r3.Norm(r3.Sub(a.D1, b.D1)) + r3.Norm(r3.Sub(a.D2, b.D2)) + r3.Norm(r3.Sub(a.D3, b.D3))
}
