package wire

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"
	"gonum.org/v1/gonum/spatial/r3"
)

// Classical yield and plastic moments of 0.017 × 0.025 in, yield 900 MPa.
func TestYieldAndPlasticMoments(t *testing.T) {
	t.Parallel()
	w := loopWire()
	yield, plastic := w.YieldMomentNMM(), w.PlasticMomentNMM()
	d := 0.4572
	round := Wire{YieldMPa: 900, DiameterMM: d}
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"yield, thickness", yield.Y, 17.760},
		{"yield, width", yield.Z, 26.117},
		{"yield, twist", yield.X, 14.146},
		{"plastic, thickness", plastic.Y, 26.639},
		{"plastic, width", plastic.Z, 39.175},
		{"plastic, twist", plastic.X, 23.788},
		{"round, yield", round.YieldMomentNMM().Z, math.Pi * d * d * d * 900 / 32},
		{"round, twist", round.YieldMomentNMM().X, math.Pi * d * d * d * 900 / math.Sqrt(3) / 16},
		{"round, plastic", round.PlasticMomentNMM().Y, d * d * d * 900 / 6},
	} {
		if !scalar.EqualWithinRel(c.got, c.want, 1e-4) { // printed digits
			t.Errorf("%s: %.4f N·mm, want %.4f", c.what, c.got, c.want)
		}
	}
}

func TestRoundWireCombinesBendingAndTwist(t *testing.T) {
	t.Parallel()
	w := Wire{YieldMPa: 1400, DiameterMM: 0.4064}
	m := r3.Vec{X: 5, Y: 6, Z: -2}
	d3 := math.Pow(0.4064, 3)
	sigma, tau := 32*math.Hypot(6, 2)/(math.Pi*d3), 16*5/(math.Pi*d3)
	if got, want := w.StressRatio(m), math.Sqrt(sigma*sigma+3*tau*tau)/1400; !scalar.EqualWithinRel(got, want, 1e-12) {
		t.Errorf("ratio %g, want %g", got, want)
	}
}

// The exact stresses of a sharp rectangle, scanned over its boundary; the shear of the
// narrow faces by another form of the series than the one in use.
func TestRatioNeverFallsShortOfExactStress(t *testing.T) {
	t.Parallel()
	source := rand.New(rand.NewPCG(1, 2))
	for _, size := range [][2]float64{{0.4318, 0.635}, {0.635, 0.4318}, {0.4572, 0.4572}, {0.4, 0.8}, {0.2, 1}} {
		w := Wire{EMPa: 65000, Poisson: 0.3, YieldMPa: 900, ThicknessMM: size[0], WidthMM: size[1]}
		s := w.Strength()
		exact := scanSharp(w)
		var excess float64
		for range 300 {
			m := randomMoment(source)
			got, want := s.Ratio(m), exact(m)
			if got < want*(1-1e-6) { // the scan's series stop at 1e-7
				t.Errorf("%g × %g under %v: ratio %.6f falls short of %.6f", size[0], size[1], m, got, want)
			}
			excess = math.Max(excess, got/want-1)
		}
		if excess > 0.01 { // as the documentation of Ratio promises
			t.Errorf("%g × %g: ratio exceeds the exact one by %.2f %%", size[0], size[1], 100*excess)
		}
		t.Logf("%g × %g: largest excess %.3f %%", size[0], size[1], 100*excess)
	}
}

// randomMoment spreads evenly over directions and, as springs do, often has a component
// missing.
func randomMoment(source *rand.Rand) r3.Vec {
	m := r3.Vec{X: source.NormFloat64(), Y: source.NormFloat64(), Z: source.NormFloat64()}
	switch source.IntN(4) {
	case 0:
		m.X /= 10
	case 1:
		m.Y /= 10
	case 2:
		m.Z /= 10
	}
	return r3.Scale(8, m)
}

