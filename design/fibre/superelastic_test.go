package fibre_test

import (
	"math"
	"testing"

	"springwright/design/beam"
	"springwright/design/fibre"
)

// setA is an invented nickel-titanium with round numbers.
func setA() fibre.Superelastic {
	return fibre.Superelastic{
		EMPa: 60000, GMPa: 22556, LoadStartMPa: 520, LoadEndMPa: 600, UnloadStartMPa: 300, UnloadEndMPa: 200,
		TransformationStrain: 0.07,
	}
}

// bendTo bends a point about d2, free of other loads, to a curvature and returns the moment.
func bendTo(t testing.TB, p beam.Point, curvature float64) float64 {
	t.Helper()
	return driveTo(t, p, 2, curvature)
}

// driveTo raises one component of the load, the others zero, until its own strain comes to
// a value, and keeps it.
func driveTo(t testing.TB, p beam.Point, component int, value float64) float64 {
	t.Helper()
	var load beam.Stretch
	low, high := math.Inf(-1), math.Inf(1)
	for range 200 {
		e, c, ok := p.Respond(load)
		miss := value - e[component]
		if !ok { // above what a perfectly plastic section carries
			miss = math.Inf(-1)
		}
		if math.Abs(miss) <= 1e-12*(1+math.Abs(value)) {
			p.Keep()
			return load[component]
		}
		if miss > 0 {
			low = load[component]
		} else {
			high = load[component]
		}
		next := load[component] + miss/c[component][component]
		if !(next > low && next < high) {
			next = (low + high) / 2
		}
		load[component] = next
	}
	t.Fatalf("component %d does not reach %g", component, value)
	return 0
}

// closedMoment is the moment of a round wire on the way up, as long as the rim is on the
// plateau: that of an elastic, perfectly plastic wire plus the slope of the plateau.
func closedMoment(l fibre.Superelastic, radius, curvature float64) float64 {
	slope := 1 / (1/l.EMPa + l.TransformationStrain/(l.LoadEndMPa-l.LoadStartMPa))
	c := min(1, l.LoadStartMPa/(l.EMPa*radius)/curvature)
	root := math.Sqrt(1 - c*c)
	plastic := l.LoadStartMPa * radius * radius * radius *
		(4.0/3*root*root*root + (math.Asin(c)-c*root*(1-2*c*c))/(2*c))
	if c == 1 {
		return l.EMPa * math.Pi / 4 * math.Pow(radius, 4) * curvature
	}
	return (1-slope/l.EMPa)*plastic + slope*math.Pi/4*math.Pow(radius, 4)*curvature
}

// Moments of a 0.3556 mm wire of set A by rim strain, worked out independently from the law
// (Auricchio and Sacco, Int. J. Non-Linear Mech. 32 (1997) 1101) by closed form and by
// fibres, which agree to 5e-6.
func TestSuperelasticMomentCurvature(t *testing.T) {
	t.Parallel()
	const diameterMM = 0.3556
	law := setA()
	p := fibre.Round(law, diameterMM, 2, 200).NewPoint()
	for _, row := range []struct{ strain, momentNMM float64 }{
		{0.005, 1.324361},
		{0.01, 2.618599},
		{0.02, 3.574539},
		{0.03, 3.815186},
		{0.04, 3.933128},
		{0.035, 2.632770},
		{0.03, 2.194341},
		{0.025, 2.011028},
		{0.02, 1.848781},
		{0.015, 1.686854},
		{0.01, 1.515082},
		{0.005, 1.197750},
		{0, 0},
	} {
		got := bendTo(t, p, row.strain/(diameterMM/2))
		t.Logf("strain %5.3f: %.6f, %.1e off", row.strain, got, got-row.momentNMM)
		if math.Abs(got-row.momentNMM) > 1e-4*3.933128 {
			t.Errorf("moment at rim strain %g: got %.6f N·mm, want %.6f", row.strain, got, row.momentNMM)
		}
	}
}

func TestSuperelasticMomentClosedForm(t *testing.T) {
	t.Parallel()
	const diameterMM = 0.3556
	law := setA()
	p := fibre.Round(law, diameterMM, 2, 200).NewPoint()
	for i := 1; i <= 13; i++ { // the rim leaves the plateau at a strain of 0.08
		curvature := float64(i) * 0.006 / (diameterMM / 2)
		got, want := bendTo(t, p, curvature), closedMoment(law, diameterMM/2, curvature)
		if math.Abs(got-want) > 1e-4*4 {
			t.Errorf("moment at curvature %g: got %.6f N·mm, want %.6f", curvature, got, want)
		}
	}
}

