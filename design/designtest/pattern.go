package designtest

import (
	"math"
	"testing"

	"springwright/design/beam"
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

// CheckParameters holds a pattern's derivatives of the path against finite differences at x.
func CheckParameters(t *testing.T, pattern spring.Pattern, x []float64) {
	t.Helper()
	steps := pattern.StepsFor(x)
	pieces := steps.Pieces()
	for i, parameter := range pattern.Parameters(steps) {
		f := pattern.Freedoms[i]
		if parameter.Piece != f.Step {
			t.Errorf("%s changes piece %d, not its own step %d", f.Name, parameter.Piece, f.Step)
		}
		const h = 1e-6
		moved := func(by float64) []beam.Piece {
			y := append([]float64(nil), x...)
			y[i] += by
			return pattern.StepsFor(y).Pieces()
		}
		up, down := moved(h), moved(-h)
		for k := range pieces {
			length := (up[k].LengthMM - down[k].LengthMM) / (2 * h)
			curvature := r3.Scale(1/(2*h), r3.Sub(up[k].Curvature, down[k].Curvature))
			var want beam.Parameter
			if k == parameter.Piece {
				want = parameter
			}
			if math.Abs(length-want.LengthMM) > 1e-8 || r3.Norm(r3.Sub(curvature, want.Curvature)) > 1e-8 {
				t.Errorf("%s, %s on piece %d: length by %v, curvature by %v; differences give %v and %v",
					pattern.Family, f.Name, k, want.LengthMM, want.Curvature, length, curvature)
			}
		}
	}
}
