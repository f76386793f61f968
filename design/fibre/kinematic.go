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

// Stress implements Law by an implicit step that is exact for a straight way in strain:
// with the relative stress ξ = σ − α and q the plastic multiplier over σy, the end of the
// step lies on the yield surface where
//
//	(ξn/(1 + (E+H)q))² + 3 |ξt/(1 + (3G+H)q)|² = σy²,   H = E·Et/(E − Et)
//
// (radial return; Simo and Hughes, Computational Inelasticity, 1998, section 3.3).
func (k Kinematic) Stress(strain Strain, from State) (Stress, float64, float64, State) {
	h := k.EMPa * k.TangentMPa / (k.EMPa - k.TangentMPa)
	// Shear carries a third of the hardening: H/3 per engineering shear.
	relative := Stress{
		Normal: k.EMPa*(strain.Normal-from[plasticNormal]) - h*from[plasticNormal],
		Shear2: k.GMPa*(strain.Shear2-from[plasticShear2]) - h/3*from[plasticShear2],
		Shear3: k.GMPa*(strain.Shear3-from[plasticShear3]) - h/3*from[plasticShear3],
	}
	normal2 := relative.Normal * relative.Normal
	shear2 := 3 * (relative.Shear2*relative.Shear2 + relative.Shear3*relative.Shear3)
	to := from
	normalMPa, shearMPa := k.EMPa, k.GMPa
	if limit := k.YieldMPa * k.YieldMPa; normal2+shear2 > limit*(1+1e-14) {
		q := plasticMultiplier(normal2, shear2, limit, k.EMPa+h, 3*k.GMPa+h)
		byNormal, byShear := 1/(1+(k.EMPa+h)*q), 1/(1+(3*k.GMPa+h)*q)
		to[plasticNormal] += q * relative.Normal * byNormal
		to[plasticShear2] += 3 * q * relative.Shear2 * byShear
		to[plasticShear3] += 3 * q * relative.Shear3 * byShear
		normalMPa, shearMPa = k.moduli(h, q, normal2*byNormal*byNormal/limit)
	}
	return Stress{
		Normal: k.EMPa * (strain.Normal - to[plasticNormal]),
		Shear2: k.GMPa * (strain.Shear2 - to[plasticShear2]),
		Shear3: k.GMPa * (strain.Shear3 - to[plasticShear3]),
	}, normalMPa, shearMPa, to
}

// moduli returns the tangent moduli of extension and shear at a plastic step. share is how
// much of the yield condition extension takes up: all of it in bending, none in torsion.
func (k Kinematic) moduli(h, q, share float64) (normal, shear float64) {
	flowing := k.EMPa * h / (k.EMPa + h)
	resting := k.EMPa * (1 + h*q) / (1 + (k.EMPa+h)*q)
	normal = share*flowing + (1-share)*resting
	flowing = k.GMPa * h / (3*k.GMPa + h)
	resting = k.GMPa * (1 + h*q) / (1 + (3*k.GMPa+h)*q)
	return normal, (1-share)*flowing + share*resting
}

// plasticMultiplier solves a/(1+cq)² + b/(1+dq)² = limit for q > 0 by Newton's method from
// below: the left side is convex and falls, so the steps never overshoot.
func plasticMultiplier(a, b, limit, c, d float64) float64 {
	q := 0.0
	for range 50 {
		u, v := 1/(1+c*q), 1/(1+d*q)
		f := a*u*u + b*v*v - limit
		slope := -2 * (a*c*u*u*u + b*d*v*v*v)
		step := -f / slope
		q += step
		if !(step > 1e-15*q) || math.IsInf(q, 0) {
			break
		}
	}
	return q
}
