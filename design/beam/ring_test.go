package beam_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"springwright/design/beam"
)

// quarterRing is a quarter of a ring of unit radius and stiffness, from the unloaded side
// to the point of load. Both cuts stay square to the diameters.
func quarterRing() *beam.Solver {
	base := beam.Origin().Turned(r3.Vec{Z: math.Pi / 2})
	base.At = r3.Vec{X: 1}
	rod := beam.Rod{Section: planar(1), Pieces: []beam.Piece{arc(1, 90)}}
	return beam.NewSolver(rod, base, beam.Options{StepMM: 0.01, Tolerance: 1e-12})
}

// pull loads the ring with two opposite forces; each half carries half.
func pull(s *beam.Solver, force float64) error {
	top := s.End()
	top.At.Z = 0
	// d1 points along −x at the top, d2 along −y.
	return s.Follow(beam.Hold{
		Pose:     top,
		FreeMove: [3]bool{true, true, false},
		Load:     beam.Wrench{ForceN: r3.Vec{Y: -force / 2}},
	})
}

// Inextensible ring under two opposite dead forces, P < 0 pinching: semi-diameters under
// the load and across, and the moments there, positive where they flatten the ring.
// Reference: shooting on the elastica's equations with an adaptive 8th-order integrator,
// by continuation from the unloaded ring.
func TestRing(t *testing.T) {
	rows := [][5]float64{
		{-0.5, 0.96060050, 1.03478995, 0.16296905, -0.09572844},
		{-1, 0.91652811, 1.07061015, 0.33360572, -0.20169935},
		{-2, 0.81323536, 1.14325626, 0.69693359, -0.44632266},
		{-3, 0.68986801, 1.21219629, 1.08419832, -0.73409612},
		{-4, 0.55064662, 1.27024552, 1.48299613, -1.05749490},
		{0.5, 1.03513376, 0.96656486, -0.15541233, 0.08622889},
		{1, 1.06644108, 0.93468043, -0.30355449, 0.16378572},
		{2, 1.11929033, 0.87587797, -0.57965054, 0.29622744},
		{5, 1.22427311, 0.73655407, -1.27836617, 0.56301900},
		{10, 1.31210970, 0.58982686, -2.16997994, 0.77915434},
	}
	for _, row := range rows {
		s := quarterRing()
		if err := pull(s, row[0]); err != nil {
			t.Fatalf("P = %g: %v", row[0], err)
		}
		near(t, "loaded semi-diameter", s.End().At.Y, row[1], 1e-7)
		near(t, "free semi-diameter", 1-s.End().At.X, row[2], 1e-7)
		near(t, "moment at the load", -s.EndLoad().MomentNMM.Z, row[3], 1e-7)
		near(t, "moment at the side", s.BaseLoad().MomentNMM.Z, row[4], 1e-7)
	}
}

// Small loads: Castigliano's theorem; the same as the ring formulas in Roark's handbook
// (from memory).
func TestRingUnderSmallLoad(t *testing.T) {
	const force = 1e-4
	s := quarterRing()
	if err := pull(s, force); err != nil {
		t.Fatal(err)
	}
	// The second-order terms are of the size of the load.
	near(t, "loaded diameter", 2*(s.End().At.Y-1)/force, math.Pi/4-2/math.Pi, 1e-4)
	near(t, "free diameter", 2*s.End().At.X/force, 2/math.Pi-0.5, 1e-4)
	near(t, "moment at the load", s.EndLoad().MomentNMM.Z/force, 1/math.Pi, 1e-4)
	near(t, "moment at the side", s.BaseLoad().MomentNMM.Z/force, 0.5-1/math.Pi, 1e-4)
}
