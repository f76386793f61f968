package fibre

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
)

// Rectangle cuts a rectangular section, width along d2 and thickness along d3, into
// across × through fibres at Gauss–Legendre points: elastic bending and extension come out
// exactly. torsionMM4 is the section's torsion constant, which the fibres' shears are
// scaled to. The warping stays that of elastic torsion, so that a section wholly plastic in
// twist carries some 5 % more than the exact limit (the sand heap's) at usual proportions.
func Rectangle(law Law, widthMM, thicknessMM, torsionMM4 float64, across, through int) *Section {
	y, wy := gauss(across, -widthMM/2, widthMM/2)
	z, wz := gauss(through, -thicknessMM/2, thicknessMM/2)
	var fibres []Fibre
	for i := range y {
		for j := range z {
			if y[i] < -rounding*widthMM || z[j] < -rounding*thicknessMM { // inFours makes it
				continue
			}
			warp2, warp3 := torsionShear(y[i], z[j], widthMM, thicknessMM)
			fibres = append(fibres, Fibre{Y: y[i], Z: z[j], AreaMM2: wy[i] * wz[j], Warp2: warp2, Warp3: warp3})
		}
	}
	fibres = inFours(fibres)
	scaleTorsion(fibres, torsionMM4)
	return &Section{Fibres: fibres, Law: law}
}

// RoundedRectangle cuts a rectangle whose edges are rounded by radiusMM into rows along the
// width, a quarter of them at each rounded side. Elastic bending and extension come out
// exactly for a section of the given area and second moments, about d2 and d3, since
// places and areas are scaled by the little that the rows miss. The shears of torsion are
// those of the sharp section, scaled to the torsion constant: the corners, where they
// differ, hardly carry any.
func RoundedRectangle(law Law, widthMM, thicknessMM, radiusMM float64, want Moments, across, through int) *Section {
	side := max(1, through/4)
	edge := thicknessMM/2 - radiusMM
	var z, wz []float64
	for _, zone := range [...]struct {
		n        int
		from, to float64
	}{{side, -thicknessMM / 2, -edge}, {max(1, through-2*side), -edge, edge}, {side, edge, thicknessMM / 2}} {
		if !(zone.to > zone.from) { // the rounded sides meet
			continue
		}
		points, weights := gauss(zone.n, zone.from, zone.to)
		z, wz = append(z, points...), append(wz, weights...)
	}
	var fibres []Fibre
	for j := range z {
		width := widthMM
		if over := math.Abs(z[j]) - edge; over > 0 {
			width -= 2 * (radiusMM - math.Sqrt(radiusMM*radiusMM-over*over))
		}
		y, wy := gauss(across, -width/2, width/2)
		for i := range y {
			warp2, warp3 := torsionShear(y[i], z[j], widthMM, thicknessMM)
			fibres = append(fibres, Fibre{Y: y[i], Z: z[j], AreaMM2: wy[i] * wz[j], Warp2: warp2, Warp3: warp3})
		}
	}
	var have Moments
	for _, f := range fibres {
		have.AreaMM2 += f.AreaMM2
		have.About2MM4 += f.AreaMM2 * f.Z * f.Z
		have.About3MM4 += f.AreaMM2 * f.Y * f.Y
	}
	area := want.AreaMM2 / have.AreaMM2
	up, out := math.Sqrt(want.About2MM4/have.About2MM4/area), math.Sqrt(want.About3MM4/have.About3MM4/area)
	for i := range fibres {
		f := &fibres[i]
		f.AreaMM2, f.Y, f.Z = area*f.AreaMM2, out*f.Y, up*f.Z
	}
	scaleTorsion(fibres, want.TorsionMM4)
	return &Section{Fibres: inFours(fibres), Law: law}
}

// Moments are the integrals of a section that its elastic stiffness depends on.
type Moments struct{ AreaMM2, About2MM4, About3MM4, TorsionMM4 float64 }

// gauss returns the Gauss–Legendre points and weights from one place to another.
func gauss(n int, from, to float64) (points, weights []float64) {
	points, weights = make([]float64, n), make([]float64, n)
	quad.Legendre{}.FixedLocations(points, weights, from, to)
	return points, weights
}

// Round cuts a round section into rows of fibres across × through: Gauss–Chebyshev rows,
// whose weight is the chord's length, and Gauss–Legendre points along each chord, which
// make elastic bending, twist and extension exact. Rows resolve the part that yields better
// than rings do, and keep both mirror symmetries.
func Round(law Law, diameterMM float64, across, through int) *Section {
	radius := diameterMM / 2
	var fibres []Fibre
	for i := 1; i <= through; i++ {
		sin, cos := math.Sincos(math.Pi * float64(i) / float64(through+1))
		row := 2 * math.Pi / float64(through+1) * radius * radius * sin * sin // area
		y, share := gauss(across, -radius*sin, radius*sin)
		for j := range y {
			fibres = append(fibres, Fibre{
				Y: y[j], Z: -radius * cos, AreaMM2: row * share[j] / (2 * radius * sin),
				Warp2: radius * cos, Warp3: y[j],
			})
		}
	}
	return &Section{Fibres: inFours(fibres), Law: law}
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
		if down < 1e-18 { // so are all terms to come
			break
		}
		over := 1 + math.Exp(-k*width)
		cosh, sinh := (down+up)/over, math.Copysign((down-up)/over, y)
		sin, cos := math.Sincos(k * z)
		shear2 += amplitude * k * cosh * sin
		shear3 += amplitude * k * sinh * cos
		sign = -sign
	}
	return shear2, shear3
}

// scaleTorsion sets the shears so that ∫|shear|² dA is the torsion constant.
func scaleTorsion(fibres []Fibre, torsionMM4 float64) {
	var sum float64
	for _, f := range fibres {
		sum += (f.Warp2*f.Warp2 + f.Warp3*f.Warp3) * f.AreaMM2
	}
	factor := math.Sqrt(torsionMM4 / sum)
	for i := range fibres {
		fibres[i].Warp2 *= factor
		fibres[i].Warp3 *= factor
	}
}

// rounding is how far off its axis, over the size of the section, a point that lies on it may
// come out.
const rounding = 1e-9

// inFours returns the fibres of a section that is symmetric both ways, each four images of
// one another next to each other and equal to the last digit; those on one axis in twos
// behind them.
func inFours(fibres []Fibre) []Fibre {
	var rim float64
	for _, f := range fibres {
		rim = max(rim, math.Abs(f.Y), math.Abs(f.Z))
	}
	rounding := rounding * rim
	var fours, twos, middle []Fibre
	for _, f := range fibres {
		if f.Y < -rounding || f.Z < -rounding {
			continue
		}
		onZ, onY := f.Y <= rounding, f.Z <= rounding
		if onZ {
			f.Y, f.Warp3 = 0, 0
		}
		if onY {
			f.Z, f.Warp2 = 0, 0
		}
		other, below := f, f
		other.Y, other.Warp3 = -f.Y, -f.Warp3
		below.Z, below.Warp2 = -f.Z, -f.Warp2
		across := other
		across.Z, across.Warp2 = below.Z, below.Warp2
		switch {
		case onZ && onY:
			middle = append(middle, f)
		case onZ:
			twos = append(twos, f, below)
		case onY:
			twos = append(twos, f, other)
		default:
			fours = append(fours, f, other, below, across)
		}
	}
	return append(append(fours, twos...), middle...)
}
