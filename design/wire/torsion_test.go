package wire

import (
	"testing"

	"gonum.org/v1/gonum/floats/scalar"
)

// The classical table of Timoshenko and Goodier, Theory of Elasticity (1970), article 109,
// carried to eight decimals (gamma: four).
func TestTorsionFactorsMatchTable(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ ratio, beta, alpha, gamma float64 }{
		{1, 0.14057701, 0.20816526, 1.0000},
		{1.2, 0.16611891, 0.21893355, 0.9304},
		{1.375, 0.18453966, 0.22637619, 0.8847},
		{25.0 / 17, 0.19325200, 0.22993159, 0.8646},
		{1.5, 0.19576071, 0.23096913, 0.8590},
		{2, 0.22868168, 0.24587834, 0.7950},
		{2.5, 0.24936507, 0.25758994, 0.7663},
		{3, 0.26331693, 0.26720805, 0.7533},
		{5, 0.29131675, 0.29150020, 0.7429},
		{10, 0.31232504, 0.31232511, 0.7425},
	} {
		const b = 0.4
		alpha, beta, gamma := torsionFactors(row.ratio*b, b)
		// Half a unit of the last decimal printed.
		if !scalar.EqualWithinAbs(beta, row.beta, 0.6e-8) || !scalar.EqualWithinAbs(alpha, row.alpha, 0.6e-8) || !scalar.EqualWithinAbs(gamma, row.gamma, 0.6e-4) {
			t.Errorf("a/b %g: alpha %.8f beta %.8f gamma %.4f, want %.8f %.8f %.4f", row.ratio, alpha, beta, gamma, row.alpha, row.beta, row.gamma)
		}
	}
}

func TestTorsionConstantOfUsualWires(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ t, b, want float64 }{
		{0.4064, 0.5588, 0.0069216},
		{0.4318, 0.6350, 0.0098797},
		{0.6350, 0.4318, 0.0098797}, // either order
		{0.4572, 0.6350, 0.0112793},
		{0.4826, 0.6350, 0.0127532},
		{0.5334, 0.6350, 0.0159023},
		{0.4572, 0.4572, 0.0061424},
	} {
		if got := torsionConstant(c.t, c.b); !scalar.EqualWithinAbs(got, c.want, 0.6e-7) { // last decimal
			t.Errorf("torsionConstant(%g, %g) = %.8f, want %.7f", c.t, c.b, got, c.want)
		}
	}
}

// The boundary fit, another method, must go over into the series as the rounding vanishes.
func TestRoundedTorsionGoesOverIntoSharp(t *testing.T) {
	t.Parallel()
	for _, ratio := range []float64{1, 1.47, 2, 3} {
		o := outline{0.4, 0.4 * ratio, 1e-6}
		field, ok := o.torsionField()
		want := torsionConstant(o.thicknessMM, o.widthMM)
		// The fit's own error at corners, see torsionTerms.
		if !ok || !scalar.EqualWithinRel(field.constantMM4, want, 1e-5) {
			t.Errorf("sides in ratio %g: J %.8f, ok %t, want %.8f", ratio, field.constantMM4, ok, want)
		}
	}
}

// A square rounded to a circle has J = πr⁴/2, exactly a polynomial stress function.
func TestFullyRoundedSquareIsRound(t *testing.T) {
	t.Parallel()
	const d = 0.4
	rounded := Wire{EMPa: 65000, Poisson: 0.3, YieldMPa: 900, ThicknessMM: d, WidthMM: d, CornerRadiusMM: d / 2}
	round := Wire{EMPa: 65000, Poisson: 0.3, YieldMPa: 900, DiameterMM: d}
	got, want := rounded.Section(), round.Section()
	for _, pair := range [][2]float64{{got.EA, want.EA}, {got.GJ, want.GJ}, {got.EI2, want.EI2}, {got.EI3, want.EI3}} {
		if !scalar.EqualWithinRel(pair[0], pair[1], 1e-10) { // rounding only
			t.Errorf("stiffness %g, want %g", pair[0], pair[1])
		}
	}
	gotPlastic, wantPlastic := rounded.PlasticMomentNMM(), round.PlasticMomentNMM()
	for _, pair := range [][2]float64{{gotPlastic.X, wantPlastic.X}, {gotPlastic.Y, wantPlastic.Y}, {gotPlastic.Z, wantPlastic.Z}} {
		if !scalar.EqualWithinRel(pair[0], pair[1], 1e-12) {
			t.Errorf("plastic moment %g, want %g", pair[0], pair[1])
		}
	}
}

func TestRoundedTorsionConverges(t *testing.T) {
	t.Parallel()
	for _, ratio := range []float64{1, 1.2, 1.47, 2} {
		for _, share := range []float64{0.02, 0.1, 0.3, 0.7, 1} {
			o := outline{0.4318, 0.4318 * ratio, share * 0.4318 / 2}
			got, ok := o.torsionField()
			fine, fineOK := o.torsionFieldOf(2*torsionTerms, 3*pointsPerEdge)
			if !ok || !fineOK || !scalar.EqualWithinRel(got.constantMM4, fine.constantMM4, 1e-5) {
				t.Errorf("%+v: J %.9f, with more terms %.9f", o, got.constantMM4, fine.constantMM4)
			}
		}
	}
}

func BenchmarkSectionRounded(b *testing.B) {
	w := loopWire()
	w.CornerRadiusMM = 0.0762
	for b.Loop() {
		w.Section()
	}
}