func scanSharp(w Wire) func(r3.Vec) float64 {
	const points = 400
	type stress struct{ tau, z, y float64 } // for unit twist and shear modulus
	var boundary []stress
	long, short := math.Max(w.ThicknessMM, w.WidthMM), math.Min(w.ThicknessMM, w.WidthMM)
	for i := range points + 1 {
		share := float64(i) / points
		var cosh, cos float64
		sign := 1.0
		for n := 1.0; n < 3000; n += 2 {
			v := n * math.Pi * long / (2 * short)
			cosh += math.Exp(v*(share-1)) * (1 + math.Exp(-2*v*share)) / (1 + math.Exp(-2*v)) / (n * n)
			cos += sign * math.Tanh(v) * math.Cos(n*math.Pi/2*share) / (n * n)
			sign = -sign
		}
		onLong := short * (1 - 8/(math.Pi*math.Pi)*cosh)
		onShort := 8 * short / (math.Pi * math.Pi) * cos
		if w.WidthMM == long {
			boundary = append(boundary, stress{onLong, short / 2, share * long / 2}, stress{onShort, share * short / 2, long / 2})
		} else {
			boundary = append(boundary, stress{onLong, share * long / 2, short / 2}, stress{onShort, long / 2, share * short / 2})
		}
	}
	j := torsionConstant(long, short)
	s := w.Section()
	return func(m r3.Vec) float64 {
		var worst float64
		for _, p := range boundary {
			sigma := math.Abs(m.Y)*p.z/(s.EI2/w.EMPa) + math.Abs(m.Z)*p.y/(s.EI3/w.EMPa)
			tau := m.X * p.tau / j
			worst = math.Max(worst, math.Sqrt(sigma*sigma+3*tau*tau)/w.YieldMPa)
		}
		return worst
	}
}

// The same for rounded edges, the shear from a fit with more terms.
func TestRoundedRatioNeverFallsShort(t *testing.T) {
	t.Parallel()
	source := rand.New(rand.NewPCG(3, 4))
	for _, c := range []struct{ radiusMM, excess float64 }{
		// As the documentation of Ratio promises.
		{0.01, 0.015}, {0.0254, 0.015}, {0.0762, 0.015}, {0.1548, 0.05}, {0.2159, 0.15},
	} {
		radiusMM := c.radiusMM
		w := loopWire()
		w.CornerRadiusMM = radiusMM
		s := w.Strength()
		o := w.outline()
		fine, ok := o.torsionFieldOf(40, 80)
		if !ok {
			t.Fatal("no field")
		}
		boundary := o.quarterBoundary(100)
		shear := make([]float64, len(boundary))
		for i, p := range boundary {
			normal := complex(0, 1)
			switch fromArc := p.at - o.arcCentre(); {
			case real(fromArc) > 0 && imag(fromArc) > 0:
				normal = fromArc / complex(o.radiusMM, 0)
			case real(fromArc) > 0:
				normal = 1
			}
			shear[i] = fine.edgeShearMM(p.at, normal) / fine.constantMM4
		}
		var excess float64
		for range 200 {
			m := randomMoment(source)
			var want float64
			for i, p := range boundary {
				sigma := math.Abs(m.Y)*imag(p.at)/o.inertia2MM4() + math.Abs(m.Z)*real(p.at)/o.inertia3MM4()
				tau := m.X * shear[i]
				want = math.Max(want, math.Sqrt(sigma*sigma+3*tau*tau)/w.YieldMPa)
			}
			got := s.Ratio(m)
			if got < want*(1-2e-4) { // the fits differ that much on the arc of the smallest radius
				t.Errorf("radius %g under %v: ratio %.5f falls short of %.5f", radiusMM, m, got, want)
			}
			excess = math.Max(excess, got/want-1)
		}
		t.Logf("radius %g: largest excess %.2f %%", radiusMM, 100*excess)
		if excess > c.excess {
			t.Errorf("radius %g: ratio exceeds the exact one by %.2f %%", radiusMM, 100*excess)
		}
	}
}

func TestRatioScalesWithMomentAndNotWithSigns(t *testing.T) {
	t.Parallel()
	s := loopWire().Strength()
	m := r3.Vec{X: 3, Y: -5, Z: 4}
	want := s.Ratio(m)
	for _, other := range []r3.Vec{{X: -3, Y: -5, Z: 4}, {X: 3, Y: 5, Z: 4}, {X: 3, Y: -5, Z: -4}} {
		if got := s.Ratio(other); got != want {
			t.Errorf("ratio under %v is %g, want %g", other, got, want)
		}
	}
	if got := s.Ratio(r3.Scale(2, m)); !scalar.EqualWithinRel(got, 2*want, 1e-14) {
		t.Errorf("doubled moment: %g, want %g", got, 2*want)
	}
	if got := s.Ratio(r3.Vec{}); got != 0 {
		t.Errorf("no moment: %g, want 0", got)
	}
}

func TestRatioDoesNotAllocate(t *testing.T) {
	s := loopWire().Strength()
	if n := testing.AllocsPerRun(100, func() { s.Ratio(r3.Vec{X: 1, Y: 2, Z: 3}) }); n != 0 {
		t.Errorf("%g allocations", n)
	}
}

func BenchmarkRatio(b *testing.B) {
	s := loopWire().Strength()
	for b.Loop() {
		s.Ratio(r3.Vec{X: 1, Y: 2, Z: 3})
	}
}

func BenchmarkStrength(b *testing.B) {
	w := loopWire()
	for b.Loop() {
		w.Strength()
	}
}
