package beam_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"springwright/design/beam"
)

// bend45 returns where the tip of the 45° cantilever bend lies under dead out-of-plane
// loads of 300, 450 and 600: radius 100, unit square section, E = 1e7, ν = 0 (Bathe and
// Bolourchi, Int. J. Numer. Methods Eng. 14 (1979) 961).
func bend45(t *testing.T, ga, ei, gj float64) (tips [3]r3.Vec) {
	t.Helper()
	const e = 1e7
	ea := e
	if math.IsInf(ga, 1) {
		ea = ga
	}
	rod := beam.Rod{
		Section: beam.Section{EA: ea, GA2: ga, GA3: ga, GJ: gj, EI2: ei, EI3: ei},
		Pieces:  []beam.Piece{arc(100, 45)},
	}
	s := beam.NewSolver(rod, beam.Origin(), beam.Options{StepMM: 1, StepRad: 1, Tolerance: 1e-12})
	for i, load := range []float64{300, 450, 600} {
		mustFollow(t, s, beam.Hang(beam.Wrench{ForceN: r3.Vec{Z: load}}))
		tips[i] = s.End().At
	}
	return tips
}

// Reference: two solvers (shooting on the Cosserat equations with an adaptive 8th-order
// integrator, and collocation) that agree to 10 digits.
func TestBend45AgainstCosseratEquations(t *testing.T) {
	const e = 1e7
	inf := math.Inf(1)
	for _, row := range []struct {
		ga, ei, gj float64
		tips       [3]r3.Vec
	}{
		{e / 2, e / 12, e / 12, [3]r3.Vec{
			{X: 58.779122, Y: 22.244781, Z: 40.191892},
			{X: 52.238558, Y: 18.508179, Z: 48.502927},
			{X: 47.150439, Y: 15.684801, Z: 53.474859},
		}},
		{5.0 / 6 * e / 2, 8.333e5, 8.333e5, [3]r3.Vec{
			{X: 58.778314, Y: 22.244342, Z: 40.193266},
			{X: 52.237569, Y: 18.507675, Z: 48.504242},
			{X: 47.149381, Y: 15.684299, Z: 53.476108},
		}},
		{5.0 / 6 * e / 2, e / 12, e / 2 * 0.140577, [3]r3.Vec{
			{X: 58.535709, Y: 22.112514, Z: 40.480758},
			{X: 51.969424, Y: 18.369163, Z: 48.705349},
			{X: 46.891586, Y: 15.557676, Z: 53.607986},
		}},
		{inf, e / 12, e / 12, [3]r3.Vec{
			{X: 58.779685, Y: 22.245035, Z: 40.188284},
			{X: 52.239298, Y: 18.508464, Z: 48.497983},
			{X: 47.151294, Y: 15.685078, Z: 53.468598},
		}},
	} {
		for i, tip := range bend45(t, row.ga, row.ei, row.gj) {
			nearVec(t, "tip", tip, row.tips[i], 1e-6*100) // of the radius
		}
	}
}

// Published tips. The spread among authors comes from the torsion constant and from
// few elements.
func TestBend45AgainstPublishedValues(t *testing.T) {
	tips := bend45(t, 5e6, 1e7/12, 1e7/12)
	for _, published := range []struct {
		name  string
		load  int // 0: 300, 1: 450, 2: 600
		tip   r3.Vec
		share float64 // allowed, of the tip's distance from the clamp
	}{
		// Int. J. Numer. Methods Eng. 14 (1979) 961; the load of 300 from memory.
		{"Bathe and Bolourchi", 0, r3.Vec{X: 59.2, Y: 22.5, Z: 39.5}, 0.02},
		{"Bathe and Bolourchi", 2, r3.Vec{X: 47.2, Y: 15.9, Z: 53.4}, 0.02},
		// Comput. Methods Appl. Mech. Eng. 58 (1986) 79; the loads of 300 and 450 from memory.
		{"Simo and Vu-Quoc", 0, r3.Vec{X: 58.84, Y: 22.33, Z: 40.08}, 0.007},
		{"Simo and Vu-Quoc", 1, r3.Vec{X: 52.32, Y: 18.62, Z: 48.39}, 0.007},
		{"Simo and Vu-Quoc", 2, r3.Vec{X: 47.23, Y: 15.79, Z: 53.37}, 0.007},
	} {
		nearVec(t, published.name, tips[published.load], published.tip, published.share*r3.Norm(published.tip))
	}
}
