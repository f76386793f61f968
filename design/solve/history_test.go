package solve_test

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"springwright/design/beam"
	"springwright/design/designtest"
	"springwright/design/notice"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// yieldReference is a spring solved past yield as a 3-D elastic-plastic solid (CalculiX
// 2.20; see the files).
type yieldReference struct {
	Positions []struct {
		DzMM          float64    `json:"dz_mm"`
		ForceOnTooth  [3]float64 `json:"force_on_tooth_n"`
		CoupleOnTooth [3]float64 `json:"couple_on_tooth_nmm"`
	} `json:"positions"`
}

// yieldLoop is the spring of design/beam/testdata/solid3d-yield.json.
func yieldLoop(startMM float64, positions int) spring.Spring {
	return spring.Spring{
		Path: spring.PathOf(
			spring.StraightStep(4), spring.BendStep(math.Pi/2, 0.6), spring.StraightStep(8), spring.BendStep(-math.Pi/2, 0.6),
			spring.StraightStep(10), spring.BendStep(-math.Pi/2, 0.6), spring.StraightStep(8), spring.BendStep(-math.Pi/2, 0.6),
			spring.StraightStep(5),
		),
		Wire: wire.Wire{
			EMPa: 65000, Poisson: 0.3, YieldMPa: 900, TangentMPa: 6500,
			ThicknessMM: 0.4318, WidthMM: 0.635,
		},
		Heading:   spring.Back,
		Start:     spring.Seat{AtMM: r3.Vec{X: 10.2, Z: startMM}},
		End:       spring.Seat{AtMM: r3.Vec{X: 10.2}},
		Positions: positions,
	}
}

// From its farthest point on, the spring is let go as over a travel.
func TestHistoryAgainstSolid(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		file                  string
		farthestMM, betweenMM float64 // positions so close that the loads in between are as good as straight
	}{
		{"solid3d-yield.json", -9, 0.225},
		{"solid3d-lift.json", 8, 0.1},
	} {
		t.Run(c.file, func(t *testing.T) {
			t.Parallel()
			text, err := os.ReadFile("../beam/testdata/" + c.file)
			if err != nil {
				t.Fatal(err)
			}
			var reference yieldReference
			if err := json.Unmarshal(text, &reference); err != nil {
				t.Fatal(err)
			}
			farthest := 0
			var force, couple float64
			for i, p := range reference.Positions {
				if math.Abs(p.DzMM) > math.Abs(reference.Positions[farthest].DzMM) {
					farthest = i
				}
				force, couple = max(force, r3.Norm(vec(p.ForceOnTooth))), max(couple, r3.Norm(vec(p.CoupleOnTooth)))
			}
			solid := yieldLoop(c.farthestMM, 1+int(math.Round(math.Abs(c.farthestMM)/c.betweenMM)))
			solid.Wire.StressRelieved = true // as the solid is
			e := designtest.Evaluate(t, solid)
			if !e.History {
				t.Fatal("solved without history")
			}
			var forceMiss, coupleMiss float64
			for _, p := range reference.Positions[farthest:] {
				at := math.Abs(p.DzMM-c.farthestMM) / c.betweenMM
				i := min(int(at), len(e.Record.Positions)-2)
				between := func(a, b r3.Vec) r3.Vec {
					share := at - float64(i)
					return r3.Add(r3.Scale(1-share, a), r3.Scale(share, b))
				}
				before, after := e.Record.Positions[i].Active, e.Record.Positions[i+1].Active
				forceMiss = max(forceMiss, r3.Norm(r3.Sub(between(before.ForceN, after.ForceN), vec(p.ForceOnTooth))))
				coupleMiss = max(coupleMiss, r3.Norm(r3.Sub(between(before.CoupleNMM, after.CoupleNMM), vec(p.CoupleOnTooth))))
			}
			t.Logf("force %.2f %% and couple %.2f %% of the largest off", 100*forceMiss/force, 100*coupleMiss/couple)
			if !(forceMiss <= 0.02*force && coupleMiss <= 0.03*couple) {
				t.Errorf("force %.2f %% and couple %.2f %% of the largest off", 100*forceMiss/force, 100*coupleMiss/couple)
			}
		})
	}
}

func vec(v [3]float64) r3.Vec { return r3.Vec{X: v[0], Y: v[1], Z: v[2]} }

