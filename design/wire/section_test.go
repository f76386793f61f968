package wire

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"
	"gonum.org/v1/gonum/spatial/r3"
)

// loopWire is 0.017 × 0.025 in beta-titanium.
func loopWire() Wire {
	return Wire{EMPa: 65000, Poisson: 0.30, YieldMPa: 900, ThicknessMM: 0.4318, WidthMM: 0.635}
}

// Loss of area, of bending stiffness across the thickness and the width, and of torsion
// stiffness, in %: independent integrals and collocation. The last row is the measured
// loss of area, for which Rucker and Kusy, Am J Orthod Dentofacial Orthop 2002;122:528,
// measured 15–19 % of bending stiffness.
func TestRoundedEdgesLowerStiffness(t *testing.T) {
	t.Parallel()
	sharp := loopWire().Section()
	for _, c := range []struct {
		radiusMM float64
		want     [4]float64
	}{
		{0.0254, [4]float64{-0.20, -0.57, -0.58, -0.02}},
		{0.0508, [4]float64{-0.81, -2.18, -2.26, -0.19}},
		{0.0762, [4]float64{-1.82, -4.65, -4.90, -0.73}},
		{0.1016, [4]float64{-3.23, -7.84, -8.39, -1.86}},
		{0.1270, [4]float64{-5.05, -11.6, -12.6, -3.75}},
		{0.1548, [4]float64{-7.50, -16.3, -18.1, -6.85}},
	} {
		w := loopWire()
		w.CornerRadiusMM = c.radiusMM
		s := w.Section()
		got := [4]float64{s.EA / sharp.EA, s.EI2 / sharp.EI2, s.EI3 / sharp.EI3, s.GJ / sharp.GJ}
		for i := range got {
			if change := 100 * (got[i] - 1); !scalar.EqualWithinAbs(change, c.want[i], 0.05) { // printed to 0.1 %
				t.Errorf("radius %g: change %d is %.3f %%, want %.2f %%", c.radiusMM, i, change, c.want[i])
			}
		}
	}
}

// Rounded-section integrals against a plain sum over strips.
func TestOutlineIntegralsMatchStrips(t *testing.T) {
	t.Parallel()
	for _, o := range []outline{{0.4318, 0.635, 0.1}, {0.6, 0.4, 0.2}, {0.5, 0.5, 0.03}} {
		const strips = 20000
		var area, inertia, plastic float64
		for i := range strips {
			z := (float64(i) + 0.5) / strips * o.thicknessMM / 2
			into := math.Max(0, z-(o.thicknessMM/2-o.radiusMM))
			breadth := o.widthMM - 2*o.radiusMM + 2*math.Sqrt(o.radiusMM*o.radiusMM-into*into)
			strip := 2 * breadth * o.thicknessMM / 2 / strips
			area, inertia, plastic = area+strip, inertia+strip*z*z, plastic+strip*z
		}
		// The midpoint rule at the vertical tangent of the arc: order 3/2, 1e-6 here.
		for _, pair := range [][2]float64{{o.areaMM2(), area}, {o.inertia2MM4(), inertia}, {plasticModulusMM3(o.thicknessMM, o.widthMM, o.radiusMM), plastic}} {
			if !scalar.EqualWithinRel(pair[0], pair[1], 2e-6) {
				t.Errorf("%+v: %g, by strips %g", o, pair[0], pair[1])
			}
		}
	}
}

func TestSectionOfUsualWires(t *testing.T) {
	t.Parallel()
	flat := loopWire().Section()
	for _, c := range []struct {
		what            string
		got, want, tolR float64
	}{
		// Sides and second moments to the decimals of the published sizes.
		{"area", flat.EA / 65000, 0.274193, 2e-6},
		{"inertia about d2", flat.EI2 / 65000, 0.00426030, 2e-6},
		{"inertia about d3", flat.EI3 / 65000, 0.00921346, 1e-6},
		{"torsion constant", flat.GJ / 25000, 0.0098797, 5e-6},
		{"shear coefficient", flat.GA2 / 25000 / 0.274193, 0.84967, 1e-5}, // Cowper 1966
		{"round inertia", Wire{EMPa: 1, DiameterMM: 0.3556}.Section().EI2, 7.84904e-4, 1e-6},
		{"round shear coefficient", Wire{EMPa: 2.6, Poisson: 0.3, DiameterMM: 2}.Section().GA3 / math.Pi, 0.88636, 1e-5},
	} {
		if !scalar.EqualWithinRel(c.got, c.want, c.tolR) {
			t.Errorf("%s %g, want %g", c.what, c.got, c.want)
		}
	}
}

func TestAbsurdWiresDoNotPanic(t *testing.T) {
	t.Parallel()
	absurd := []float64{0, -1, 1e-300, 1e300, 0.4, math.NaN(), math.Inf(1), math.Inf(-1)}
	for _, a := range absurd {
		for _, b := range absurd {
			for _, c := range absurd {
				for _, w := range []Wire{
					{EMPa: 65000, Poisson: 0.3, YieldMPa: 900, ThicknessMM: a, WidthMM: b, CornerRadiusMM: c},
					{EMPa: a, Poisson: b, YieldMPa: c, ThicknessMM: 0.4, WidthMM: 0.6, CornerRadiusMM: 0.1},
					{EMPa: a, Poisson: b, YieldMPa: c, DiameterMM: 0.4},
					{EMPa: 65000, Poisson: 0.3, YieldMPa: b, DiameterMM: a},
				} {
					_ = w.Section()
					_ = w.StressRatio(r3.Vec{X: a, Y: b, Z: c})
					_, _ = w.YieldMomentNMM(), w.PlasticMomentNMM()
					for order := range 4 {
						refusedOrSound(t, w, func() (float64, error) { return w.OverbendRad(b, c, order) })
					}
					refusedOrSound(t, w, func() (float64, error) { return w.TorsionalPlayRad(a) })
					refusedOrSound(t, w, func() (float64, error) { return w.SecondOrderPlayRad(a, c) })
				}
			}
		}
	}
}

func refusedOrSound(t *testing.T, w Wire, f func() (float64, error)) {
	t.Helper()
	if v, err := f(); err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
		t.Errorf("%+v: %g without an error", w, v)
	}
}
