package design_test

import (
	"testing"

	"springwright/design"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// What a target leaves out gets a limit, what it names keeps its window, and "free" is free.
func TestUsualLimits(t *testing.T) {
	t.Parallel()
	target := design.Target{
		Start:  design.LoadWindow{ForceN: [3]design.Window{2: within(0.1, 0.25)}, CoupleNMM: [3]design.Window{1: within(8, 12)}},
		Travel: design.LoadWindow{ForceN: [3]design.Window{2: within(0.05, 0.25)}, CoupleNMM: [3]design.Window{2: design.FreeWindow()}},
	}.WithUsualLimits(11)
	usual := func(least, most float64) design.Window {
		return design.Window{Min: least, Max: most, Usual: true}
	}
	want := design.LoadWindow{
		ForceN: [3]design.Window{usual(-0.35, 0.35), usual(-0.35, 0.35), within(0.05, 0.25)},
		// 8 mm × 0.35 N; about y as far as the start asks for.
		CoupleNMM: [3]design.Window{usual(-2.8, 2.8), usual(-2.8, 12), design.FreeWindow()},
	}
	if target.Travel != want {
		t.Errorf("over the travel %+v, want %+v", target.Travel, want)
	}
	if target.Anchor != (design.LoadWindow{}) {
		t.Errorf("the anchor has limits, too: %+v", target.Anchor)
	}
	if again := target.WithUsualLimits(36); again != target {
		t.Error("limits are set twice")
	}
	ratio := design.Target{
		Travel:          design.LoadWindow{ForceN: [3]design.Window{within(0.5, 1)}},
		MomentToForceMM: within(9, 11),
	}.WithUsualLimits(13)
	if !ratio.Travel.CoupleNMM[1].Free() || ratio.Travel.CoupleNMM[0].Free() {
		t.Errorf("a ratio names the couple about y and no other: %+v", ratio.Travel.CoupleNMM)
	}
	freed := design.Target{Start: design.LoadWindow{ForceN: [3]design.Window{design.FreeWindow()}}}.WithUsualLimits(13)
	if !freed.Travel.ForceN[0].Free() || freed.Travel.ForceN[1].Free() {
		t.Errorf("freed at the start: %+v", freed.Travel.ForceN)
	}
}

// The limits lie where the trade puts forces: at or below 100 gf per molar, at or below 25 gf
// for the intrusion of an incisor, and less for small teeth than for large ones.
func TestUsualForcesAreThoseOfTheTrade(t *testing.T) {
	t.Parallel()
	const gramForceN = 0.00980665
	if f := design.UsualForceN(37, tooth.ForceX); f > 100*gramForceN || f < 35*gramForceN {
		t.Errorf("molar: %v N", f)
	}
	if f := design.UsualForceN(31, tooth.ForceZ); f > 26*gramForceN {
		t.Errorf("intrusion of an incisor: %v N", f)
	}
	for n := tooth.Number(11); n <= 17; n++ {
		for k := range tooth.Components {
			w, next := design.UsualLimit(n, k), design.UsualLimit(n+1, k)
			if w.Max > next.Max || w.Min != -w.Max || !w.Usual || w.Asked() || w.Free() {
				t.Errorf("%d, component %d: %+v, tooth %d %+v", n, k, w, n+1, next)
			}
		}
	}
}

// The anchor's load is held against the same limits, each component at its worst place, but not
// where the target speaks of it.
func TestAnchorExcesses(t *testing.T) {
	t.Parallel()
	c := loopCase()
	c.Target.Anchor = design.LoadWindow{ForceN: [3]design.Window{within(-5, 5)}, CoupleNMM: [3]design.Window{design.FreeWindow()}}
	load := func(x, y, z, cx, cy, cz float64) design.Load {
		return design.Load{ForceN: r3.Vec{X: x, Y: y, Z: z}, CoupleNMM: r3.Vec{X: cx, Y: cy, Z: cz}}
	}
	record := design.Record{Positions: []design.Position{
		{TravelLeftMM: 2, Anchor: load(3, 0.5, -0.7, 9, 6, 1)},
		{TravelLeftMM: 1, Anchor: load(3, 0.5, -0.9, 9, -6.5, 1)},
		{TravelLeftMM: 0, Anchor: load(0, 0, 0, 0, 0, 0)},
	}}
	got := c.AnchorExcesses(record)
	want := []design.AnchorExcess{
		{Component: tooth.ForceZ, Value: -0.9, Limit: 0.6, TravelLeftMM: 1},
		{Component: tooth.CoupleY, Value: -6.5, Limit: 4.8, TravelLeftMM: 1},
	}
	if len(got) != len(want) {
		t.Fatalf("%+v, want %+v", got, want)
	}
	for i := range want {
		if got[i].Component != want[i].Component || got[i].Value != want[i].Value || got[i].TravelLeftMM != want[i].TravelLeftMM || got[i].Limit-want[i].Limit > 1e-12 {
			t.Errorf("%+v, want %+v", got[i], want[i])
		}
	}
}

// What nobody asks for is missed by nothing, however the window of it is written.
func TestAFreeWindowIsNeverMissed(t *testing.T) {
	t.Parallel()
	for _, w := range []design.Window{{}, design.FreeWindow(), {Weight: 2}} {
		for _, v := range []float64{-3, 0, 0.02} {
			if got := w.Misses(v); got != 0 {
				t.Errorf("%+v is missed by %v with %v", w, got, v)
			}
		}
	}
	for v, want := range map[float64]float64{0.1: 0.2, 0.3: 0, 0.5: 0, 0.6: 0, 0.75: 0.15} {
		if got := within(0.3, 0.6).Misses(v); got-want > 1e-12 || want-got > 1e-12 {
			t.Errorf("0.3 to 0.6 is missed by %v with %v, want %v", got, v, want)
		}
	}
}
