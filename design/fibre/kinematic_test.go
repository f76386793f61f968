package fibre_test

import (
	"math"
	"testing"

	"springwright/design/fibre"
)

func steelLike() fibre.Kinematic {
	return fibre.Kinematic{EMPa: 65000, GMPa: 25000, YieldMPa: 900, TangentMPa: 6500}
}

func TestKinematicCurve(t *testing.T) {
	t.Parallel()
	law := steelLike()
	first := law.YieldMPa / law.EMPa
	bilinear := func(strain float64) float64 { return law.YieldMPa + law.TangentMPa*(strain-first) }
	var s fibre.State
	near(t, "elastic", stretchFibre(law, &s, 0.9*first), 0.9*law.YieldMPa, 1e-9)
	near(t, "past yield", stretchFibre(law, &s, 3*first), bilinear(3*first), 1e-9)
	top := bilinear(3 * first)
	// Bauschinger: the other way it yields at twice the yield stress below where it turned.
	turn := 3*first - 2*law.YieldMPa/law.EMPa
	near(t, "back, just elastic", stretchFibre(law, &s, turn), top-2*law.YieldMPa, 1e-9)
	near(t, "yield the other way", stretchFibre(law, &s, turn-first), top-2*law.YieldMPa-law.TangentMPa*first, 1e-9)
	// A closed cycle of strain closes in stress, however often.
	low := stretchFibre(law, &s, -3*first)
	near(t, "symmetric", low, -top, 1e-9)
	for range 3 {
		near(t, "up", stretchFibre(law, &s, 3*first), top, 1e-9)
		near(t, "down", stretchFibre(law, &s, -3*first), low, 1e-9)
	}
}

// The yield condition in tension with shear, and hardening in shear: a third of that in
// tension, σ² + 3τ² (von Mises).
func TestKinematicShear(t *testing.T) {
	t.Parallel()
	law := steelLike()
	law.TangentMPa = 0
	stress, _, _ := law.Stress(fibre.Strain{Shear2: 3, Shear3: 4}, fibre.State{})
	near(t, "shear yield", math.Hypot(stress.Shear2, stress.Shear3), law.YieldMPa/math.Sqrt(3), 1e-9)
	near(t, "direction", stress.Shear3/stress.Shear2, 4.0/3, 1e-12)
	stress, _, _ = law.Stress(fibre.Strain{Normal: 0.02, Shear2: 0.03, Shear3: -0.01}, fibre.State{})
	near(t, "von Mises", math.Sqrt(stress.Normal*stress.Normal+3*(stress.Shear2*stress.Shear2+stress.Shear3*stress.Shear3)), law.YieldMPa, 1e-9)

	law = steelLike()
	h := law.EMPa * law.TangentMPa / (law.EMPa - law.TangentMPa)
	slope := law.GMPa * h / (3*law.GMPa + h) // 1/(1/G + 3/H)
	first := law.YieldMPa / math.Sqrt(3) / law.GMPa
	stress, _, _ = law.Stress(fibre.Strain{Shear3: 3 * first}, fibre.State{})
	near(t, "hardening in shear", stress.Shear3, law.YieldMPa/math.Sqrt(3)+2*slope*first, 1e-9)
}

// explicit follows the rate equations of the same material by small forward steps: an
// independent way to the same stress (von Mises flow, Prager's back stress).
func explicit(law fibre.Kinematic, way []fibre.Strain, steps int) fibre.Stress {
	h := law.EMPa * law.TangentMPa / (law.EMPa - law.TangentMPa)
	var stress, back [3]float64
	var at fibre.Strain
	for _, to := range way {
		d := [3]float64{to.Normal - at.Normal, to.Shear2 - at.Shear2, to.Shear3 - at.Shear3}
		at = to
		for range steps {
			stiff := [3]float64{law.EMPa, law.GMPa, law.GMPa}
			weight := [3]float64{1, 3, 3}
			var relative, trial [3]float64
			var f, up, down float64
			for i := range d {
				trial[i] = stress[i] + stiff[i]*d[i]/float64(steps)
				relative[i] = stress[i] - back[i]
				f += weight[i] * (trial[i] - back[i]) * (trial[i] - back[i])
			}
			if f > law.YieldMPa*law.YieldMPa {
				// dλ from df = 0, flow along weight·relative.
				for i := range d {
					n := weight[i] * relative[i]
					up += n * stiff[i] * d[i] / float64(steps)
					down += n * n * (stiff[i] + h/weight[i])
				}
				if lambda := up / down; lambda > 0 {
					for i := range d {
						flow := lambda * weight[i] * relative[i]
						trial[i] -= stiff[i] * flow
						back[i] += h / weight[i] * flow
					}
				}
			}
			stress = trial
		}
	}
	return fibre.Stress{Normal: stress[0], Shear2: stress[1], Shear3: stress[2]}
}

