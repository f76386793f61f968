package fibre_test

import (
	"math"
	"testing"

	"springwright/design/beam"
	"springwright/design/fibre"
)

// A 0.017 × 0.025 in wire; torsion factors of Timoshenko and Goodier (1970), article 109.
const (
	thick, wide = 0.4318, 0.6350
	torsion     = 0.19325200 * wide * thick * thick * thick
)

func rectangle(law fibre.Law, across, through int) *fibre.Section {
	return fibre.Rectangle(law, wide, thick, torsion, across, through)
}

func TestElasticSections(t *testing.T) {
	t.Parallel()
	law := steelLike()
	const radius = 0.0762
	area := wide*thick - (4-math.Pi)*radius*radius
	// Second moments 4.65 % and 4.90 % below the sharp section's: exact area integrals.
	rounded := fibre.Moments{
		AreaMM2: area, About2MM4: 0.9535 * wide * thick * thick * thick / 12, About3MM4: 0.951 * thick * wide * wide * wide / 12,
		TorsionMM4: 0.9927 * torsion,
	}
	const d = 0.4
	for name, c := range map[string]struct {
		section *fibre.Section
		want    fibre.Moments
	}{
		"rectangle": {rectangle(law, 2, 4), fibre.Moments{AreaMM2: wide * thick, About2MM4: wide * thick * thick * thick / 12, About3MM4: thick * wide * wide * wide / 12, TorsionMM4: torsion}},
		"rounded":   {fibre.RoundedRectangle(law, wide, thick, radius, rounded, 6, 16), rounded},
		"round":     {fibre.Round(law, d, 2, 3), fibre.Moments{AreaMM2: math.Pi * d * d / 4, About2MM4: math.Pi * d * d * d * d / 64, About3MM4: math.Pi * d * d * d * d / 64, TorsionMM4: math.Pi * d * d * d * d / 32}},
	} {
		load := beam.Stretch{10, 2, 3, -4}
		e, _, ok := c.section.NewPoint().Respond(load)
		if !ok {
			t.Fatalf("%s: no response", name)
		}
		for i, stiffness := range [4]float64{law.EMPa * c.want.AreaMM2, law.GMPa * c.want.TorsionMM4, law.EMPa * c.want.About2MM4, law.EMPa * c.want.About3MM4} {
			near(t, name, e[i]*stiffness, load[i], 1e-9)
		}
	}
}

// The rows of a rounded section must come close to it by themselves, so that the scaling
// to its exact moments (here 16.3 % and 18.1 % below the sharp section's) does not distort
// them. The outermost Gauss points lie at 95 % of the half thickness and 93 % of the half
// width.
func TestRoundedRowsNeedLittleScaling(t *testing.T) {
	t.Parallel()
	const radius = 0.1548
	area := wide*thick - (4-math.Pi)*radius*radius
	s := fibre.RoundedRectangle(steelLike(), wide, thick, radius, fibre.Moments{AreaMM2: area, About2MM4: 0.837 * wide * thick * thick * thick / 12, About3MM4: 0.819 * thick * wide * wide * wide / 12, TorsionMM4: torsion}, 6, 16)
	var top, side float64
	for _, f := range s.Fibres {
		top, side = max(top, f.Z), max(side, f.Y)
	}
	if top > thick/2 || top < 0.94*thick/2 || side > wide/2 || side < 0.9*wide/2 {
		t.Errorf("outermost fibres at %.4f and %.4f mm of %.4f and %.4f", top, side, thick/2, wide/2)
	}
}

// Fully plastic moments, classical: σy·a·b²/4 and, of a round wire, σy·d³/6; the elastic,
// perfectly plastic moment at a curvature, σy·a·b²/4·(1 − c²/3) with c = κy/κ.
func TestPlasticMoments(t *testing.T) {
	t.Parallel()
	law := steelLike()
	law.TangentMPa = 0
	yield := law.YieldMPa / (law.EMPa * thick / 2)
	full := law.YieldMPa * wide * thick * thick / 4
	s := rectangle(law, 2, 16)
	p := s.NewPoint()
	near(t, "at first yield", bendTo(t, p, yield), full/1.5, 1e-9*full)
	for _, times := range []float64{1.5, 2, 4} {
		near(t, "elastic-plastic", bendTo(t, p, times*yield), full*(1-1/(3*times*times)), 3e-3*full)
	}
	for name, c := range map[string]struct {
		load beam.Stretch
		want float64
	}{
		"thickness": {beam.Stretch{0, 0, 1, 0}, full},
		"width":     {beam.Stretch{0, 0, 0, 1}, law.YieldMPa * thick * wide * wide / 4},
	} {
		// 16 Gauss points integrate the corner of |z| to 3e-3.
		near(t, "fully plastic, "+name, limit(rectangle(law, 16, 16), c.load)/c.want, 1, 3.1e-3)
	}
	const d = 0.4
	near(t, "fully plastic, round", limit(fibre.Round(law, d, 16, 24), beam.Stretch{0, 0, 1, 0})/(law.YieldMPa*d*d*d/6), 1, 3e-3)
	near(t, "fully plastic, round in twist", limit(fibre.Round(law, d, 16, 24), beam.Stretch{0, 1, 0, 0})/(law.YieldMPa/math.Sqrt(3)*math.Pi*d*d*d/12), 1, 3e-3)
}

