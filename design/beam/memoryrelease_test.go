package beam_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"springwright/design/beam"
)

// Let go section by section, a wire comes to rest where one does that hangs under its load
// as that is taken away, as long as it does not topple.
func TestReleasedIsWhereAHangingWireRests(t *testing.T) {
	t.Parallel()
	spring, rod := readYieldSpring(t)
	s := spring.solver(rod, beam.Options{StepMM: 0.5, StepRad: 0.4}, 2, 12)
	for _, z := range []float64{-3, -6, -9} {
		mustFollow(t, s, moved(rod, beam.Origin(), r3.Vec{Z: z}, r3.Vec{}))
	}
	load, end := s.EndLoad(), s.End()
	released, ok := s.Released(0, rod.LengthMM())
	if !ok || s.EndLoad() != load || s.End() != end {
		t.Fatalf("released: %v; load %v, before %v", ok, s.EndLoad(), load)
	}
	for k := 3.0; k >= 0; k-- {
		mustFollow(t, s, beam.Hang(beam.Wrench{ForceN: r3.Scale(k/4, load.ForceN), MomentNMM: r3.Scale(k/4, load.MomentNMM)}))
	}
	set := r3.Norm(r3.Sub(s.End().At, rod.UnloadedEnd(beam.Origin()).At))
	// Sections yield a little on the way back, each by its own way: 1 % of the set.
	near(t, "distance of the two", r3.Norm(r3.Sub(released.At, s.End().At)), 0, 0.01*set)
	near(t, "turn between the two", r3.Norm(beam.RotationBetween(s.End(), released)), 0, 0.01*set/10)
	if set < 0.05 {
		t.Errorf("set of %g mm only", set)
	}
}

// What lies in front of the span or behind it does not count.
func TestReleasedPart(t *testing.T) {
	t.Parallel()
	rod := beam.Rod{Section: titaniumWire(), Pieces: []beam.Piece{line(3), {LengthMM: math.Pi, Curvature: r3.Vec{Y: -0.5}}, line(4)}}
	s := beam.NewMemorySolver(rod, beam.Origin(), beam.Options{StepMM: 0.3}, func(int, float64) beam.Point { return softPoint{5} })
	end, ok := s.Released(1, 3+math.Pi+1.5)
	if !ok {
		t.Fatal("not released")
	}
	nearVec(t, "end", end.At, r3.Vec{X: 2 + 2, Z: 2 + 1.5}, 1e-12)
}

// A wire that slides is back where it was after Restore, to the last digit, so that it is
// in equilibrium: the ends of its span are sums of many lengths, which rounding must not
// push beyond the wire.
func TestRestoreTakesASlidingWireBack(t *testing.T) {
	t.Parallel()
	for lengthMM := 8.0; lengthMM < 12; lengthMM += 0.237 {
		s := straightRound(setB(), 2*lengthMM, 0.25, 2, 8)
		s.SetSpan(lengthMM, 2*lengthMM) // slides at its base
		base, seat := beam.Slot{Slides: true}, beam.Origin()
		for _, offsetMM := range []float64{0.3, 0.6, 0.9} {
			seat.At = r3.Vec{X: lengthMM, Z: offsetMM}
			if err := s.FollowSlots(seat, base, beam.Slot{}); err != nil {
				t.Fatalf("%g mm long, %g mm off: %v", lengthMM, offsetMM, err)
			}
			s.Keep()
		}
		load, before := s.EndLoad(), s.Configuration()
		fromMM, toMM := s.Span()
		seat.At.Z = 0.7
		if err := s.FollowSlots(seat, base, beam.Slot{}); err != nil {
			t.Fatalf("%g mm long, back: %v", lengthMM, err)
		}
		s.Restore(before)
		if nowFrom, nowTo := s.Span(); nowFrom != fromMM || nowTo != toMM {
			t.Errorf("%g mm long: the span is %g to %g mm, was %g to %g mm", lengthMM, nowFrom, nowTo, fromMM, toMM)
		}
		nearVec(t, "force", s.EndLoad().ForceN, load.ForceN, 0)
		nearVec(t, "place", s.End().At, r3.Vec{X: lengthMM, Z: 0.9}, 1e-8)
	}
}

// A way that fails leaves no history behind it.
func TestFailureLeavesNoHistory(t *testing.T) {
	t.Parallel()
	spring, rod := readYieldSpring(t)
	at := func(z float64) beam.Hold { return moved(rod, beam.Origin(), r3.Vec{Z: z}, r3.Vec{}) }
	var loads [2]beam.Wrench
	for i := range loads {
		s := spring.solver(rod, beam.Options{StepMM: 0.5, StepRad: 0.4, SmallestStep: 0.5}, 2, 12)
		mustFollow(t, s, at(-4))
		mustFollow(t, s, at(-8))
		if i == 1 {
			if s.Follow(moved(rod, beam.Origin(), r3.Vec{X: 500}, r3.Vec{})) == nil {
				t.Fatal("the wire is drawn out to 500 mm")
			}
			mustFollow(t, s, at(-8))
		}
		mustFollow(t, s, at(-7))
		loads[i] = s.EndLoad()
	}
	nearWrench(t, "load behind a failure", loads[1], loads[0], 1e-9)
}
