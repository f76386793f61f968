package beam_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"springwright/design/beam"
)

// Cantilever under a dead transverse tip load P: shortening, deflection (both by L) and
// end angle over P·L²/EI. Elliptic integrals (Bisshopp and Drucker, Q. Appl. Math. 3
// (1945) 272) evaluated to 10 digits; the rows 1, 2, 5 and 10 agree with the five digits
// printed by Mattiasson, Int. J. Numer. Methods Eng. 17 (1981) 145.
func TestElastica(t *testing.T) {
	rows := [][4]float64{
		{0.1, 0.0006653999, 0.0332953193, 0.0499542558},
		{0.25, 0.0041178184, 0.0827459154, 0.1242924421},
		{0.5, 0.0159189625, 0.1621435757, 0.2445336471},
		{1, 0.0564332363, 0.3017207738, 0.4613519497},
		{2, 0.1606417208, 0.4934574804, 0.7817498316},
		{3, 0.2544201846, 0.6032534411, 0.9860169467},
		{4, 0.3289412422, 0.6699641813, 1.1212393470},
		{5, 0.3876283607, 0.7137915236, 1.2153681180},
		{6, 0.4345888287, 0.7445711489, 1.2836972860},
		{7, 0.4729274284, 0.7673690997, 1.3349598570},
		{8, 0.5048277321, 0.7849823750, 1.3744315070},
		{10, 0.5549955978, 0.8106090249, 1.4302855390},
	}
	rod := beam.Rod{Section: planar(1), Pieces: []beam.Piece{line(1)}}
	s := beam.NewSolver(rod, beam.Origin(), parts(1, 160))
	for _, row := range rows {
		mustFollow(t, s, beam.Hang(beam.Wrench{ForceN: r3.Vec{Y: row[0]}}))
		end := s.End()
		near(t, "shortening", 1-end.At.X, row[1], 1e-8)
		near(t, "deflection", end.At.Y, row[2], 1e-8)
		near(t, "end angle", math.Atan2(end.D1.Y, end.D1.X), row[3], 1e-8)
	}
}

// The same with a wire that shears: EI = 10, L = 1, P = 10; shortening and deflection over
// the shear stiffness, from Batista, Int. J. Solids Struct. 87 (2016) 153.
func TestElasticaWithShear(t *testing.T) {
	for _, row := range [][3]float64{
		{500, 0.0613156584, 0.3178138739},
		{50, 0.1032849168, 0.4654133035},
		{10, 0.2521366063, 1.1670958784},
		{5, 0.3761213991, 2.1040874728},
	} {
		section := planar(10)
		section.GA2 = row[0]
		rod := beam.Rod{Section: section, Pieces: []beam.Piece{line(1)}}
		s := beam.NewSolver(rod, beam.Origin(), parts(1, 160))
		mustFollow(t, s, beam.Hang(beam.Wrench{ForceN: r3.Vec{Y: 10}}))
		near(t, "shortening", 1-s.End().At.X, row[1], 1e-8)
		near(t, "deflection", s.End().At.Y, row[2], 1e-8)
	}
}
