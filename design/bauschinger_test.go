package design_test

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"springwright/design"
)

// A hook: one quarter turn upwards, its far end pulled on or pushed back along x.
func hook(pullMM float64) design.Spring {
	s := yieldLoop(0, 2)
	s.Path = design.Path{design.StraightStep(6), design.BendStep(math.Pi/2, 1), design.StraightStep(6)}
	end := r3.Vec{X: 7, Z: 7}
	s.Heading = design.On
	s.Start = design.Seat{AtMM: r3.Add(end, r3.Vec{X: pullMM}), Rotation: r3.Vec{Y: -math.Pi / 2}}
	s.End = design.Seat{AtMM: end, Rotation: r3.Vec{Y: -math.Pi / 2}}
	return s
}

func TestOpposedBends(t *testing.T) {
	t.Parallel()
	// Pulled on by the leg, the bend opens; pushed back, it closes. Between two slots that
	// keep their turn the bend alone takes part of the moment, whose sign is that of the
	// elastic centre.
	for _, pull := range []float64{0.8, -0.8} {
		s := hook(pull)
		bends, err := s.OpposedBends()
		if err != nil {
			t.Fatal(err)
		}
		// From the moment of the slot on the wire's end and its force, by statics: the bend's
		// middle, a positive bend being a negative turn about y.
		e := evaluate(t, s)
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
		bends, err := yieldLoop(dz, 2).OpposedBends()
		if err != nil {
			t.Fatal(err)
		}
		w, ok := design.OpposedBendsWarning(bends)
		if ok != (len(bends) > 0) || ok && (!strings.Contains(w.Text, "Bauschinger") || w.Hint == "") {
			t.Errorf("warning %v for %+v: %+v", ok, bends, w)
		}
		t.Log(w.Text)
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
	if bends, err := yieldLoop(-0.01, 2).OpposedBends(); err != nil || len(bends) != 0 {
		t.Errorf("a spring hardly activated opposes %+v, %v", bends, err)
	}
}

// A twist is opposed by a slot that turns it back.
func TestOpposedTwist(t *testing.T) {
	t.Parallel()
	s := hook(0)
	const twist = 0.5
	s.Path = design.Path{design.StraightStep(5), {Kind: design.Twist, AngleRad: twist, LengthMM: 2}, design.StraightStep(5)}
	s.Start, s.End = design.Seat{AtMM: r3.Vec{X: 12}}, design.Seat{AtMM: r3.Vec{X: 12}, Rotation: r3.Vec{X: twist}}
	bends, err := s.OpposedBends()
	if err != nil || len(bends) != 1 || bends[0].Number != 1 {
		t.Fatalf("opposed %+v, %v", bends, err)
	}
	w, ok := design.OpposedBendsWarning(bends)
	if !ok || !strings.Contains(w.Text, "opens bend 1 against") {
		t.Errorf("warning: %+v", w)
	}
	s.Start.Rotation = r3.Vec{X: 2 * twist}
	if bends, err := s.OpposedBends(); err != nil || len(bends) != 0 {
		t.Errorf("wound up further, opposed %+v, %v", bends, err)
	}
}
