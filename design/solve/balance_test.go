package solve_test

import (
	"fmt"
	"math"
	"testing"

	"springwright/design/beam"
	"springwright/design/casefile"
	"springwright/design/designtest"
	"springwright/design/notice"
	"springwright/design/solve"
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

// unbalanced is what forces and couples on both teeth leave over, N and N·mm, each couple
// about the point that a record or a sheet names for it: the centre of the anchor slot, half
// its length behind the origin, and that of the active slot, half its length beyond the
// seat's place on the way that the wire runs through it.
func unbalanced(s spring.Spring, p spring.Position) (forceN, coupleNMM float64) {
	through := r3.Vec{X: 1}
	if s.Heading == spring.Back {
		through.X = -1
	}
	through = beam.Rotate(p.Seat.Rotation, through)
	centre := r3.Add(p.Seat.AtMM, r3.Scale(s.ActiveSlotLengthMM/2, through))
	arm := r3.Sub(centre, r3.Vec{X: -s.AnchorSlotLengthMM / 2})
	couple := r3.Add(r3.Add(p.Active.CoupleNMM, p.Anchor.CoupleNMM), r3.Cross(arm, p.Active.ForceN))
	return r3.Norm(r3.Add(p.Active.ForceN, p.Anchor.ForceN)), r3.Norm(couple)
}

// held is a kind of hold that random springs are given.
type held struct {
	name string
	make func(*spring.Spring)
}

func (h held) String() string { return h.name }

func (h held) of(s spring.Spring) spring.Spring {
	h.make(&s)
	return s
}

func everyHold() []held {
	play := spring.SlotHold{Play: true, HeightMM: 0.5588}
	hook := spring.SlotHold{Hook: true}
	return []held{
		{"tied", func(*spring.Spring) {}},
		{"play", func(s *spring.Spring) { s.AnchorHold, s.ActiveHold = play, play }},
		{"play in first order", func(s *spring.Spring) {
			deep := play
			deep.DepthMM = 0.7112
			s.AnchorHold, s.ActiveHold = deep, deep
		}},
		{"slides through the active slot", func(s *spring.Spring) { s.Slide = spring.SlideActive }},
		{"slides through the anchor slot", func(s *spring.Spring) { s.Slide = spring.SlideAnchor }},
		{"play and slides", func(s *spring.Spring) { s.AnchorHold, s.ActiveHold, s.Slide = play, play, spring.SlideActive }},
		{"from behind", func(s *spring.Spring) { s.Heading = spring.Back }},
		{"hook", func(s *spring.Spring) { s.ActiveHold, s.ActiveSlotLengthMM = hook, 0 }},
		{"hook that slides", func(s *spring.Spring) {
			s.ActiveHold, s.ActiveSlotLengthMM, s.Slide = hook, 0, spring.SlideActive
		}},
		{"hook that slides, play at the anchor", func(s *spring.Spring) {
			s.AnchorHold, s.ActiveHold, s.ActiveSlotLengthMM, s.Slide = play, hook, 0, spring.SlideActive
		}},
		{"hook that slides, yielding", func(s *spring.Spring) {
			s.ActiveHold, s.ActiveSlotLengthMM, s.Slide = hook, 0, spring.SlideActive
			s.Wire.YieldMPa, s.Wire.TangentMPa = 250, 6500
		}},
	}
}

// arm is a cantilever from a molar to a tooth 20 mm in front, of a wire of some length.
const arm = `
slide = "active"
path = [
  { straight_mm = 2 },
  { bend_deg = 15, radius_mm = 0.9659 },
  { straight_mm = %g },
]
[wire]
alloy = "beta-titanium"
e_gpa = 65
poisson = 0.3
yield_mpa = 900
thickness_mm = 0.4318
width_mm = 0.635
[anchor]
slot_length_mm = 4
[active]
slot_length_mm = 0
hold = "hook"
heading = "on"
start = { at_mm = [20, 0, 0] }
end = { at_mm = [20, 0, 2] }
positions = 3
`

// A hook that slides off its tooth is told; one that stays on it is not.
func TestAHookOffItsToothIsTold(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		armMM, offMM float64 // off: what the hook lies off its tooth by, at most
		told         bool
	}{{18, 1, false}, {24, 7, true}, {14, 7, true}} {
		s, err := casefile.ReadSpring("arm.toml", fmt.Appendf(nil, arm, test.armMM))
		if err != nil {
			t.Fatal(err)
		}
		e := designtest.Evaluate(t, s)
		worst := 0.0
		for _, p := range e.Record.Positions {
			worst = max(worst, math.Abs(solve.HookOffMM(s, *p.HookMM, p.Seat.Pose(s.Heading))))
		}
		told := false
		for _, w := range e.Warnings {
			off, ok := w.(notice.HookOff)
			told = told || ok && math.Abs(off.OffMM-worst) < 1e-12
		}
		if told != test.told || told != (worst > solve.HookToleranceMM) || worst > test.offMM {
			t.Errorf("arm of %g mm: told %v, the hook lies %.2f mm off; warnings %+v", test.armMM, told, worst, e.Warnings)
		}
	}
}