func TestKinematicAgainstRateEquations(t *testing.T) {
	t.Parallel()
	law := steelLike()
	way := []fibre.Strain{
		{Normal: 0.02, Shear2: 0.01},
		{Normal: 0.015, Shear2: 0.03, Shear3: -0.02},
		{Normal: -0.01, Shear2: 0.01, Shear3: 0.01},
		{Normal: 0.005},
	}
	want := explicit(law, way, 40000)
	// Cut finely, the implicit steps must come to the same.
	var s fibre.State
	var got fibre.Stress
	var at fibre.Strain
	for _, to := range way {
		for i := 1; i <= 2000; i++ {
			share := float64(i) / 2000
			got, _, s = law.Stress(fibre.Strain{
				Normal: at.Normal + share*(to.Normal-at.Normal),
				Shear2: at.Shear2 + share*(to.Shear2-at.Shear2),
				Shear3: at.Shear3 + share*(to.Shear3-at.Shear3),
			}, s)
		}
		at = to
	}
	// Both are of order 1 in their steps; doubling them moves the answers by less than this.
	near(t, "normal", got.Normal, want.Normal, 0.5)
	near(t, "shear 2", got.Shear2, want.Shear2, 0.5)
	near(t, "shear 3", got.Shear3, want.Shear3, 0.5)
	// In steps as large as a spring takes them it must stay close.
	s, at = fibre.State{}, fibre.Strain{}
	for _, to := range way {
		for i := 1; i <= 8; i++ {
			share := float64(i) / 8
			got, _, s = law.Stress(fibre.Strain{
				Normal: at.Normal + share*(to.Normal-at.Normal),
				Shear2: at.Shear2 + share*(to.Shear2-at.Shear2),
				Shear3: at.Shear3 + share*(to.Shear3-at.Shear3),
			}, s)
		}
		at = to
	}
	near(t, "normal, large steps", got.Normal, want.Normal, 0.02*law.YieldMPa)
	near(t, "shear 2, large steps", got.Shear2, want.Shear2, 0.02*law.YieldMPa)
	near(t, "shear 3, large steps", got.Shear3, want.Shear3, 0.02*law.YieldMPa)
}

func TestTangents(t *testing.T) {
	t.Parallel()
	var yielded, martensitic fibre.State
	kinematic, superelastic := steelLike(), setA()
	_, _, yielded = kinematic.Stress(fibre.Strain{Normal: 0.02, Shear2: 0.01, Shear3: -0.02}, yielded)
	stretchFibre(superelastic, &martensitic, 0.04, 0.03)
	for name, c := range map[string]struct {
		law  fibre.Law
		from fibre.State
		at   fibre.Strain
	}{
		"elastic":            {kinematic, fibre.State{}, fibre.Strain{Normal: 0.005, Shear2: 0.001}},
		"virgin, yielding":   {kinematic, fibre.State{}, fibre.Strain{Normal: 0.02, Shear2: 0.01, Shear3: 0.02}},
		"yielding again":     {kinematic, yielded, fibre.Strain{Normal: -0.01, Shear2: 0.03, Shear3: 0.01}},
		"on the plateau":     {superelastic, fibre.State{}, fibre.Strain{Normal: 0.03, Shear2: 0.01}},
		"on the way back":    {superelastic, martensitic, fibre.Strain{Normal: 0.02, Shear3: 0.01}},
		"frozen, unloading":  {superelastic, martensitic, fibre.Strain{Normal: 0.029}},
		"through to the far": {superelastic, martensitic, fibre.Strain{Normal: -0.03}},
	} {
		_, tangent, _ := c.law.Stress(c.at, c.from)
		const h = 1e-7
		slope := func(d fibre.Strain) [3]float64 {
			up, _, _ := c.law.Stress(fibre.Strain{Normal: c.at.Normal + d.Normal, Shear2: c.at.Shear2 + d.Shear2, Shear3: c.at.Shear3 + d.Shear3}, c.from)
			down, _, _ := c.law.Stress(fibre.Strain{Normal: c.at.Normal - d.Normal, Shear2: c.at.Shear2 - d.Shear2, Shear3: c.at.Shear3 - d.Shear3}, c.from)
			return [3]float64{(up.Normal - down.Normal) / (2 * h), (up.Shear2 - down.Shear2) / (2 * h), (up.Shear3 - down.Shear3) / (2 * h)}
		}
		want := [3][3]float64{
			{tangent.NN, tangent.NS2, tangent.NS3},
			{tangent.NS2, tangent.SS22, tangent.SS23},
			{tangent.NS3, tangent.SS23, tangent.SS33},
		}
		for j, d := range []fibre.Strain{{Normal: h}, {Shear2: h}, {Shear3: h}} {
			got := slope(d)
			for i := range got {
				near(t, name, got[i], want[i][j], 0.05) // central differences of stresses good to 1e-10
			}
		}
	}
}