func TestHistoryKeepsASet(t *testing.T) {
	t.Parallel()
	e := designtest.Evaluate(t, yieldLoop(-9, 7))
	trial, travel := e.Set.AfterTrial, e.Set.AfterTravel
	t.Logf("set %+v, %+v, stress ratios %.3f to %.3f, gauge %+v", trial, travel, e.Record.Positions[0].StressRatio, e.Record.Positions[6].StressRatio, e.Gauge)
	if !(trial.ShiftMM > 0.1 && trial.ShiftMM < 2 && trial.TurnRad > 0.001 && trial.TurnRad < 0.3) {
		t.Errorf("set after a trial: %+v", trial)
	}
	// Letting go over the travel does not yield back, so taking out later changes nothing.
	if math.Abs(travel.ShiftMM-trial.ShiftMM) > 0.02*trial.ShiftMM {
		t.Errorf("set after the travel %+v, after a trial %+v", travel, trial)
	}
	if r := e.Record.Positions[0].StressRatio; !(r > 1.2 && r < 2.5) {
		t.Errorf("stress ratio at the start: %g", r)
	}
	if len(e.Warnings) != 2 || e.Warnings[0].Kind() != notice.PermanentSetKind || !ofOpposedBends(e.Warnings[1]) {
		t.Errorf("warnings: %+v", e.Warnings)
	}
	soft, stiff := e.Gauge.ForceN, designtest.Evaluate(t, yieldLoop(-5, 2)).Gauge
	if !e.Gauge.Solved || !stiff.Solved || soft/9 > stiff.ForceN/5 {
		t.Errorf("gauge: %+v over 9 mm, %+v over 5 mm", e.Gauge, stiff)
	}
}

// Below yield the slope past it must not matter, in any figure.
func TestHistoryIsNotNeededBelowYield(t *testing.T) {
	t.Parallel()
	s := yieldLoop(-5, 3)
	hardening := designtest.Evaluate(t, s)
	s.Wire.TangentMPa = 0
	elastic := designtest.Evaluate(t, s)
	if hardening.History || hardening.Set != (solve.Set{}) {
		t.Error("an elastic spring was solved with history")
	}
	for i, p := range elastic.Record.Positions {
		if p != hardening.Record.Positions[i] {
			t.Errorf("position %d: %+v and %+v", i, hardening.Record.Positions[i], p)
		}
	}
}

// Across the yield point the figures run on: just above it history gives nearly what the
// elastic solution gives just below.
func TestHistoryRunsOnFromElastic(t *testing.T) {
	t.Parallel()
	s := yieldLoop(-5, 2)
	s.Wire.StressRelieved = true // else bends yield before the rest
	elastic := designtest.Evaluate(t, s)
	s.Wire.YieldMPa *= elastic.Record.Positions[0].StressRatio * 0.998
	history := designtest.Evaluate(t, s)
	if elastic.History || !history.History {
		t.Fatalf("history: %v, %v", elastic.History, history.History)
	}
	a, b := elastic.Record.Positions[0], history.Record.Positions[0]
	if f := r3.Norm(r3.Sub(a.Active.ForceN, b.Active.ForceN)) / r3.Norm(a.Active.ForceN); f > 2e-3 {
		t.Errorf("force jumps by %g at the yield point", f)
	}
	if math.Abs(b.StressRatio-1) > 0.02 {
		t.Errorf("stress ratio at the yield point: %g", b.StressRatio)
	}
	if set := history.Set.AfterTrial.ShiftMM; set > 1e-3 {
		t.Errorf("set at the yield point: %g mm", set)
	}
}

func TestYieldWithoutSlopeIsRefused(t *testing.T) {
	t.Parallel()
	s := yieldLoop(-9, 2)
	s.Wire.TangentMPa = 0
	if _, err := solve.Evaluate(t.Context(), s, solve.Options{}); err == nil {
		t.Error("a wire that yields, of unknown slope, was accepted")
	}
}

// straightNiTi is a straight superelastic wire between slots, one of them set off.
func straightNiTi(offsetMM float64, positions int) spring.Spring {
	alloy, err := wire.LookUp("superelastic nickel-titanium")
	if err != nil {
		panic(err) // the name is this file's own
	}
	w := alloy.Material()
	w.DiameterMM = 0.3556
	return spring.Spring{
		Path: spring.PathOf(spring.StraightStep(8)), Wire: w, Slide: spring.SlideActive,
		Start: spring.Seat{AtMM: r3.Vec{X: 8, Z: offsetMM}}, End: spring.Seat{AtMM: r3.Vec{X: 8, Z: offsetMM / 4}}, Positions: positions,
	}
}

