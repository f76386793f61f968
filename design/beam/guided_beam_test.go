package beam_test

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"springwright/design/beam"
)

// guided moves the end of a straight wire sideways, its direction held and free to slide
// along its slot.
func guided(s *beam.Solver, lengthMM, sideMM float64) error {
	end := beam.Origin()
	end.At = r3.Vec{X: lengthMM, Y: sideMM}
	return s.Follow(beam.Hold{Pose: end, FreeMove: [3]bool{true, false, false}})
}

// Clamped straight wire, EI = L = 1: offset; force, each end's moment, shortening. Reference:
// shooting on the elastica's equations with an adaptive 8th-order integrator.
func TestGuidedBeam(t *testing.T) {
	rod := beam.Rod{Section: planar(1), Pieces: []beam.Piece{line(1)}}
	s := beam.NewSolver(rod, beam.Origin(), parts(1, 200))
	for _, row := range [][4]float64{
		{0.05, 0.60154736, 0.30032213, 0.00150129},
		{0.1, 1.21248816, 0.60259406, 0.00602070},
		{0.2, 2.50356924, 1.22131885, 0.02433787},
		{0.3, 3.97239122, 1.87542604, 0.05576972},
		{0.4, 5.77217299, 2.59204383, 0.10188283},
		{0.5, 8.18601465, 3.41598362, 0.16540984},
		{0.6, 11.84578892, 4.43523373, 0.25117124},
	} {
		if err := guided(s, 1, row[0]); err != nil {
			t.Fatalf("offset %g: %v", row[0], err)
		}
		near(t, "force", s.EndLoad().ForceN.Y, row[1], 1e-7)
		near(t, "sliding force", s.EndLoad().ForceN.X, 0, 1e-10)
		near(t, "base moment", s.BaseLoad().MomentNMM.Z, -row[2], 1e-7)
		near(t, "end moment", s.EndLoad().MomentNMM.Z, -row[2], 1e-7)
		near(t, "shortening", 1-s.End().At.X, row[3], 1e-7)
	}
}

// An 8 mm wire that can slide in its slot: offset; force, base moment, end place. Reference
// as above, with stretch and shear.
func TestStraightWireFreeToSlide(t *testing.T) {
	rod := beam.Rod{Section: titaniumWire(), Pieces: []beam.Piece{line(8)}}
	s := beam.NewSolver(rod, beam.Origin(), fine())
	for _, row := range [][4]float64{
		{0.5, 3.22873423, -12.88486536, 7.98137255},
		{1, 6.53574379, -25.89852962, 7.92519732},
		{2, 13.74286237, -52.88204283, 7.69592846},
	} {
		if err := guided(s, 8, row[0]); err != nil {
			t.Fatalf("offset %g mm: %v", row[0], err)
		}
		near(t, "force", s.EndLoad().ForceN.Y, row[1], 1e-6*row[1])
		near(t, "moment", s.EndLoad().MomentNMM.Z, row[2], 1e-6*-row[2])
		near(t, "place", s.End().At.X, row[3], 1e-6)
	}
}

// The same wire that cannot slide carries much larger axial forces: offset; axial and
// transverse force and end moment. Reference as above.
func TestStraightWireClamped(t *testing.T) {
	rod := beam.Rod{Section: titaniumWire(), Pieces: []beam.Piece{line(8)}}
	s := beam.NewSolver(rod, beam.Origin(), fine())
	for _, row := range [][4]float64{
		{0.25, 10.28962457, 1.99124498, -6.67877685},
		{0.5, 40.42122118, 6.20349002, -14.70865479},
		{1, 153.95961299, 28.68289923, -37.75179044},
	} {
		mustFollow(t, s, moved(rod, beam.Origin(), r3.Vec{Y: row[0]}, r3.Vec{}))
		nearWrench(t, "end load", s.EndLoad(), beam.Wrench{
			ForceN: r3.Vec{X: row[1], Y: row[2]}, MomentNMM: r3.Vec{Z: row[3]},
		}, 1e-6*row[1])
		near(t, "base moment", s.BaseLoad().MomentNMM.Z, row[3], 1e-6*row[1])
	}
}
