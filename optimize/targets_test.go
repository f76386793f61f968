package optimize

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"springwright/design"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/optimize/hand"

	"gonum.org/v1/gonum/spatial/r3"
)

// kindsOf are the row kinds of quantities that a search must differentiate.
func kindsOf(quantities ...target.Quantity) []string {
	var kinds []string
	for _, q := range quantities {
		kinds = append(kinds, loadKind(q))
	}
	return kinds
}

func TestJacobianOfAnchorRatioRateAndBulge(t *testing.T) {
	t.Parallel()
	plain := askingAll()
	resistance := askingAll()
	resistance.Target.AtResistance = true
	beside := spatialCase()
	beside.Target.Anchor = askingAll().Target.Anchor
	beside.Limits.CheekBulgeMM, beside.Limits.BitingReachMM = 0.5, 0.5
	beside.Limits.LargestStressRatio = 0.2
	beside.Search.Seed = 2
	asked := []target.Quantity{target.OfAnchor(tooth.ForceX), target.OfAnchor(tooth.ForceZ), target.OfAnchor(tooth.CoupleY), target.MomentToForce, target.Rate}
	for _, test := range []struct {
		name string
		c    design.Case
		work []string
	}{
		{"at the slots", plain, kindsOf(asked...)},
		{"at the centres of resistance", resistance, kindsOf(asked...)},
		{"out of the plane", beside, append(kindsOf(target.OfAnchor(tooth.ForceY), target.OfAnchor(tooth.CoupleX), target.OfAnchor(tooth.CoupleZ)), "reach", "stress")},
	} {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			jacobianAgrees(t, test.c, test.work, 50)
		})
	}
}

// The slopes of every quantity against differences, where the ratio's force is large enough
// and where it is not.
func TestQuantitySlopesMatchDifferences(t *testing.T) {
	t.Parallel()
	numbers := rand.New(rand.NewPCG(5, 5))
	vec := func(by float64) r3.Vec {
		return r3.Vec{X: by * (numbers.Float64() - 0.5), Y: by * (numbers.Float64() - 0.5), Z: by * (numbers.Float64() - 0.5)}
	}
	load := func() tooth.Load { return tooth.Load{ForceN: vec(1), CoupleNMM: vec(10)} }
	var wanted target.Target
	for _, along := range []target.Window{{Min: 0.2, Max: 1}, {Min: -1, Max: -0.2}} {
		wanted.Travel.ForceN[0] = along
		for range 50 {
			at := target.Judged{Active: load(), Anchor: load(), RateNPerMM: numbers.Float64()}
			by := target.Judged{Active: load(), Anchor: load(), RateNPerMM: numbers.Float64()}
			moved := func(share float64) target.Judged {
				add := func(a, b tooth.Load) tooth.Load {
					return tooth.Load{ForceN: r3.Add(a.ForceN, r3.Scale(share, b.ForceN)), CoupleNMM: r3.Add(a.CoupleNMM, r3.Scale(share, b.CoupleNMM))}
				}
				return target.Judged{Active: add(at.Active, by.Active), Anchor: add(at.Anchor, by.Anchor), RateNPerMM: at.RateNPerMM + share*by.RateNPerMM}
			}
			for q := range target.Quantities {
				const h = 1e-6
				want := (wanted.Value(q, moved(h)) - wanted.Value(q, moved(-h))) / (2 * h)
				// Truncation of the ratio's differences, whose third derivative is below 1e5.
				if got := wanted.Slope(q, at, by); math.Abs(got-want) > 1e-5*(1+math.Abs(want)) {
					t.Errorf("quantity %d at %+v: slope %v, by differences %v", q, at, got, want)
				}
			}
		}
	}
}

// spaceClosure asks for a force along the arch with a couple that carries the root along.
func spaceClosure(t *testing.T) design.Case {
	t.Helper()
	c := presetCase(t, "t-loop")
	c.Bender.Springs = 0
	return c
}