func TestSuperelasticSpring(t *testing.T) {
	t.Parallel()
	s := straightNiTi(-1.6, 5)
	e := designtest.Evaluate(t, s)
	if !e.History || e.Set != (solve.Set{}) {
		t.Errorf("history %v, set %+v", e.History, e.Set)
	}
	w := s.Wire
	// The same wire elastic: what it gives on the way back must lie far below.
	s.Wire.Superelastic = wire.Superelastic{}
	elastic, err := solve.Evaluate(t.Context(), s, solve.Options{AllowYield: true})
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range e.Record.Positions {
		soft, stiff := p.Active.ForceN.Z, elastic.Record.Positions[i].Active.ForceN.Z
		if !(soft > 0 && soft < stiff) || i > 0 && i < 3 && soft > 0.7*stiff {
			t.Errorf("position %d: %g N, elastic %g N", i, soft, stiff)
		}
		if r := p.StressRatio; !(r > 0 && r < 1) {
			t.Errorf("position %d: strained to %g of the end of its change of phase", i, r)
		}
	}
	// Rim strain over that at the end of the plateau, from the curvature at the ends; to be
	// compared with the elastic ratio, which is strain, too, where bending is the same.
	l := w.Superelastic
	if last := e.Record.Positions[0].StressRatio * (l.LoadEndMPa/w.EMPa + l.TransformationStrain); last < w.YieldMPa/w.EMPa {
		t.Errorf("rim strain %g does not even reach the plateau", last)
	}
}

// Below the plateau the wire with history is the elastic wire, also where it slides
// through one slot or the other and plays in them.
func TestHistoryInSlotsWithPlay(t *testing.T) {
	t.Parallel()
	for _, slide := range []spring.Slide{spring.NoSlide, spring.SlideActive, spring.SlideAnchor} {
		for _, play := range []bool{false, true} {
			s := straightNiTi(-0.3, 3)
			if slide == spring.NoSlide {
				s.Path = spring.PathOf(spring.StraightStep(3), spring.BendStep(0.4, 1), spring.StraightStep(3), spring.BendStep(-0.4, 1), spring.StraightStep(3))
				end := s.Rod().UnloadedEnd(beam.Origin()).At
				s.Start.AtMM, s.End.AtMM = r3.Add(end, r3.Vec{Z: -0.2}), r3.Add(end, r3.Vec{Z: -0.1})
			}
			s.Slide, s.AnchorSlotLengthMM, s.ActiveSlotLengthMM = slide, 3, 3
			hold := spring.SlotHold{Play: play, HeightMM: 0.37}
			s.AnchorHold, s.ActiveHold = hold, hold
			history := designtest.Evaluate(t, s)
			s.Wire.Superelastic, s.Wire.YieldMPa = wire.Superelastic{}, 5000
			elastic := designtest.Evaluate(t, s)
			for i, p := range history.Record.Positions {
				want := elastic.Record.Positions[i]
				largest := r3.Norm(elastic.Record.Positions[0].Active.ForceN)
				f := r3.Norm(r3.Sub(p.Active.ForceN, want.Active.ForceN)) / largest
				c := r3.Norm(r3.Sub(p.Anchor.CoupleNMM, want.Anchor.CoupleNMM)) / (largest * 8)
				if !(f < 5e-3 && c < 5e-3) {
					t.Errorf("slide %v, play %v, position %d: force off by %g, couple by %g", slide, play, i, f, c)
				}
				if play && (p.Play.Anchor.SecondOrder != want.Play.Anchor.SecondOrder || p.Play.Active.SecondOrder != want.Play.Active.SecondOrder) {
					t.Errorf("slide %v, position %d: contacts %+v, elastic %+v", slide, i, p.Play, want.Play)
				}
			}
		}
	}
}

// A loop that yields in slots with play is solved, too.
func TestYieldWithPlay(t *testing.T) {
	t.Parallel()
	s := yieldLoop(-8, 4)
	s.AnchorSlotLengthMM, s.ActiveSlotLengthMM = 3, 3
	hold := spring.SlotHold{Play: true, HeightMM: 0.46}
	s.AnchorHold, s.ActiveHold = hold, hold
	loose := designtest.Evaluate(t, s)
	tied := designtest.Evaluate(t, s.Tied())
	if !loose.History || !tied.History {
		t.Fatalf("history: %v, %v", loose.History, tied.History)
	}
	if a, b := loose.Record.Positions[0].Active.ForceN.Z, tied.Record.Positions[0].Active.ForceN.Z; !(a > 0.5*b && a < b) {
		t.Errorf("force with play %g N, tied %g N", a, b)
	}
	if loose.Set.AfterTrial.ShiftMM >= tied.Set.AfterTrial.ShiftMM {
		t.Errorf("set with play %+v, tied %+v", loose.Set, tied.Set)
	}
}

func BenchmarkHistory(b *testing.B) {
	for _, c := range []struct {
		name   string
		spring spring.Spring
	}{{"yield", yieldLoop(-9, 7)}, {"superelastic", straightNiTi(-2, 7)}} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := solve.Evaluate(b.Context(), c.spring, solve.Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
