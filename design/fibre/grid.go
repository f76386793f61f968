package fibre

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
)

// Rectangle cuts a rectangular section, width along d2 and thickness along d3, into
// across × through fibres at Gauss–Legendre points: elastic bending and extension come out
// exactly. torsionMM4 is the section's torsion constant, which the fibres' shears are
// scaled to.
func Rectangle(law Law, widthMM, thicknessMM, torsionMM4 float64, across, through int) *Section {
	y, wy := gauss(across, widthMM)
	z, wz := gauss(through, thicknessMM)
	var fibres []Fibre
	for i := range y {
		for j := range z {
			warp2, warp3 := torsionShear(y[i], z[j], widthMM, thicknessMM)
			fibres = append(fibres, Fibre{Y: y[i], Z: z[j], AreaMM: wy[i] * wz[j], Warp2: warp2, Warp3: warp3})
		}
	}
	return scaled(law, fibres, torsionMM4)
}

// gauss returns the points and weights over −extent/2 … extent/2.
func gauss(n int, extent float64) (points, weights []float64) {
	points, weights = make([]float64, n), make([]float64, n)
	quad.Legendre{}.FixedLocations(points, weights, -extent/2, extent/2)
	return points, weights
}

// Round cuts a round section into rings × sectors fibres: Gauss points in the square of the
// radius and equal angles, which make elastic bending and extension exact.
func Round(law Law, diameterMM float64, rings, sectors int) *Section {
	radius := diameterMM / 2
	squares, weights := make([]float64, rings), make([]float64, rings)
	quad.Legendre{}.FixedLocations(squares, weights, 0, radius*radius)
	var fibres []Fibre
	for i, square := range squares {
		r := math.Sqrt(square)
		for j := range sectors {
			sin, cos := math.Sincos(2 * math.Pi * (float64(j) + 0.5) / float64(sectors))
			y, z := r*cos, r*sin
			fibres = append(fibres, Fibre{Y: y, Z: z, AreaMM: weights[i] * math.Pi / float64(sectors), Warp2: -z, Warp3: y})
		}
	}
	return &Section{Fibres: fibres, Law: law}
}

// torsionShear returns the shears ∂φ/∂z and −∂φ/∂y by a unit twist rate, φ Prandtl's
// stress function of the rectangle (Timoshenko and Goodier, Theory of Elasticity, 1970,
// article 109), its series along the thinner side so that it converges fast.
func torsionShear(y, z, width, thickness float64) (shear2, shear3 float64) {
	if thickness > width {
		s3, s2 := torsionShear(-z, y, thickness, width)
		return -s2, s3
	}
	shear2, shear3 = -2*z, 0
	sign := 1.0
	for n := 1.0; n < 60; n += 2 {
		k := n * math.Pi / thickness
		amplitude := sign * 8 * thickness * thickness / (n * n * n * math.Pi * math.Pi * math.Pi)
		// cosh(ky)/cosh(kw/2) and sinh(ky)/cosh(kw/2) without overflow.
		down, up := math.Exp(k*(math.Abs(y)-width/2)), math.Exp(-k*(math.Abs(y)+width/2))
		over := 1 + math.Exp(-k*width)
		cosh, sinh := (down+up)/over, math.Copysign((down-up)/over, y)
		sin, cos := math.Sincos(k * z)
		shear2 += amplitude * k * cosh * sin
		shear3 += amplitude * k * sinh * cos
		sign = -sign
	}
	return shear2, shear3
}

// scaled sets the shears so that ∫|shear|² dA is the torsion constant.
func scaled(law Law, fibres []Fibre, torsionMM4 float64) *Section {
	var sum float64
	for _, f := range fibres {
		sum += (f.Warp2*f.Warp2 + f.Warp3*f.Warp3) * f.AreaMM
	}
	factor := math.Sqrt(torsionMM4 / sum)
	for i := range fibres {
		fibres[i].Warp2 *= factor
		fibres[i].Warp3 *= factor
	}
	return &Section{Fibres: fibres, Law: law}
}