func TestMomentToForceRatioIsMet(t *testing.T) {
	t.Parallel()
	c := spaceClosure(t)
	free := target.FreeWindow()
	sign := math.Copysign(1, c.Goal.CentreMM.X-c.Now.CentreMM.X)
	force := func(low, high float64) target.Window {
		return target.Window{Min: min(sign*low, sign*high), Max: max(sign*low, sign*high)}
	}
	c.Target = target.Target{Start: allFree(), Travel: allFree(), ForceUntilMM: r3.Norm(r3.Sub(c.Goal.CentreMM, c.Now.CentreMM)) / 2}
	c.Target.Travel.ForceN = [3]target.Window{force(0.2, 3), free, within(0, 0.5)}
	c.Target.MomentToForceMM = target.Window{Min: 5, Max: 9}
	r := search(t, c, Options{})
	if !r.Met() {
		t.Fatalf("misses %v, exceeded %v", r.Misses, r.Exceeded)
	}
	for _, p := range r.Evaluation.Record.Positions {
		if p.TravelLeftMM < c.Target.ForceUntilMM-1e-9 {
			continue
		}
		if ratio := p.Active.CoupleNMM.Y / p.Active.ForceN.X; ratio < 5 || ratio > 9 {
			t.Errorf("ratio %v mm with %v mm left, asked 5 to 9", ratio, p.TravelLeftMM)
		}
	}
}

func TestAnchorAndRateAreMetAndMissedInWords(t *testing.T) {
	t.Parallel()
	c := demoCase(t)
	c.Bender.Springs = 0
	plain := plainDemo(t)
	first := plain.Evaluation.Record.Positions[0]
	// The demo's anchor tooth is pushed out with the force that pushes the other in. As much
	// as before can be had with room to be kept, next to nothing cannot.
	c.Target.Anchor.ForceN[2] = target.Window{Min: 1.05 * first.Anchor.ForceN.Z, Max: math.Inf(1)}
	c.Target.MaxRateNPerMM = 1.05 * plain.Traits.RateNPerMM
	r := search(t, c, Options{})
	checkMet(t, c, r)
	for _, p := range r.Evaluation.Record.Positions {
		if p.TravelLeftMM >= c.Target.ForceUntilMM && p.Anchor.ForceN.Z < c.Target.Anchor.ForceN[2].Min {
			t.Errorf("%v N on the anchor tooth, allowed %v", p.Anchor.ForceN.Z, c.Target.Anchor.ForceN[2].Min)
		}
	}
	if r.Traits.RateNPerMM > c.Target.MaxRateNPerMM {
		t.Errorf("rate %v N/mm, allowed %v", r.Traits.RateNPerMM, c.Target.MaxRateNPerMM)
	}

	c.Target.Anchor.ForceN[2].Min = -0.01
	c.Target.MaxRateNPerMM = 0.001
	misses := c.Misses(r.Evaluation.Record)
	for _, want := range []string{"extrusive force on anchor tooth 36", "load-deflection rate"} {
		if !slices.ContainsFunc(misses, func(m target.Miss) bool { return askedName(c, m) == want }) {
			t.Errorf("misses %v, want one of %q", misses, want)
		}
	}
}

func TestWeightScalesTheRowOnly(t *testing.T) {
	t.Parallel()
	window := target.Window{Min: 0.1, Max: 0.4}
	heavy := window
	heavy.Weight = 5
	one, five := newLoadTerm(hand.Term{Window: window}), newLoadTerm(hand.Term{Window: heavy})
	for _, v := range []float64{-1, 0.05, 0.2, 0.5} {
		k, r, slope := one.row(v)
		k5, r5, slope5 := five.row(v)
		if math.Abs(r5-5*r) > 1e-12*math.Abs(r) || math.Abs(slope5-5*slope) > 1e-12*math.Abs(slope) {
			t.Errorf("at %v: residual %v and slope %v of weight 5, %v and %v of weight 1", v, r5, slope5, r, slope)
		}
		if m, m5 := k.miss(r), k5.miss(r5); math.Abs(m5-m) > 1e-12*m {
			t.Errorf("at %v: misses %v and %v", v, m, m5)
		}
	}
}
