package beam_test

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"springwright/design/beam"
)

// kink is a sharp bend of a straight wire, at a share of the distance between the slots.
type kink struct{ at, angleRad float64 }

// slotCouples puts a straight wire with kinks into two aligned slots and returns the loads
// on the wire at both ends, the far one free to slide.
func slotCouples(t *testing.T, kinks ...kink) (base, end beam.Wrench) {
	t.Helper()
	const cornerMM = 1e-6
	var pieces []beam.Piece
	from := 0.0
	for _, k := range kinks {
		pieces = append(pieces, line((k.at-from)-cornerMM/2), corner(k.angleRad, cornerMM))
		from = k.at + cornerMM/2
	}
	pieces = append(pieces, line(1-from))
	s := beam.NewSolver(beam.Rod{Section: planar(1), Pieces: pieces}, beam.Origin(), parts(1, 40))
	slot := beam.Origin()
	slot.At = r3.Vec{X: 1}
	mustFollow(t, s, beam.Hold{Pose: slot, FreeMove: [3]bool{true, false, false}})
	return s.BaseLoad(), s.EndLoad()
}

// V-bend in two aligned slots: the beam formulas below, and the ratios of the couples that
// Burstone and Koenig print to one digit in Table II (Am. J. Orthod. Dentofacial Orthop. 93
// (1988) 59).
func TestVBend(t *testing.T) {
	const phi = 0.01 // the second-order terms are of the order φ²
	for _, row := range []struct{ at, printed float64 }{
		{0.1, 0.4},
		{0.2, 0.3},
		{1.0 / 3, 0},
		{0.4, -0.3},
		{0.5, -1},
	} {
		base, end := slotCouples(t, kink{row.at, phi})
		first, second := phi*(4-6*row.at), -phi*(6*row.at-2)
		near(t, "first couple", base.MomentNMM.Z, first, 1e-3*phi)
		near(t, "second couple", end.MomentNMM.Z, second, 1e-3*phi)
		near(t, "force", end.ForceN.Y, -6*phi*(1-2*row.at), 1e-3*phi)
		near(t, "ratio of the couples", end.MomentNMM.Z/base.MomentNMM.Z, row.printed, 0.051)
	}
}

// Step bend: two equal and opposite kinks give two equal couples of the same sense, which
// hardly depend on where the step is (Burstone and Koenig, same paper).
func TestStepBend(t *testing.T) {
	const phi, step = 0.01, 0.2
	for _, at := range []float64{0.1, 0.3, 0.4, 0.7} {
		base, end := slotCouples(t, kink{at, phi}, kink{at + step, -phi})
		near(t, "first couple", base.MomentNMM.Z, 6*phi*step, 1e-3*phi)
		near(t, "second couple", end.MomentNMM.Z, 6*phi*step, 1e-3*phi)
	}
}
