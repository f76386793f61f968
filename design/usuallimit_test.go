package design_test

import (
	"testing"

	"springwright/design"
	"springwright/design/designtest"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// What a target leaves out gets a limit, what it names keeps its window, and "free" is free.
func TestUsualLimits(t *testing.T) {
	t.Parallel()
	wanted := target.Target{
		Start:  target.LoadWindow{ForceN: [3]target.Window{2: Within(0.1, 0.25)}, CoupleNMM: [3]target.Window{1: Within(8, 12)}},
		Travel: target.LoadWindow{ForceN: [3]target.Window{2: Within(0.05, 0.25)}, CoupleNMM: [3]target.Window{2: target.FreeWindow()}},
	}.WithUsualLimits(11)
	usual := func(least, most float64) target.Window {
		return target.Window{Min: least, Max: most, Usual: true}
	}
	want := target.LoadWindow{
		ForceN: [3]target.Window{usual(-0.35, 0.35), usual(-0.35, 0.35), Within(0.05, 0.25)},
		// 8 mm × 0.35 N; about y as far as the start asks for.
		CoupleNMM: [3]target.Window{usual(-2.8, 2.8), usual(-2.8, 12), target.FreeWindow()},
	}
	if wanted.Travel != want {
		t.Errorf("over the travel %+v, want %+v", wanted.Travel, want)
	}
	if wanted.Anchor != (target.LoadWindow{}) {
		t.Errorf("the anchor has limits, too: %+v", wanted.Anchor)
	}
	if again := wanted.WithUsualLimits(36); again != wanted {
		t.Error("limits are set twice")
	}
	ratio := target.Target{
		Travel:          target.LoadWindow{ForceN: [3]target.Window{Within(0.5, 1)}},
		MomentToForceMM: Within(9, 11),
	}.WithUsualLimits(13)
	if !ratio.Travel.CoupleNMM[1].Free() || ratio.Travel.CoupleNMM[0].Free() {
		t.Errorf("a ratio names the couple about y and no other: %+v", ratio.Travel.CoupleNMM)
	}
	freed := target.Target{Start: target.LoadWindow{ForceN: [3]target.Window{target.FreeWindow()}}}.WithUsualLimits(13)
	if !freed.Travel.ForceN[0].Free() || freed.Travel.ForceN[1].Free() {
		t.Errorf("freed at the start: %+v", freed.Travel.ForceN)
	}
}

// The limits lie where the trade puts forces: at or below 100 gf per molar, at or below 25 gf
// for the intrusion of an incisor, and less for small teeth than for large ones.
func TestUsualForcesAreThoseOfTheTrade(t *testing.T) {
	t.Parallel()
	const gramForceN = 0.00980665
	if f := target.UsualForceN(37, tooth.ForceX); f > 100*gramForceN || f < 35*gramForceN {
		t.Errorf("molar: %v N", f)
	}
	if f := target.UsualForceN(31, tooth.ForceZ); f > 26*gramForceN {
		t.Errorf("intrusion of an incisor: %v N", f)
	}
	for n := tooth.Number(11); n <= 17; n++ {
		for k := range tooth.Components {
			w, next := target.UsualLimit(n, k), target.UsualLimit(n+1, k)
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
	c := designtest.LoopCase()
	c.Target.Anchor = target.LoadWindow{ForceN: [3]target.Window{Within(-5, 5)}, CoupleNMM: [3]target.Window{target.FreeWindow()}}
	load := func(x, y, z, cx, cy, cz float64) tooth.Load {
		return tooth.Load{ForceN: r3.Vec{X: x, Y: y, Z: z}, CoupleNMM: r3.Vec{X: cx, Y: cy, Z: cz}}
	}
	record := spring.Record{Positions: []spring.Position{
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
	for _, w := range []target.Window{{}, target.FreeWindow(), {Weight: 2}} {
		for _, v := range []float64{-3, 0, 0.02} {
			if got := w.Misses(v); got != 0 {
				t.Errorf("%+v is missed by %v with %v", w, got, v)
			}
		}
	}
	for v, want := range map[float64]float64{0.1: 0.2, 0.3: 0, 0.5: 0, 0.6: 0, 0.75: 0.15} {
		if got := Within(0.3, 0.6).Misses(v); got-want > 1e-12 || want-got > 1e-12 {
			t.Errorf("0.3 to 0.6 is missed by %v with %v, want %v", got, v, want)
		}
	}
}