// stretchFibre takes one fibre along strains and returns the last stress.
func stretchFibre(law fibre.Law, state *fibre.State, strains ...float64) float64 {
	var s fibre.Stress
	for _, e := range strains {
		s, _, *state = law.Stress(fibre.Strain{Normal: e}, *state)
	}
	return s.Normal
}

func TestSuperelasticPath(t *testing.T) {
	t.Parallel()
	law := setA()
	onPlateau := func(stress float64) float64 { // strain on the way up
		return stress/law.EMPa + law.TransformationStrain*(stress-law.LoadStartMPa)/(law.LoadEndMPa-law.LoadStartMPa)
	}
	for _, sign := range []float64{1, -1} {
		var s fibre.State
		near(t, "plateau", stretchFibre(law, &s, sign*onPlateau(560)), sign*560, 1e-9)
		// Half of the wire is martensite; it stays frozen down to the start of the way back.
		near(t, "elastic on the way down", stretchFibre(law, &s, sign*(onPlateau(560)-0.001)), sign*500, 1e-9)
		// Once more the way up starts at its start, now from a half to all martensite.
		again := 1 / (1/law.EMPa + 0.5*law.TransformationStrain/80)
		near(t, "and up again", stretchFibre(law, &s, sign*(540/law.EMPa+0.07*0.5+0.07*0.5*20/80)), sign*540, 1e-9)
		near(t, "slope there", stretchFibre(law, &s, sign*(540/law.EMPa+0.07*0.5+0.07*0.5*20/80+0.001)), sign*(540+0.001*again), 1e-9)
		s = fibre.State{}
		stretchFibre(law, &s, sign*onPlateau(560))
		near(t, "way back, half done", stretchFibre(law, &s, sign*(250/law.EMPa+0.07/4)), sign*250, 1e-9)
		near(t, "elastic again", stretchFibre(law, &s, sign*0.001), sign*60, 1e-9)
		near(t, "nothing left", stretchFibre(law, &s, 0), 0, 0)
		// In one go out to the other side, as if it had been there from the start.
		stretchFibre(law, &s, sign*onPlateau(560))
		near(t, "through zero", stretchFibre(law, &s, -sign*onPlateau(540)), -sign*540, 1e-9)
		near(t, "beyond the plateau", stretchFibre(law, &s, -sign*0.1), -sign*(0.1-0.07)*law.EMPa, 1e-9)
	}
}

// On a way without a reversal the law's answer must not depend on the steps.
func TestSuperelasticStepsDoNotMatter(t *testing.T) {
	t.Parallel()
	law := setA()
	for _, turn := range []float64{0.005, 0.02, 0.06, 0.09} {
		for _, back := range []float64{0.001, 0.004, 0.01, 0.05} {
			var coarse, fine fibre.State
			want := stretchFibre(law, &coarse, turn, turn-back)
			for i := 1; i <= 500; i++ {
				stretchFibre(law, &fine, turn*float64(i)/500)
			}
			var got float64
			for i := 1; i <= 500; i++ {
				got = stretchFibre(law, &fine, turn-back*float64(i)/500)
			}
			near(t, "stress in one step and in many", got, want, 1e-7*(1+math.Abs(want)))
		}
	}
}

// Without martensite a fibre is elastic up to where martensite starts, in either sense, and not beyond.
func TestElasticUpToTheStartOfMartensite(t *testing.T) {
	t.Parallel()
	l := fibre.Superelastic{EMPa: 50000, GMPa: 19000, LoadStartMPa: 400, LoadEndMPa: 420, UnloadStartMPa: 200, UnloadEndMPa: 180, TransformationStrain: 0.05}
	for _, share := range []float64{0.5, 0.99, 1.01, 2} {
		strain := share * l.LoadStartMPa / l.EMPa
		if got := l.Elastic(fibre.Strain{Normal: strain}); got != (share < 1) {
			t.Errorf("%v of the start: elastic %v", share, got)
		}
		for _, sign := range []float64{1, -1} {
			stress, _, _ := l.Stress(fibre.Strain{Normal: sign * strain}, fibre.State{})
			if elastic := math.Abs(stress.Normal-sign*l.EMPa*strain) < 1e-9; elastic != (share < 1) {
				t.Errorf("%v of the start, sense %v: stress %v MPa", share, sign, stress.Normal)
			}
		}
	}
}
