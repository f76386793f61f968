package solve_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"springwright/design/designtest"
	"springwright/design/notice"
	"springwright/design/solve"
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

// A hook: one quarter turn upwards, its far end pulled on or pushed back along x.
func hook(pullMM float64) spring.Spring {
	s := yieldLoop(0, 2)
	s.Path = spring.PathOf(spring.StraightStep(6), spring.BendStep(math.Pi/2, 1), spring.StraightStep(6))
	end := r3.Vec{X: 7, Z: 7}
	s.Heading = spring.On
	s.Start = spring.Seat{AtMM: r3.Add(end, r3.Vec{X: pullMM}), Rotation: r3.Vec{Y: -math.Pi / 2}}
	s.End = spring.Seat{AtMM: end, Rotation: r3.Vec{Y: -math.Pi / 2}}
	return s
}

func TestOpposedBends(t *testing.T) {
	t.Parallel()
	// Pulled on by the leg, the bend opens; pushed back, it closes. Between two slots that
	// keep their turn the bend alone takes part of the moment, whose sign is that of the
	// elastic centre.
	for _, pull := range []float64{0.8, -0.8} {
		s := hook(pull)
		bends, err := solve.OpposedBends(s)
		if err != nil {
			t.Fatal(err)
		}
		// From the moment of the slot on the wire's end and its force, by statics: the bend's
		// middle, a positive bend being a negative turn about y.
		e := designtest.Evaluate(t, s)
		end, load := s.Start.AtMM, e.Record.Positions[0].Active
		corner := r3.Vec{X: 6 + math.Sin(math.Pi/4), Z: 1 - math.Cos(math.Pi/4)}
		moment := r3.Scale(-1, r3.Add(load.CoupleNMM, r3.Cross(r3.Sub(end, corner), load.ForceN)))
		opens := moment.Y > 0
		if opens != (len(bends) == 1) {
			t.Errorf("pulled by %g mm: moment %g N·mm about y at the bend, opposed: %+v", pull, moment.Y, bends)
		}
		if opens && (bends[0].Number != 1 || bends[0].Step != 1 || !(bends[0].StressRatio > 0.1)) {
			t.Errorf("opposed: %+v", bends)
		}
	}
}

// Turned the other way in its slots, a spring opens the bends that it closed before, and
// the other way about.
func TestOpposedBendsSwap(t *testing.T) {
	t.Parallel()
	numbers := func(dz float64) string {
		bends, err := solve.OpposedBends(yieldLoop(dz, 2))
		if err != nil {
			t.Fatal(err)
		}
		var out string
		for _, b := range bends {
			out += string(rune('0' + b.Number))
		}
		return out
	}
	down, up := numbers(-4), numbers(4)
	if down == "" || up == "" || strings.ContainsAny(down, up) {
		t.Errorf("opposed bends: %q one way, %q the other", down, up)
	}
	if bends, err := solve.OpposedBends(yieldLoop(-0.01, 2)); err != nil || len(bends) != 0 {
		t.Errorf("a spring hardly activated opposes %+v, %v", bends, err)
	}
}

func ofOpposedBends(w notice.Notice) bool { return w.Kind() == notice.OpposedBendsKind }

// A wire that comes near to half its yield stress against a bend is warned of, by Evaluate
// itself and so by every command; at less than that it stays elastic, and nothing is said.
func TestOpposedBendsAreWarnedOfFromHalfTheYieldStress(t *testing.T) {
	t.Parallel()
	seen := map[bool]int{}
	for _, downMM := range []float64{3, 4, 4.5, 5, 5.5, 6, 7} {
		s := yieldLoop(-downMM, 2)
		s.Wire.TangentMPa = 0
		bends, err := solve.OpposedBends(s)
		if err != nil {
			t.Fatal(err)
		}
		worst := 0.0
		for _, b := range bends {
			worst = max(worst, b.StressRatio)
			// On corners of usual pliers half the yield stress is left, and a little more where
			// an elastic core is.
			if b.LimitRatio < 0.5 || b.LimitRatio > 0.51 {
				t.Errorf("%+v: want a limit of about 0.50", b)
			}
		}
		e, err := solve.Evaluate(t.Context(), s, solve.Options{AllowYield: true})
		if err != nil {
			t.Fatal(err)
		}
		var warned []notice.OpposedBends
		for _, w := range e.Warnings {
			if own, ok := w.(notice.OpposedBends); ok {
				warned = append(warned, own)
			}
		}
		// From nine tenths of the limit on, as for yield at all.
		want := worst > 0.9*0.5007
		seen[want]++
		if (len(warned) == 1) != want || len(warned) > 1 {
			t.Errorf("%g mm: %.3f of yield against a bend, warnings %+v", downMM, worst, warned)
		}
		for _, w := range warned {
			if w.StressRatio != worst || w.Twist || math.Abs(w.LimitRatio-0.5) > 0.01 {
				t.Errorf("%g mm: %+v", downMM, w)
			}
		}
	}
	if seen[true] < 2 || seen[false] < 2 {
		t.Errorf("warned and not: %v; choose other activations", seen)
	}
}

