package beam_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"springwright/design/beam"
)

// Williams' toggle (Q. J. Mech. Appl. Math. 17 (1964) 451), half of it: a clamped inclined
// strut whose apex is pushed down and kept from moving sideways or turning. Drop of the
// apex; load on both halves; thrust. Data from memory (EI = 9274 lb·in², EA = 1.885e6 lb,
// half span 12.943 in, rise 0.386 in). Reference: shooting on the elastica's equations with
// an adaptive 8th-order integrator.
func TestToggle(t *testing.T) {
	const halfSpan, rise = 12.943, 0.386
	inf := math.Inf(1)
	section := beam.Section{EA: 1.885e6, GA2: inf, GA3: inf, GJ: 1e6, EI2: 1e6, EI3: 9274}
	length := math.Hypot(halfSpan, rise)
	rod := beam.Rod{Section: section, Pieces: []beam.Piece{line(length)}}
	base := beam.Origin().Turned(r3.Vec{Z: math.Atan2(rise, halfSpan)})
	s := beam.NewSolver(rod, base, parts(length, 60))
	load := func(drop float64) (force, thrust float64) {
		mustFollow(t, s, moved(rod, base, r3.Vec{Y: -drop}, r3.Vec{}))
		return -2 * s.EndLoad().ForceN.Y, -s.EndLoad().ForceN.X
	}

	for _, row := range [][3]float64{
		{0.1, 25.205796, 365.16723},
		{0.2, 33.500953, 589.74648},
		{0.3, 32.847254, 672.92623},
		{0.4, 31.301301, 621.40828},
		{0.5, 36.094288, 446.41792},
		{0.6, 53.311488, 158.52287},
		{0.7, 88.186339, -235.40243},
	} {
		force, thrust := load(row[0])
		near(t, "load", force, row[1], 1e-5*row[1])
		near(t, "thrust", thrust, row[2], 1e-5*math.Abs(row[2]))
	}
	for _, limit := range []struct{ drop, force, sign float64 }{
		{0.232128, 33.871804, 1},
		{0.391622, 31.279999, -1},
	} {
		at, _ := load(limit.drop)
		before, _ := load(limit.drop - 0.01)
		after, _ := load(limit.drop + 0.01)
		near(t, "limit load", at, limit.force, 1e-5*at)
		if limit.sign*(at-before) <= 0 || limit.sign*(at-after) <= 0 {
			t.Errorf("loads %g, %g, %g about the limit point", before, at, after)
		}
	}
}
