package fibre

import "math"

// Superelastic is nickel-titanium that turns into stress-induced martensite and back
// (Auricchio and Sacco, Int. J. Non-Linear Mech. 32 (1997) 1101). With the share ξ of
// martensite, ε = σ/E + εL ξ sgn σ. ξ grows while the stress rises between LoadStartMPa and
// LoadEndMPa and falls while it falls between UnloadStartMPa and UnloadEndMPa:
//
//	dξ = (1 − ξ) d|σ| / (LoadEnd − |σ|),   dξ = ξ d|σ| / (|σ| − UnloadEnd)
//
// Both integrate to straight lines. Torsion stays elastic: measured rectangular wires hardly
// show a plateau in it (Angle Orthod 2010;80:1100).
type Superelastic struct {
	EMPa, GMPa                   float64
	LoadStartMPa, LoadEndMPa     float64
	UnloadStartMPa, UnloadEndMPa float64
	TransformationStrain         float64 // εL
}

// A State of Superelastic is the share of martensite, the sign of its strain, and the
// stress last kept, counted along that sign.
const (
	martensite = iota
	sense
	lastStress
)

// Stress implements Law.
func (l Superelastic) Stress(strain Strain, from State) (Stress, Tangent, State) {
	sign := from[sense]
	if from[martensite] == 0 {
		sign = math.Copysign(1, strain.Normal)
		if from[sense]*sign < 0 {
			from[lastStress] = 0 // it passed through zero on the way
		}
	}
	along, modulus, share := l.along(sign*strain.Normal, from[martensite], from[lastStress])
	if along < 0 {
		// All the way back and out on the other side: there it starts without martensite.
		sign = -sign
		along, modulus, share = l.along(sign*strain.Normal, 0, 0)
	}
	return Stress{Normal: sign * along, Shear2: l.GMPa * strain.Shear2, Shear3: l.GMPa * strain.Shear3},
		Tangent{NN: modulus, SS22: l.GMPa, SS33: l.GMPa},
		State{martensite: share, sense: sign, lastStress: along}
}

// Elastic implements Law.
func (l Superelastic) Elastic(most Strain) bool { return l.EMPa*most.Normal < l.LoadStartMPa }

// along answers a strain counted along the sense of the martensite, from a share of it and
// a stress.
func (l Superelastic) along(strain, share, from float64) (stress, modulus, newShare float64) {
	stress = l.EMPa * (strain - l.TransformationStrain*share)
	switch {
	case stress > from && stress > l.LoadStartMPa && share < 1:
		start := max(from, l.LoadStartMPa)
		if start >= l.LoadEndMPa {
			break
		}
		// On the line 1 − ξ = (1 − ξ0) (LoadEnd − σ)/(LoadEnd − start).
		slope := (1 - share) / (l.LoadEndMPa - start)
		modulus = 1 / (1/l.EMPa + l.TransformationStrain*slope)
		onLine := modulus * (strain - l.TransformationStrain*(1-slope*l.LoadEndMPa))
		if onLine <= l.LoadEndMPa {
			return onLine, modulus, 1 - slope*(l.LoadEndMPa-onLine)
		}
		return l.EMPa * (strain - l.TransformationStrain), l.EMPa, 1
	case stress < from && stress < l.UnloadStartMPa && share > 0:
		start := min(from, l.UnloadStartMPa)
		if start <= l.UnloadEndMPa {
			// Below the end of the way back no martensite is left.
			return l.EMPa * strain, l.EMPa, 0
		}
		slope := share / (start - l.UnloadEndMPa)
		modulus = 1 / (1/l.EMPa + l.TransformationStrain*slope)
		onLine := modulus * (strain + l.TransformationStrain*slope*l.UnloadEndMPa)
		if onLine >= l.UnloadEndMPa {
			return onLine, modulus, slope * (onLine - l.UnloadEndMPa)
		}
		return l.EMPa * strain, l.EMPa, 0
	}
	return stress, l.EMPa, share
}