// A twist is opposed by a slot that turns it back.
func TestOpposedTwist(t *testing.T) {
	t.Parallel()
	s := hook(0)
	const twist = 0.5
	s.Path = spring.PathOf(spring.StraightStep(5), spring.Step{Kind: spring.Twist, AngleRad: twist, LengthMM: 2}, spring.StraightStep(5))
	s.Start, s.End = spring.Seat{AtMM: r3.Vec{X: 12}}, spring.Seat{AtMM: r3.Vec{X: 12}, Rotation: r3.Vec{X: twist}}
	bends, err := solve.OpposedBends(s)
	if err != nil || len(bends) != 1 || bends[0].Number != 1 {
		t.Fatalf("opposed %+v, %v", bends, err)
	}
	w, ok := solve.OpposedBendsWarning(bends)
	if !ok || !slices.Equal(w.Bends, []int{1}) || !w.Twist || math.Abs(w.LimitRatio-0.3) > 0.05 {
		t.Errorf("warning: %+v", w)
	}
	s.Start.Rotation = r3.Vec{X: 2 * twist}
	if bends, err := solve.OpposedBends(s); err != nil || len(bends) != 0 {
		t.Errorf("wound up further, opposed %+v, %v", bends, err)
	}
}

// What is said of the worst place suits it: a twist is twisted past its angle.
func TestOpposedTwistsAreCalledTwists(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		bends []solve.OpposedBend
		worst int
		twist bool
	}{
		{[]solve.OpposedBend{{Number: 2, StressRatio: 0.6, LimitRatio: 0.5}, {Number: 3, Twist: true, StressRatio: 0.9, LimitRatio: 0.7}}, 3, true},
		{[]solve.OpposedBend{{Number: 2, StressRatio: 0.9, LimitRatio: 0.5}, {Number: 3, Twist: true, StressRatio: 0.9, LimitRatio: 0.7}}, 2, false},
	} {
		w, found := solve.OpposedBendsWarning(c.bends)
		if !found || w.Worst != c.worst || w.Twist != c.twist || w.StressRatio != 0.9 || !slices.Equal(w.Bends, []int{2, 3}) {
			t.Errorf("%+v: %+v, want the worst at %d, a twist %v", c.bends, w, c.worst, c.twist)
		}
	}
	s := yieldLoop(0, 2)
	s.Heading = spring.On
	s.Start = spring.Seat{AtMM: r3.Vec{X: 10}, Rotation: r3.Vec{X: 0.1}}
	s.End = spring.Seat{AtMM: r3.Vec{X: 10}}
	for _, roll := range []float64{0.1, -0.1} {
		twist := spring.Step{Kind: spring.Twist, AngleRad: 3 * roll, LengthMM: 2}
		s.Path = spring.PathOf(spring.StraightStep(4), twist, spring.StraightStep(4))
		bends, err := solve.OpposedBends(s)
		if err != nil {
			t.Fatal(err)
		}
		for _, b := range bends {
			if !b.Twist {
				t.Errorf("%+v is not called a twist", b)
			}
		}
		if len(bends) != 1 {
			t.Errorf("twisted by %g rad: opposed %+v, want the twist", twist.AngleRad, bends)
		}
	}
}
