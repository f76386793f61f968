package effect_test

import (
	"errors"
	"math"
	"slices"
	"testing"

	"springwright/design"
	"springwright/design/designtest"
	"springwright/design/effect"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// alignedCase is two slots of no length at one level, with a wire stiff enough to count as
// linear.
func alignedCase(along float64) design.Case {
	return design.Case{
		Teeth: tooth.Pair{Anchor: 36, Active: 37},
		Now:   design.Placement{CentreMM: r3.Vec{X: along, Z: -0.01}},
		Goal:  design.Placement{CentreMM: r3.Vec{X: along}}, Positions: 2,
		Wire: designtest.Titanium(),
	}
}

func wireOf(t *testing.T, spec string) wire.Wire {
	t.Helper()
	w, err := wire.ParseSpec(spec)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// Burstone and Koenig, Am J Orthod 1974;65:270: the six classes by the ratio of the smaller
// couple to the larger. A ratio between two of them belongs to the nearer.
func TestGeometryClasses(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		active, anchor float64
		want           string
	}{
		{10, 10, "I"},
		{8, 10, "II"},
		{10, 8, "II"},
		{-5, -10, "III"},
		{0, 10, "IV"},
		{-10, 0, "IV"},
		{-4, 10, "V"},
		{10, -10, "VI"},
		{0.91, 1, "I"},
		{0.89, 1, "II"},
		{0.26, 1, "III"},
		{0.24, 1, "IV"},
		{-0.21, 1, "V"},
		{-0.71, 1, "VI"},
		{0.05, 0.05, ""}, // less than what anybody could tell from nothing
	} {
		p := spring.Position{
			Active: tooth.Load{CoupleNMM: r3.Vec{Y: c.active}},
			Anchor: tooth.Load{CoupleNMM: r3.Vec{Y: c.anchor}},
		}
		if got := effect.ClassOf(p).String(); got != c.want {
			t.Errorf("couples %v and %v are class %q, want %q", c.active, c.anchor, got, c.want)
		}
	}
}

// Burstone and Koenig, Am J Orthod Dentofacial Orthop 1988;93:59: a V-bend in a wire in two
// aligned slots, by where it stands; their Table II prints the ratios 0.4, 0.3, 0.0, −0.3
// and −1.0. With the bend φ at a:
//
//	M1 = (EIφ/L)(4 − 6a/L), M2 = −(EIφ/L)(6a/L − 2)
func TestVBendTable(t *testing.T) {
	t.Parallel()
	const lengthMM, kinkRad = 30, 0.01 // so long that shear, 12EI/(GA·L²), takes less than a thousandth
	for share, want := range map[float64]float64{0.1: 0.412, 0.2: 0.286, 1.0 / 3: 0, 0.4: -0.25, 0.5: -1} {
		s := effect.StraightSpring(alignedCase(lengthMM), "V-bend", designtest.Titanium())
		s.Start, s.Positions = s.End, 1
		s.Path = spring.PathOf(
			spring.StraightStep(share*lengthMM), spring.BendStep(kinkRad, 0.25), spring.StraightStep((1-share)*lengthMM),
		)
		p := designtest.Evaluate(t, s).Record.Positions[0]
		m1, m2 := p.Anchor.CoupleNMM.Y, p.Active.CoupleNMM.Y
		// The table has three digits; the bend is an arc of 0.0025 mm and the angle finite.
		if got := m2 / m1; math.Abs(got-want) > 1.5e-3 {
			t.Errorf("bend at %.2f of the way: ratio %.4f, want %.3f", share, got, want)
		}
		ei := designtest.Titanium().Section().EI2
		if want := ei * kinkRad / lengthMM * (4 - 6*share); math.Abs(math.Abs(m1)-math.Abs(want)) > 1e-3*ei*kinkRad/lengthMM*4 {
			t.Errorf("bend at %.2f of the way: couple %v, want %v", share, m1, want)
		}
	}
}

// A straight wire between slots of no length one step apart bends to an S: both couples are
// F·L/2, class I (Burstone and Koenig 1974); for a small step F = 12EI·d/L³.
func TestStraightWireAcrossAStepIsClassI(t *testing.T) {
	t.Parallel()
	const lengthMM, stepMM = 30, 0.01
	c := alignedCase(lengthMM)
	p := designtest.Evaluate(t, effect.StraightSpring(c, "step", designtest.Titanium())).Record.Positions[0]
	forceN := 12 * designtest.Titanium().Section().EI2 * stepMM / (lengthMM * lengthMM * lengthMM)
	// Shear takes 12EI/(GA·L²), 0.7 thousandths, off.
	if got := p.Active.ForceN.Z; math.Abs(got-forceN) > 1e-3*forceN {
		t.Errorf("force %v N, want %v", got, forceN)
	}
	for _, couple := range []float64{p.Active.CoupleNMM.Y, p.Anchor.CoupleNMM.Y} {
		if want := forceN * lengthMM / 2; math.Abs(couple-want) > 1e-3*want {
			t.Errorf("couple %v N·mm, want %v", couple, want)
		}
	}
	c.Now.CentreMM.Z = -0.5
	big := designtest.Evaluate(t, effect.StraightSpring(c, "step", designtest.Titanium())).Record.Positions[0]
	if effect.ClassOf(big).String() != "I" || math.Abs(big.Active.ForceN.X) > 1e-6 {
		t.Errorf("a larger step is class %v with %v N along the free way", effect.ClassOf(big), big.Active.ForceN.X)
	}
}

func TestACandidateThatYieldsHasNoFigures(t *testing.T) {
	t.Parallel()
	c := alignedCase(10)
	c.Now.CentreMM.Z, c.Positions = -2, 5
	steel, err := effect.NewCandidate(t.Context(), "stainless 0.016", "", effect.StraightSpring(c, "", wireOf(t, "stainless steel 0.016in")))
	if err != nil {
		t.Fatal(err)
	}
	if len(steel.Positions()) != 0 || steel.Withheld == nil {
		t.Fatalf("figures of a wire that yields: %+v", steel.Positions())
	}
	// Linear statics: σ = 3E·d_wire·step/L² reaches the yield stress at this step.
	elasticMM := 1400 * 100 / (3 * 170000 * 0.4064)
	withheld, ok := errors.AsType[*effect.WithheldError](steel.Withheld)
	if !ok || !errors.Is(withheld, solve.ErrYield) || math.Abs(withheld.ElasticMM-elasticMM) > 0.05*elasticMM {
		t.Errorf("elastic for %v mm by hand: %v", elasticMM, steel.Withheld)
	}
}

// What is compared is what drives the travel, above 0 where it drives it on.
func TestComparedFollowsTheTravel(t *testing.T) {
	t.Parallel()
	at := r3.Vec{X: 14}
	teeth := tooth.Pair{Anchor: 16, Active: 13} // +x mesial, +y palatal
	for _, c := range []struct {
		now                  design.Placement
		senses, anchorSenses []string
		load                 tooth.Load
	}{
		{design.Placement{CentreMM: r3.Vec{X: 15}}, []string{"distal", "crown-mesial"}, []string{"distal", "crown-mesial"}, tooth.Load{ForceN: r3.Vec{X: -1}}},
		{design.Placement{CentreMM: r3.Vec{X: 14, Z: -1}}, []string{"intrusive", "crown-mesial"}, []string{"intrusive", "crown-mesial"}, tooth.Load{ForceN: r3.Vec{Z: 1}}},
		{design.Placement{CentreMM: at, Rotation: r3.Vec{X: 0.1}}, []string{"crown-labial", "crown-mesial"}, []string{"crown-buccal", "crown-mesial"}, tooth.Load{CoupleNMM: r3.Vec{X: -1}}},
		{design.Placement{CentreMM: at, Rotation: r3.Vec{Y: -0.1}}, []string{"crown-distal"}, []string{"crown-distal"}, tooth.Load{CoupleNMM: r3.Vec{Y: 1}}},
	} {
		list := effect.ComparedLoads(design.Case{Teeth: teeth, Now: c.now, Goal: design.Placement{CentreMM: at}, Positions: 2})
		var senses, anchorSenses []string
		for _, k := range list {
			senses = append(senses, teeth.ActiveMember().Sense(k.Component, k.Sign))
			anchorSenses = append(anchorSenses, teeth.AnchorMember().Sense(k.Component, k.Sign))
		}
		if !slices.Equal(senses, c.senses) || !slices.Equal(anchorSenses, c.anchorSenses) || list[0].Of(c.load) != 1 {
			t.Errorf("%+v: %q and %q, the load is %v", c.now, senses, anchorSenses, list[0].Of(c.load))
		}
	}
}
