package wire

import (
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mat"
)

// Size of the boundary fit: with these, J of every orthodontic section is within 1e-5 of
// the fit with twice the terms and points.
const (
	torsionTerms  = 18
	pointsPerEdge = 20 // on each half side and on the arc of one quarter
)

// torsionField is the torsion of a rounded rectangle. Prandtl's stress function for unit
// twist and unit shear modulus, ∇²φ = −2 inside and φ = 0 on the boundary, is
//
//	φ = Re f(z) − (y² + z²)/2,   f = Σ c_k (ζ/scale)^2k,   ζ = y + iz
//
// with the c_k fitted to the boundary (Timoshenko and Goodier, Theory of Elasticity, 1970,
// article 104; boundary collocation).
type torsionField struct {
	scaleMM      float64
	coefficients []float64
	constantMM4  float64
}

// torsionField fits the torsion of a section with rounded edges; ok is false where there
// is nothing to fit: sharp edges, or no section at all.
func (o outline) torsionField() (field torsionField, ok bool) {
	return o.torsionFieldOf(torsionTerms, pointsPerEdge)
}

func (o outline) torsionFieldOf(terms, points int) (field torsionField, ok bool) {
	if !(o.radiusMM > 0) || math.IsInf(o.thicknessMM, 0) || math.IsInf(o.widthMM, 0) {
		return torsionField{}, false
	}
	// Least squares in the L² norm of the boundary, because the error of J is the boundary
	// error weighted with a shear stress that the same terms represent well: it cancels to
	// second order.
	boundary := o.quarterBoundary(points)
	scale := math.Max(o.thicknessMM, o.widthMM) / 2
	fit := mat.NewDense(len(boundary), terms, nil)
	target := mat.NewVecDense(len(boundary), nil)
	for i, p := range boundary {
		root := math.Sqrt(p.weight)
		square := (p.at / complex(scale, 0)) * (p.at / complex(scale, 0))
		power := complex(1, 0)
		for k := range terms {
			fit.Set(i, k, root*real(power))
			power *= square
		}
		radius := cmplx.Abs(p.at) / scale
		target.SetVec(i, root*radius*radius/2)
	}
	var qr mat.QR
	qr.Factorize(fit)
	var solution mat.VecDense
	if err := qr.SolveVecTo(&solution, false, target); err != nil {
		if _, poor := err.(mat.Condition); !poor || solution.Len() != terms {
			return torsionField{}, false
		}
		// Poor conditioning spoils the coefficients, not the fit.
	}

	// J = 2∫φ dA. A homogeneous polynomial p of degree m has ∫p dA = ∮ p (x·n) ds / (m+2).
	field = torsionField{scaleMM: scale, coefficients: solution.RawVector().Data}
	var integral float64
	for k, c := range field.coefficients {
		var moment float64
		for i, p := range boundary {
			moment += math.Sqrt(p.weight) * fit.At(i, k) * p.support
		}
		integral += c * 4 * moment / float64(2*k+2)
	}
	field.constantMM4 = 2*scale*scale*integral - o.inertia2MM4() - o.inertia3MM4()
	if math.IsNaN(field.constantMM4) || math.IsInf(field.constantMM4, 0) {
		return torsionField{}, false
	}
	return field, true
}

// edgeShearMM is the shear stress at a point of the boundary with the given outward
// normal, for unit twist and shear modulus: −∂φ/∂n.
func (f torsionField) edgeShearMM(at, normal complex128) float64 {
	var slope complex128 // f′
	zeta := at / complex(f.scaleMM, 0)
	power := zeta
	for k := 1; k < len(f.coefficients); k++ {
		slope += complex(2*float64(k)*f.coefficients[k], 0) * power
		power *= zeta * zeta
	}
	slope *= complex(f.scaleMM, 0) // the coefficients are φ/scale²
	// ∇ Re f = conj(f′), and a·b = Re(conj(a)·b).
	return real(cmplx.Conj(at)*normal) - real(slope*normal)
}

// boundaryPoint is a point of the quarter y ≥ 0, z ≥ 0 of the boundary.
type boundaryPoint struct {
	at      complex128 // y + iz, mm
	weight  float64    // of quadrature along the boundary, mm
	support float64    // x·n, mm
}

// quarterBoundary has Gauss points on half a wide face, the arc and half an edge face.
func (o outline) quarterBoundary(points int) []boundaryPoint {
	halfWidth, halfThickness, r := o.widthMM/2, o.thicknessMM/2, o.radiusMM
	at, weight := make([]float64, points), make([]float64, points)
	boundary := make([]boundaryPoint, 0, 3*points)
	if halfWidth > r {
		quad.Legendre{}.FixedLocations(at, weight, 0, halfWidth-r)
		for i, y := range at {
			boundary = append(boundary, boundaryPoint{complex(y, halfThickness), weight[i], halfThickness})
		}
	}
	quad.Legendre{}.FixedLocations(at, weight, 0, math.Pi/2)
	for i, angle := range at {
		sin, cos := math.Sincos(angle)
		normal := complex(cos, sin)
		p := o.arcCentre() + complex(r, 0)*normal
		boundary = append(boundary, boundaryPoint{p, weight[i] * r, real(cmplx.Conj(p) * normal)})
	}
	if halfThickness > r {
		quad.Legendre{}.FixedLocations(at, weight, 0, halfThickness-r)
		for i, z := range at {
			boundary = append(boundary, boundaryPoint{complex(halfWidth, z), weight[i], halfWidth})
		}
	}
	return boundary
}

// arcCentre is the centre of the rounding in the quarter y ≥ 0, z ≥ 0.
func (o outline) arcCentre() complex128 {
	return complex(o.widthMM/2-o.radiusMM, o.thicknessMM/2-o.radiusMM)
}
