package solve_test

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"

	"springwright/design/beam"
	"springwright/design/designtest"
	"springwright/design/solve"
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

// spatialLoop stands out of its plane in every way, held in slots of some length.
func spatialLoop() spring.Spring {
	strong := designtest.Titanium()
	strong.YieldMPa = 1200
	return spring.Spring{
		Path: spring.PathOf(
			spring.StraightStep(3), spring.BendStep(0.3, 0.6),
			spring.Step{Kind: spring.Bend, AngleRad: 0.2, RadiusMM: 0.6, Order: 1},
			spring.StraightStep(2), spring.BendStep(1.4, 0.6), spring.StraightStep(6), spring.BendStep(-1.6, 0.6),
			spring.StraightStep(9), spring.BendStep(-1.5, 0.6),
			spring.Step{Kind: spring.Twist, AngleRad: -0.2, LengthMM: 2},
			spring.StraightStep(5), spring.BendStep(-1.6, 0.6), spring.StraightStep(6),
		),
		Wire:               strong,
		AnchorSlotLengthMM: 4, ActiveSlotLengthMM: 3.5,
		Heading:   spring.Back,
		Start:     spring.Seat{AtMM: r3.Vec{X: 12, Y: 1, Z: -2}, Rotation: r3.Vec{X: 0.1, Y: 0.05, Z: -0.1}},
		End:       spring.Seat{AtMM: r3.Vec{X: 11.5, Y: 0.5}, Rotation: r3.Vec{Z: -0.05}},
		Positions: 4,
	}
}

// The loads on both teeth are all that acts on the wire: they balance about any point,
// couples taken about each slot's centre and not about its entry.
func TestLoadsOnBothTeethBalance(t *testing.T) {
	t.Parallel()
	springs := designtest.SampleSprings(t)
	springs["spatial loop"] = spatialLoop()
	for name, s := range springs {
		for i, p := range designtest.Evaluate(t, s).Record.Positions {
			seat := s.SeatAt(i)
			// The centres, worked out from the slots: half a length behind the anchor's
			// exit, and half a length beyond the active slot's entry on the wire's way.
			along := r3.Vec{X: 1}
			if s.Heading == spring.Back {
				along.X = -1
			}
			active := r3.Add(seat.AtMM, r3.Scale(s.ActiveSlotLengthMM/2, beam.Rotate(seat.Rotation, along)))
			anchor := r3.Vec{X: -s.AnchorSlotLengthMM / 2}
			size := r3.Norm(p.Active.ForceN) + 1e-3
			if sum := r3.Norm(r3.Add(p.Active.ForceN, p.Anchor.ForceN)); sum > 1e-9*size {
				t.Errorf("%s, position %d: forces leave %v N", name, i, sum)
			}
			for _, about := range []r3.Vec{{}, active, {X: 7, Y: -11, Z: 13}} {
				moment := r3.Add(p.Active.CoupleNMM, p.Anchor.CoupleNMM)
				moment = r3.Add(moment, r3.Cross(r3.Sub(active, about), p.Active.ForceN))
				moment = r3.Add(moment, r3.Cross(r3.Sub(anchor, about), p.Anchor.ForceN))
				// The solver's residual of places, 1e-10 of the wire's length, as an arm.
				if left := r3.Norm(moment); left > 1e-6*size {
					t.Errorf("%s, position %d: %v N·mm are left about %v", name, i, left, about)
				}
			}
		}
	}
}

// Where the couple is taken changes its value by the force times half the slot, and
// nothing else.
func TestCouplesAreAboutTheCentreOfEachSlot(t *testing.T) {
	t.Parallel()
	with := spatialLoop()
	without := with
	without.AnchorSlotLengthMM, without.ActiveSlotLengthMM = 0, 0
	a, b := designtest.Evaluate(t, with).Record.Positions, designtest.Evaluate(t, without).Record.Positions
	moved := false
	for i := range a {
		inward := with.SeatAt(i).Pose(with.Heading).D1
		want := r3.Sub(b[i].Active.CoupleNMM, r3.Cross(r3.Scale(3.5/2, inward), b[i].Active.ForceN))
		if d := r3.Norm(r3.Sub(a[i].Active.CoupleNMM, want)); d > 1e-9 {
			t.Errorf("position %d: couple on the active tooth is off by %v N·mm", i, d)
		}
		want = r3.Sub(b[i].Anchor.CoupleNMM, r3.Cross(r3.Vec{X: -4.0 / 2}, b[i].Anchor.ForceN))
		if d := r3.Norm(r3.Sub(a[i].Anchor.CoupleNMM, want)); d > 1e-9 {
			t.Errorf("position %d: couple on the anchor tooth is off by %v N·mm", i, d)
		}
		moved = moved || r3.Norm(r3.Sub(a[i].Active.CoupleNMM, b[i].Active.CoupleNMM)) > 0.1
		if a[i].Active.ForceN != b[i].Active.ForceN {
			t.Errorf("position %d: the slot's length changes the force", i)
		}
	}
	if !moved {
		t.Error("the couples about centre and entry are the same: the test proves nothing")
	}
}