// limit is the largest multiple of a load that a section carries.
func limit(s *fibre.Section, load beam.Stretch) float64 {
	low, high := 0.0, 1000.0
	for range 40 {
		mid := (low + high) / 2
		scaled := load
		for i := range scaled {
			scaled[i] *= mid
		}
		if _, _, ok := s.NewPoint().Respond(scaled); ok {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// Twist to the limit of a rectangle (sand heap, Nádai) and twist with bending between the
// quarter ellipse of Hill and Siebel (Phil. Mag. 42 (1951) 722; J. Mech. Phys. Solids 1
// (1953) 207), a lower bound, and the square of both.
func TestPlasticTwistAndBending(t *testing.T) {
	t.Parallel()
	law := steelLike()
	law.TangentMPa = 0
	s := rectangle(law, 12, 12)
	bending := law.YieldMPa * wide * thick * thick / 4
	twisting := law.YieldMPa / math.Sqrt(3) * thick * thick * (3*wide - thick) / 6
	alone := limit(s, beam.Stretch{0, 1, 0, 0}) / twisting
	t.Logf("twist alone: %.4f of the sand heap", alone)
	// The elastic warping kept makes this an upper bound.
	if alone < 0.998 || alone > 1.05 {
		t.Errorf("fully plastic twist is %.4f of the sand heap's", alone)
	}
	for _, angle := range []float64{0.3, 0.8, 1.2} {
		sin, cos := math.Sincos(angle)
		r := limit(s, beam.Stretch{0, twisting * sin, bending * cos, 0})
		t.Logf("bending %.3f, twist %.3f: %.4f of the quarter ellipse", r*cos, r*sin, r)
		if r < 0.998 || r > 1.06 {
			t.Errorf("bending and twist at %g rad: %.4f of the quarter ellipse", angle, r)
		}
	}
}

// Fibres lose the strips next to the rim, so first yield comes a little late.
func TestFirstYield(t *testing.T) {
	t.Parallel()
	law := steelLike()
	s := rectangle(law, 12, 16)
	elastic := beam.Stretch{0, law.GMPa * torsion, law.EMPa * wide * thick * thick * thick / 12, 0}
	for _, angle := range []float64{0, 0.4, 0.8, 1.2, math.Pi / 2} {
		sin, cos := math.Sincos(angle)
		// First yield in the middle of the long side: σ² + 3τ² = σy², τ = T/(α a b²).
		bend, twist := 6/(wide*thick*thick), 1/(0.22993159*wide*thick*thick)
		want := law.YieldMPa / math.Hypot(bend*cos, math.Sqrt(3)*twist*sin)
		low, high := 0.0, 2*want
		for range 50 {
			mid := (low + high) / 2
			e, _, ok := s.NewPoint().Respond(beam.Stretch{0, mid * sin, mid * cos, 0})
			if ok && math.Abs(e[1]*elastic[1]-mid*sin)+math.Abs(e[2]*elastic[2]-mid*cos) < 1e-7 {
				low = mid
			} else {
				high = mid
			}
		}
		if low/want < 0.999 || low/want > 1.03 {
			t.Errorf("first yield at angle %g: %.4f of the exact load", angle, low/want)
		}
	}
}

// Along a way with bending both ways and twist, more fibres must not move the answer much.
func TestFibreCounts(t *testing.T) {
	t.Parallel()
	run := func(across, through int) beam.Stretch {
		p := rectangle(steelLike(), across, through).NewPoint()
		var e beam.Stretch
		for _, load := range []beam.Stretch{{0, 0, 22, 0}, {1, 12, 20, 15}, {0, 4, -8, 20}, {}} {
			var ok bool
			if e, _, ok = p.Respond(load); !ok {
				t.Fatalf("no response to %v", load)
			}
			p.Keep()
		}
		return e
	}
	want := run(24, 48)
	previous := math.Inf(1)
	for _, n := range []int{6, 12, 24} {
		got := run(n/2, n)
		var miss, size float64
		for i := range got {
			if i > 0 {
				miss, size = max(miss, math.Abs(got[i]-want[i])), max(size, math.Abs(want[i]))
			}
		}
		t.Logf("%d × %d fibres: remaining curvature off by %.2f %%", n/2, n, 100*miss/size)
		if miss > previous {
			t.Errorf("%d fibres through the thickness are worse than fewer", n)
		}
		previous = miss
		if n >= 12 && miss > 0.05*size {
			t.Errorf("%d fibres: off by %.3g of %.3g", n, miss, size)
		}
	}
}

// Respond must invert the sum over the fibres: checked through its own compliance.
func TestComplianceIsTheSlope(t *testing.T) {
	t.Parallel()
	for name, section := range map[string]*fibre.Section{
		"yielding": rectangle(steelLike(), 6, 12), "superelastic": fibre.Round(setA(), 0.3556, 8, 16),
	} {
		p := section.NewPoint()
		for _, load := range []beam.Stretch{{0, 1, 2.5, 0.3}, {2, 1.5, -1, 2.8}, {0, 15, 2.2, 1}} {
			if name == "yielding" {
				for i := range load {
					load[i] *= 6
				}
			}
			_, c, ok := p.Respond(load)
			if !ok {
				t.Fatalf("%s: no response to %v", name, load)
			}
			for j := range load {
				const h = 1e-6
				up, down := load, load
				up[j] += h
				down[j] -= h
				a, _, _ := p.Respond(up)
				b, _, _ := p.Respond(down)
				for i := range a {
					near(t, name, (a[i]-b[i])/(2*h), c[i][j], 1e-5*math.Sqrt(c[i][i]*c[j][j]))
				}
			}
			p.Respond(load)
			p.Keep()
		}
	}
}

func TestAbsurdLoads(t *testing.T) {
	t.Parallel()
	plastic := steelLike()
	plastic.TangentMPa = 0
	for name, section := range map[string]*fibre.Section{
		"hardening": rectangle(steelLike(), 4, 8), "plastic": rectangle(plastic, 4, 8), "superelastic": fibre.Round(setA(), 0.3556, 4, 8),
	} {
		p := section.NewPoint()
		for _, load := range []beam.Stretch{
			{math.NaN()}, {0, math.Inf(1)}, {0, 0, 1e300}, {0, 0, 0, -math.MaxFloat64}, {1e9, 1e9, 1e9, 1e9}, {0, 0, math.NaN(), 1},
		} {
			e, c, ok := p.Respond(load)
			if !ok {
				continue
			}
			for i := range e {
				if math.IsNaN(e[i]) || math.IsNaN(c[i][i]) {
					t.Errorf("%s: %v answered with %v as if all were well", name, load, e)
				}
			}
		}
		// It is none the worse for it.
		if _, _, ok := p.Respond(beam.Stretch{0, 0, 1, 0}); !ok {
			t.Errorf("%s: no response to an easy load after absurd ones", name)
		}
	}
	if _, _, ok := rectangle(plastic, 4, 8).NewPoint().Respond(beam.Stretch{0, 0, 1000, 0}); ok {
		t.Error("a perfectly plastic section carries more than its plastic moment")
	}
}

// A section that lies across twists as one that stands upright, to yield and beyond it, to rounding: what tells whether it
// is still elastic looks at both shears, and at warping of either sign.
func TestTwistOfASectionOnItsSide(t *testing.T) {
	t.Parallel()
	law := steelLike()
	flat, upright := rectangle(law, 12, 16), fibre.Rectangle(law, thick, wide, torsion, 16, 12)
	for _, share := range []float64{0.5, 0.95, 1.02, 1.1, 1.3} {
		twist := share * law.YieldMPa / math.Sqrt(3) * 0.22993159 * wide * thick * thick // of the first yield, in the middle of the long side
		one, _, ok := flat.NewPoint().Respond(beam.Stretch{0, twist, 0, 0})
		other, _, also := upright.NewPoint().Respond(beam.Stretch{0, twist, 0, 0})
		if !ok || !also || math.Abs(one[1]/other[1]-1) > 1e-3 { // the two cut the corners otherwise
			t.Errorf("%v of the first yield: %v and %v rad/mm (%v, %v)", share, one[1], other[1], ok, also)
		}
	}
}
