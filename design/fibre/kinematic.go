package fibre

import "math"

// Kinematic is an elastic-plastic material with a bilinear curve and linear kinematic
// hardening (Prager): the yield surface keeps its size and moves, so that after yielding
// one way the wire yields earlier the other way, as cold-worked wire does (Bauschinger
// effect). Yield by von Mises' condition on extension and torsion, σ² + 3τ² = σy².
type Kinematic struct {
	EMPa, GMPa float64
	YieldMPa   float64
	TangentMPa float64 // slope of the curve past yield, less than EMPa; 0: perfectly plastic
}

// A State of Kinematic holds nothing but zeros until it yields; then the plastic strains
// (three shares of the fibre's total). The back stress follows from them.
const (
	plasticNormal = iota
	plasticShear2
	plasticShear3
)

// Stress implements Law by an implicit step that is exact for a straight way in strain
// from the yield surface. With the relative stress ξ = σ − α and q the plastic multiplier
// over σy, the end of the step lies on the yield surface where
//
//	(ξn/(1 + (E+H)q))² + 3 |ξt/(1 + (3G+H)q)|² = σy²,   H = E·Et/(E − Et)
//
// (radial return; Simo and Hughes, Computational Inelasticity, 1998, section 3.3), and the
// tangent is that of the step.
func (k Kinematic) Stress(strain Strain, from State) (Stress, Tangent, State) {
	h := k.EMPa * k.TangentMPa / (k.EMPa - k.TangentMPa)
	to := from
	tangent := Tangent{NN: k.EMPa, SS22: k.GMPa, SS33: k.GMPa}
	// Shear carries a third of the hardening: H/3 per engineering shear.
	xn := k.EMPa*(strain.Normal-from[plasticNormal]) - h*from[plasticNormal]
	x2 := k.GMPa*(strain.Shear2-from[plasticShear2]) - h/3*from[plasticShear2]
	x3 := k.GMPa*(strain.Shear3-from[plasticShear3]) - h/3*from[plasticShear3]
	limit := k.YieldMPa * k.YieldMPa
	if normal2, shear2 := xn*xn, 3*(x2*x2+x3*x3); normal2+shear2 > limit*(1+1e-14) {
		a, b := k.EMPa+h, 3*k.GMPa+h
		q := plasticMultiplier(normal2, shear2, limit, a, b)
		u, v := 1/(1+a*q), 1/(1+b*q)
		xn, x2, x3 = u*xn, v*x2, v*x3
		to[plasticNormal] += q * xn
		to[plasticShear2] += 3 * q * x2
		to[plasticShear3] += 3 * q * x3
		// The yield condition, kept while the strain changes, gives the change of q.
		d := a*u*xn*xn + 3*b*v*(x2*x2+x3*x3)
		byNormal, byShear := k.EMPa*u, 3*k.GMPa*v
		shear := k.GMPa * (1 - q*byShear)
		tangent = Tangent{
			NN:   k.EMPa*(1-q*byNormal) - byNormal*byNormal*xn*xn/d,
			NS2:  -byNormal * byShear * xn * x2 / d,
			NS3:  -byNormal * byShear * xn * x3 / d,
			SS22: shear - byShear*byShear*x2*x2/d,
			SS23: -byShear * byShear * x2 * x3 / d,
			SS33: shear - byShear*byShear*x3*x3/d,
		}
	}
	return Stress{
		Normal: k.EMPa * (strain.Normal - to[plasticNormal]),
		Shear2: k.GMPa * (strain.Shear2 - to[plasticShear2]),
		Shear3: k.GMPa * (strain.Shear3 - to[plasticShear3]),
	}, tangent, to
}

// Elastic implements Law.
func (k Kinematic) Elastic(most Strain) bool {
	normal, shear2, shear3 := k.EMPa*most.Normal, k.GMPa*most.Shear2, k.GMPa*most.Shear3
	return normal*normal+3*(shear2*shear2+shear3*shear3) < k.YieldMPa*k.YieldMPa
}

// plasticMultiplier solves a/(1+cq)² + b/(1+dq)² = limit for q > 0 by Newton's method from
// below, where q would lie if c and d were both the larger of them, as they nearly are: the
// left side is convex and falls, so the steps never overshoot.
func plasticMultiplier(a, b, limit, c, d float64) float64 {
	q := (math.Sqrt((a+b)/limit) - 1) / max(c, d)
	for range 50 {
		u, v := 1/(1+c*q), 1/(1+d*q)
		f := a*u*u + b*v*v - limit
		slope := -2 * (a*c*u*u*u + b*d*v*v*v)
		step := -f / slope
		q += step
		if !(step > 1e-8*q) || math.IsInf(q, 0) { // the next step would be of the order of its square
			break
		}
	}
	return q
}
