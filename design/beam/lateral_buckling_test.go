package beam_test

import (
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"springwright/design/beam"
)

// lastStable follows a dead tip load up and returns the load at which the wire loses
// stability.
func lastStable(t *testing.T, rod beam.Rod, options beam.Options, load r3.Vec) float64 {
	t.Helper()
	options.SmallestStep = 1e-6
	s := beam.NewSolver(rod, beam.Origin(), options)
	err := s.Follow(beam.Hang(beam.Wrench{ForceN: load}))
	var stall *beam.StallError
	if !errors.As(err, &stall) || !errors.Is(err, beam.ErrUnstable) {
		t.Fatalf("load %.4g: error %v, want a loss of stability", load, err)
	}
	return stall.Reached * r3.Norm(load)
}

// Lateral buckling of a cantilever strip by a tip load at the centroid: P·L² / √(EI·GJ)
// over the ratio of its bending stiffnesses. The classical 4.013 is for an infinite ratio
// (Timoshenko and Gere, Theory of Elastic Stability, 2nd ed. 1961, article 6.3); the other
// two were computed by shooting on the Cosserat equations.
func TestLateralBuckling(t *testing.T) {
	inf := math.Inf(1)
	for _, row := range []struct{ strong, critical float64 }{{inf, 4.01260}, {100, 4.05963}, {10, 4.62463}} {
		section := beam.Section{EA: inf, GA2: inf, GA3: inf, GJ: 1, EI2: 1, EI3: row.strong}
		rod := beam.Rod{Section: section, Pieces: []beam.Piece{line(1)}}
		got := lastStable(t, rod, parts(1, 40), r3.Vec{Y: -1.3 * row.critical})
		near(t, "critical load", got, row.critical, 1e-4*row.critical)
	}
}

// Right-angle frame clamped at one end with an in-plane load on the other, two senses
// (Argyris, Balmer, Doltsinis et al., Comput. Methods Appl. Mech. Eng. 17/18 (1979) 1):
// legs of 240, section 30 × 0.6, E = 71240, ν = 0.31, J = 30·0.6³/3. Literature values
// 1.088 and 0.680 (from memory); the digits below were computed by shooting on the Cosserat
// equations.
func TestRightAngleFrame(t *testing.T) {
	const e, legMM, wideMM, thickMM = 71240.0, 240.0, 30.0, 0.6
	inf := math.Inf(1)
	section := beam.Section{
		EA: inf, GA2: inf, GA3: inf,
		GJ:  e / 2.62 * wideMM * thickMM * thickMM * thickMM / 3,
		EI2: e * wideMM * thickMM * thickMM * thickMM / 12,
		EI3: e * thickMM * wideMM * wideMM * wideMM / 12,
	}
	rod := beam.Rod{Section: section, Pieces: []beam.Piece{
		line(legMM), corner(math.Pi/2, 1e-5), line(legMM),
	}}
	options := parts(legMM, 20)
	for _, row := range []struct{ sense, critical float64 }{{1, 1.08752}, {-1, 0.68043}} {
		got := lastStable(t, rod, options, r3.Vec{X: row.sense * 1.3 * row.critical})
		near(t, "critical load", got, row.critical, 1e-4*row.critical)
	}
}

// A bend of 0° has no length and changes nothing, wherever it stands.
func TestLateralBucklingWithPiecesOfNoLength(t *testing.T) {
	inf := math.Inf(1)
	section := beam.Section{EA: inf, GA2: inf, GA3: inf, GJ: 1, EI2: 1, EI3: inf}
	half, nothing := line(0.5), beam.Piece{Curvature: r3.Vec{Y: 1}}
	without := lastStable(t, beam.Rod{Section: section, Pieces: []beam.Piece{half, half}}, parts(0.5, 20), r3.Vec{Y: -5})
	for _, pieces := range [][]beam.Piece{{nothing, half, half}, {half, nothing, half}, {half, half, nothing}} {
		got := lastStable(t, beam.Rod{Section: section, Pieces: pieces}, parts(0.5, 20), r3.Vec{Y: -5})
		near(t, "critical load", got, without, 0) // the same steps, the same numbers
	}
}
