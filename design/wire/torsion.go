package wire

import "math"

// Sums of the torsion series of an infinitely long rectangle.
const (
	oddFifthPowers   = 1.00452376279513961613 // Σ 1/n⁵, n odd: 31 ζ(5)/32
	catalan          = 0.91596559417721901505 // Σ ±1/n², n odd
	torsionSeriesEnd = 13                     // the terms fall as exp(−nπa/b) with a ≥ b: the next is below 1e-18
)

// torsionFactors returns the factors of Saint-Venant torsion of a rectangle with sides a and b,
// a ≥ b > 0: torsion constant J = beta·a·b³, largest shear T/(alpha·a·b²) in the middle of the
// long sides, and gamma times that in the middle of the short sides.
//
// Source: Timoshenko and Goodier, Theory of Elasticity (1970), article 109, with each series
// written as its sum for a/b → ∞ less a remainder that falls exponentially.
func torsionFactors(a, b float64) (alpha, beta, gamma float64) {
	fifth, long, short := oddFifthPowers, 0.0, catalan
	sign := 1.0
	for n := 1.0; n <= torsionSeriesEnd; n += 2 {
		x := n * math.Pi * a / (2 * b)
		toOne := 2 / (math.Exp(2*x) + 1) // 1 − tanh x
		fifth -= toOne / (n * n * n * n * n)
		short -= sign * toOne / (n * n)
		long += 1 / (n * n * math.Cosh(x))
		sign = -sign
	}
	beta = (1 - 192/math.Pow(math.Pi, 5)*b/a*fifth) / 3
	peak := 1 - 8/(math.Pi*math.Pi)*long // shear over G·twist·b
	alpha = beta / peak
	gamma = 8 / (math.Pi * math.Pi) * short / peak
	return alpha, beta, gamma
}

// torsionConstant is J of a rectangle with sharp edges, mm⁴ for sides in mm, in either order.
func torsionConstant(t, b float64) float64 {
	long, thin := math.Max(t, b), math.Min(t, b)
	_, beta, _ := torsionFactors(long, thin)
	return beta * long * thin * thin * thin
}
