package beam_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"springwright/design/beam"
)

// Reference for the loops of this file: shooting on the Cosserat equations with an adaptive
// 8th-order integrator, relative tolerance 1e-12.

// Vertical loop pulled in its plane: pull; force, couple at the end.
func TestVerticalLoop(t *testing.T) {
	rod := verticalLoop(titaniumWire())
	s := beam.NewSolver(rod, beam.Origin(), fine())
	for _, row := range [][3]float64{
		{1, 1.85762859, -5.3851616},
		{2, 3.80067137, -10.65061293},
		{3, 5.87963455, -15.81251834},
	} {
		mustFollow(t, s, moved(rod, beam.Origin(), r3.Vec{X: row[0]}, r3.Vec{}))
		nearWrench(t, "end load", s.EndLoad(), beam.Wrench{
			ForceN: r3.Vec{X: row[1]}, MomentNMM: r3.Vec{Z: row[2]},
		}, 1e-6*-row[2])
		near(t, "base couple", s.BaseLoad().MomentNMM.Z, -row[2], 1e-6*-row[2])
	}
}

// The same loop with its end turned by 10° first: pull; forces, couples at the end and base.
func TestVerticalLoopTurned(t *testing.T) {
	rod := verticalLoop(titaniumWire())
	turn := r3.Vec{Z: 10 * math.Pi / 180}
	s := beam.NewSolver(rod, beam.Origin(), fine())
	for _, row := range [][5]float64{
		{0, -1.06787965, -3.39178547, 18.41894388, 8.71533988},
		{1, 0.85379582, -2.74053892, 11.93361573, 12.73123453},
		{2, 2.84704946, -2.29867219, 5.98634719, 17.00037476},
		{3, 4.96646637, -1.98937359, 0.45458993, 21.42851959},
	} {
		mustFollow(t, s, moved(rod, beam.Origin(), r3.Vec{X: row[0]}, turn))
		nearWrench(t, "end load", s.EndLoad(), beam.Wrench{
			ForceN: r3.Vec{X: row[1], Y: row[2]}, MomentNMM: r3.Vec{Z: row[3]},
		}, 2e-5) // 1e-6 of the larger couple
		near(t, "base couple", s.BaseLoad().MomentNMM.Z, row[4], 2e-5)
	}
}

// Box loop moved and turned in space. A Lie-group integrator of order 4 gives the same.
func TestBoxLoop(t *testing.T) {
	rod := boxLoop(titaniumWire())
	s := beam.NewSolver(rod, beam.Origin(), fine())
	for _, row := range []struct {
		share            float64
		force, end, base r3.Vec
	}{
		{
			0.5,
			r3.Vec{X: 1.11376957, Y: -0.17985333, Z: 0.41761190},
			r3.Vec{X: 1.72865568, Y: 1.60080634, Z: -0.64837218},
			r3.Vec{X: -1.90499999, Y: 2.75622269, Z: 2.99512789},
		},
		{
			1,
			r3.Vec{X: 2.38489397, Y: -0.33147999, Z: 0.87175332},
			r3.Vec{X: 3.18209577, Y: 3.18555884, Z: -1.13872501},
			r3.Vec{X: -3.88315642, Y: 5.36756581, Z: 6.30893193},
		},
	} {
		mustFollow(t, s, boxHold(rod, row.share))
		tolerance := 1e-6 * r3.Norm(row.base)
		nearVec(t, "end force", s.EndLoad().ForceN, row.force, tolerance)
		nearVec(t, "end couple", s.EndLoad().MomentNMM, row.end, tolerance)
		nearVec(t, "base couple", s.BaseLoad().MomentNMM, row.base, tolerance)
	}
}