// Beam with guided ends, 12 EI v / L³ and 6 EI v / L² (handbook beam theory): the slot is
// lifted, so the tooth is pushed back down, and both couples have one sense.
func TestStraightWireAcrossAStep(t *testing.T) {
	t.Parallel()
	s := designtest.SampleSprings(t)["round-cantilever.toml"]
	first := designtest.Evaluate(t, s).Record.Positions[0]
	const lengthMM, liftMM, diameterMM = 10.0, 0.05, 0.4064
	ei := s.Wire.EMPa * math.Pi * math.Pow(diameterMM, 4) / 64
	wantN := 12 * ei * liftMM / math.Pow(lengthMM, 3)
	// Shear (0.3 %) softens; stretch, with both ends kept at one distance, stiffens by
	// some (v/d)² of the same size.
	if got := -first.Active.ForceN.Z; math.Abs(got-wantN) > 0.02*wantN {
		t.Errorf("extrusive force %v N, want %v N", got, wantN)
	}
	for name, got := range map[string]float64{"active": first.Active.CoupleNMM.Y, "anchor": first.Anchor.CoupleNMM.Y} {
		// Raised at its far end, the wire leaves the anchor upwards: it turns both slots
		// the way that its own middle has turned, from x to z, which is about −y.
		if want := -wantN * lengthMM / 2; math.Abs(got-want) > 0.02*math.Abs(want) {
			t.Errorf("couple on the %s tooth %v N·mm, want %v N·mm", name, got, want)
		}
	}
}

func TestSampleSpringsEvaluate(t *testing.T) {
	t.Parallel()
	for name, s := range designtest.SampleSprings(t) {
		e := designtest.Evaluate(t, s)
		if len(e.Record.Positions) != s.Positions {
			t.Errorf("%s: %d positions, want %d", name, len(e.Record.Positions), s.Positions)
		}
		if len(e.Passive) != len(e.Samples) || len(e.Seated) != len(e.Samples) {
			t.Errorf("%s: %d passive and %d seated poses for %d samples", name, len(e.Passive), len(e.Seated), len(e.Samples))
		}
		last := len(e.Samples) - 1
		if got, want := e.Samples[last].ArcMM, s.Path.WireLengthMM(); math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: drawn up to %v mm of %v mm", name, got, want)
		}
		if designtest.Far(e.Passive[last], designtest.UnloadedEnd(s.Path)) > 1e-9 {
			t.Errorf("%s: the passive shape ends elsewhere than the path", name)
		}
		if designtest.Far(e.Seated[last], s.SeatAt(0).Pose(s.Heading)) > 1e-6 || designtest.Far(e.Seated[0], beam.Origin()) > 1e-12 {
			t.Errorf("%s: the seated shape is not in its slots", name)
		}
		for i := 1; i < len(e.Samples); i++ {
			arc := e.Samples[i].ArcMM - e.Samples[i-1].ArcMM
			if chord := r3.Norm(r3.Sub(e.Passive[i].At, e.Passive[i-1].At)); arc > 0.5+1e-9 || chord > arc+1e-9 {
				t.Errorf("%s: sample %d is %v mm of wire and %v mm apart", name, i, arc, chord)
			}
			if e.Samples[i].Step < e.Samples[i-1].Step {
				t.Errorf("%s: sample %d goes back to step %d", name, i, e.Samples[i].Step)
			}
		}
		if left := e.Record.Positions[s.Positions-1].TravelLeftMM; left != 0 {
			t.Errorf("%s: %v mm of travel left at the end", name, left)
		}
	}
}

func TestYieldIsRefusedUnlessAllowed(t *testing.T) {
	t.Parallel()
	s := spatialLoop()
	mild := designtest.Evaluate(t, s)
	worst := 0.0
	for _, p := range mild.Record.Positions {
		worst = max(worst, p.StressRatio)
	}
	if worst <= 0 || worst >= 1 {
		t.Fatalf("stress ratio %v: choose another spring", worst)
	}
	for _, test := range []struct {
		ratio    float64
		refused  bool
		warnings string
	}{{0.85, false, ""}, {0.95, false, "near yield"}, {1.1, true, "yield of an elastic model"}} {
		weak := s
		weak.Wire.YieldMPa = s.Wire.YieldMPa * worst / test.ratio
		e, err := solve.Evaluate(t.Context(), weak, solve.Options{})
		if errors.Is(err, solve.ErrYield) != test.refused || err != nil && !test.refused {
			t.Errorf("at %v of yield: error %v", test.ratio, err)
		}
		if len(e.Record.Positions) != s.Positions {
			t.Errorf("at %v of yield the evaluation is not complete", test.ratio)
		}
		e, err = solve.Evaluate(t.Context(), weak, solve.Options{AllowYield: true})
		if err != nil {
			t.Errorf("at %v of yield, allowed: %v", test.ratio, err)
		}
		stress := slices.DeleteFunc(e.Warnings, ofOpposedBends) // those have a test of their own
		if (len(stress) == 0) != (test.warnings == "") {
			t.Errorf("at %v of yield: warnings %v", test.ratio, stress)
		}
		for _, w := range stress {
			if w.Kind().String() != test.warnings {
				t.Errorf("at %v of yield: warning %+v, want %q", test.ratio, w, test.warnings)
			}
		}
	}
}

func TestEvaluateSaysWhereItFailed(t *testing.T) {
	t.Parallel()
	s := spatialLoop()
	s.End.AtMM.X = 500 // the wire would tear long before
	_, err := solve.Evaluate(t.Context(), s, solve.Options{AllowYield: true})
	var at *solve.PositionError
	if !errors.As(err, &at) || at.Index == 0 || at.Positions != s.Positions {
		t.Fatalf("got %v, want an error that names a position after the first", err)
	}
	if !errors.Is(err, solve.ErrTooShort) {
		t.Errorf("%v does not say that the wire is too short", err)
	}

	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := solve.Evaluate(ctx, spatialLoop(), solve.Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
}
