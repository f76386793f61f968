package beam

import "math"

// rotationCoefficients returns sinθ/θ, (1−cosθ)/θ² and (θ−sinθ)/θ³ for θ² = squared.
func rotationCoefficients(squared float64) (a, b, c float64) {
	if squared < 0.04 {
		// Taylor series to θ¹⁰; the first dropped term is below 1e-17 here.
		a = 1 - squared/6*(1-squared/20*(1-squared/42*(1-squared/72*(1-squared/110))))
		b = 0.5 * (1 - squared/12*(1-squared/30*(1-squared/56*(1-squared/90*(1-squared/132)))))
		c = 1.0 / 6 * (1 - squared/20*(1-squared/42*(1-squared/72*(1-squared/110*(1-squared/156)))))
		return a, b, c
	}
	theta := math.Sqrt(squared)
	sin, cos := math.Sincos(theta)
	return sin / theta, (1 - cos) / squared, (theta - sin) / (theta * squared)
}
