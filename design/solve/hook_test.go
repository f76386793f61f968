package solve_test

import (
	"math"
	"testing"

	"springwright/design/designtest"
	"springwright/design/effect"
	"springwright/design/solve"
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

// A hooked straight wire is the cantilever of the textbooks: 3EI/L³ at its end, the couple
// force times length at the clamp, none at the hook, which slides back as the wire bends.
func TestHookedWireIsACantilever(t *testing.T) {
	t.Parallel()
	const lengthMM, movedMM = 20, 0.02
	s := spring.Spring{
		Path: spring.PathOf(spring.StraightStep(lengthMM)), Wire: designtest.Titanium(), Positions: 1,
		ActiveHold: spring.SlotHold{Hook: true}, Slide: spring.SlideActive,
		Start: spring.Seat{AtMM: r3.Vec{X: lengthMM, Z: movedMM}},
	}
	p := designtest.Evaluate(t, s).Record.Positions[0]
	// About the tooth's point the force at the hook has the couple of its arm.
	arm := r3.Sub(*p.HookMM, s.Start.AtMM)
	if off := r3.Norm(r3.Sub(p.Active.CoupleNMM, r3.Cross(arm, p.Active.ForceN))); off > 1e-9 {
		t.Errorf("couple at the hook %v N·mm", off)
	}
	// The end of a bent cantilever comes back by 3/5 of its deflection squared over its length.
	if want := -0.6 * movedMM * movedMM / lengthMM; math.Abs(arm.X-want) > 1e-3*math.Abs(want) || arm.Z != 0 && math.Abs(arm.Z) > 1e-9 {
		t.Errorf("the hook has slid by %v mm, want %v mm", arm, want)
	}
	// On the tooth: against the way the end was moved. Shear and the larger movement add
	// (t/L)² and (moved/L)², below 1e-3.
	want := -3 * s.Wire.Section().EI2 * movedMM / math.Pow(lengthMM, 3)
	if got := p.Active.ForceN.Z; math.Abs(got-want) > 1e-3*math.Abs(want) {
		t.Errorf("force %v N, want %v N", got, want)
	}
	if math.Abs(p.Active.ForceN.X) > 1e-9 {
		t.Errorf("the hook slides, yet there is %v N along its wire", p.Active.ForceN.X)
	}
	if got := p.Anchor.CoupleNMM.Y; math.Abs(math.Abs(got)-math.Abs(want)*lengthMM) > 1e-3*math.Abs(want)*lengthMM {
		t.Errorf("couple at the clamp %v N·mm, want %v N·mm", got, want*lengthMM)
	}
}

// Play in the other slot, and a seat that turns, change nothing about the hook; the turn
// of the seat does not matter at all.
func TestHookTakesNoCouple(t *testing.T) {
	t.Parallel()
	s := spring.Spring{
		Path:               spring.PathOf(spring.StraightStep(6), spring.BendStep(0.6, 1), spring.StraightStep(6), spring.BendStep(-0.5, 1), spring.StraightStep(8)),
		Wire:               designtest.Titanium(),
		AnchorSlotLengthMM: 4, AnchorHold: spring.SlotHold{Play: true, HeightMM: 0.5588},
		ActiveHold: spring.SlotHold{Hook: true}, Positions: 3,
	}
	end := designtest.UnloadedEnd(s.Path).At
	s.Start = spring.Seat{AtMM: r3.Add(end, r3.Vec{X: -0.1, Y: 0.2, Z: -1}), Rotation: r3.Vec{X: 0.2, Y: 0.3}}
	s.End = spring.Seat{AtMM: r3.Add(end, r3.Vec{Z: -0.5})}
	turned := s
	turned.Start.Rotation = r3.Vec{}
	tied := s.Tied()
	for _, spring := range []spring.Spring{s, tied} {
		for i, p := range designtest.Evaluate(t, spring).Record.Positions {
			if r3.Norm(p.Active.CoupleNMM) > 1e-7 || r3.Norm(p.Active.ForceN) < 0.02 {
				t.Errorf("position %d: load at the hook %+v", i, p.Active)
			}
			if sum := r3.Add(p.Active.ForceN, p.Anchor.ForceN); r3.Norm(sum) > 1e-9 {
				t.Errorf("position %d: forces add to %v", i, sum)
			}
		}
	}
	a, b := designtest.Evaluate(t, tied).Record.Positions[0], designtest.Evaluate(t, turned.Tied()).Record.Positions[0]
	if d := r3.Norm(r3.Sub(a.Active.ForceN, b.Active.ForceN)); d > 1e-7 {
		t.Errorf("turning the hook's seat changes its force by %v N", d)
	}
}

// The predicted drift begins with the loads of the record: the hook holds the tooth as a
// point there, too.
func TestDriftOfAHookedToothBeginsWithItsLoads(t *testing.T) {
	t.Parallel()
	s := spring.Spring{
		Path: spring.PathOf(spring.StraightStep(20)), Wire: designtest.Titanium(), Positions: 2,
		ActiveHold: spring.SlotHold{Hook: true}, Slide: spring.SlideActive,
		Start: spring.Seat{AtMM: r3.Vec{X: 19, Z: 2}}, End: spring.Seat{AtMM: r3.Vec{X: 19, Z: 1}},
	}
	want := designtest.Evaluate(t, s).Record.Positions[0].Active
	drift, err := effect.PredictDrift(t.Context(), s, r3.Vec{Y: -4, Z: 10}, 10)
	if err != nil {
		t.Fatal(err)
	}
	got := drift.Steps[0].Active
	if r3.Norm(r3.Sub(got.ForceN, want.ForceN)) > 1e-5 || r3.Norm(r3.Sub(got.CoupleNMM, want.CoupleNMM)) > 1e-5 { // where the solver stops
		t.Errorf("drift begins with %+v, want %+v", got, want)
	}
	// The hook slides along the arch, however far the tooth has tipped.
	last := drift.Steps[len(drift.Steps)-1]
	if math.Abs(last.Rotation.Y) < 0.02 {
		t.Errorf("a force beside the tooth's point tips it by %v rad: nothing is tried", last.Rotation.Y)
	}
	for i, step := range drift.Steps {
		if math.Abs(step.Active.ForceN.X) > 1e-6 {
			t.Fatalf("step %d: %v N along the arch", i, step.Active.ForceN.X)
		}
	}
}

// A hook that slides has no force along its axis in slots with play either, and play in
// the other slot only makes it lighter: it lets the arm lie back by the play's angle.
func TestSlidingHookWithPlayInTheOtherSlot(t *testing.T) {
	t.Parallel()
	const armMM = 20
	s := spring.Spring{
		Path:               spring.PathOf(spring.StraightStep(2), spring.BendStep(0.2, 1), spring.StraightStep(armMM)),
		Wire:               designtest.Titanium(),
		AnchorSlotLengthMM: 4, AnchorHold: spring.SlotHold{Play: true, HeightMM: 0.5588},
		ActiveHold: spring.SlotHold{Hook: true}, Slide: spring.SlideActive, Positions: 3,
	}
	end := designtest.UnloadedEnd(s.Path).At
	s.Start, s.End = spring.Seat{AtMM: r3.Add(end, r3.Vec{Z: -4})}, spring.Seat{AtMM: r3.Add(end, r3.Vec{Z: -2})}
	c, err := solve.PlayEffect(t.Context(), s, solve.Options{})
	if err != nil {
		t.Fatal(err)
	}
	play, err := s.AnchorHold.PlayOf(s.Wire, s.AnchorSlotLengthMM)
	if err != nil {
		t.Fatal(err)
	}
	rate := (c.Tied.Record.Positions[0].Active.ForceN.Z - c.Tied.Record.Positions[2].Active.ForceN.Z) / 2
	for i, p := range c.Played.Record.Positions {
		if along := p.Active.ForceN.X; math.Abs(along) > 1e-5 {
			t.Errorf("position %d: %v N along the hook's axis", i, along)
		}
		// The play turns the arm about the slot's centre, some mm behind the bend.
		want := c.Tied.Record.Positions[i].Active.ForceN.Z - rate*play.SecondOrder*(end.X+s.AnchorSlotLengthMM/2)
		if got := p.Active.ForceN.Z; math.Abs(got-want) > 0.05*want {
			t.Errorf("position %d: %v N, want about %v N", i, got, want)
		}
	}
}
