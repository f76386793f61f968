package solve

import (
	"fmt"
	"testing"

	"springwright/design/beam"
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

// A wire that is drawn through a slot to a force and cinched has that force along it at the first
// seat, wherever it was put in, keeps its length from there on, and is then the wire that was put in
// as far as it came.
func TestDrawnToAForce(t *testing.T) {
	t.Parallel()
	for _, forceN := range []float64{0.2, 0.8, 1.5} {
		s := inTubes(loopSpring(), 0)
		s.SlidToRest, s.DrawnToN, s.Positions = spring.SlideActive, forceN, 3
		what := func(name string) string { return fmt.Sprintf("drawn to %g N: %s", forceN, name) }
		first := evaluated(t, s)
		slidMM := first.Record.Positions[0].Play.SlidMM
		longer := s
		steps := s.Path.Steps()
		steps[len(steps)-1].LengthMM += 0.3
		longer.Path = spring.PathOf(steps...)
		second := evaluated(t, longer)
		cinched := s
		steps = s.Path.Steps()
		steps[len(steps)-1].LengthMM += slidMM
		cinched.Path, cinched.SlidToRest, cinched.DrawnToN = spring.PathOf(steps...), spring.NoSlide, 0
		third := evaluated(t, cinched)
		for i, p := range first.Record.Positions {
			within(t, what("force of the one put in elsewhere"), r3.Norm(r3.Sub(p.Active.ForceN, second.Record.Positions[i].Active.ForceN)), 0, 1e-6)
			within(t, what("force of the one put in so far"), r3.Norm(r3.Sub(p.Active.ForceN, third.Record.Positions[i].Active.ForceN)), 0, 1e-6)
			within(t, what("slid since"), p.Play.SlidMM, slidMM, 1e-12)
		}

		path, err := NewSeatedPath(s, beam.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if err := path.Follow(s.SeatAt(0)); err != nil {
			t.Fatal(err)
		}
		// Internal force along the wire where it enters the slot: what the gauge reads.
		solver := path.Solver()
		within(t, what("force along the wire"), r3.Dot(solver.End().D1, solver.EndLoad().ForceN), forceN, 1e-6)
		active, _ := path.Loads()
		within(t, what("as Evaluate has it"), r3.Norm(r3.Sub(active.ForceN, first.Record.Positions[0].Active.ForceN)), 0, 1e-3)
	}
}

// A wire that yields is slid in its first seat, too, and not on its way there: slid to rest there is no
// force along it, and drawn to a force it is that force, however far past yield.
func TestYieldingWireIsDrawnToItsForce(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		forceN, yieldMPa float64
		positions        int
	}{{0, 185, 1}, {1, 370, 2}, {2, 500, 2}} {
		forceN := row.forceN
		s := inTubes(loopSpring(), 0)
		s.SlidToRest, s.DrawnToN, s.Positions = spring.SlideActive, forceN, row.positions
		s.Wire.YieldMPa, s.Wire.TangentMPa = row.yieldMPa, 6500
		e, err := Evaluate(t.Context(), s, Options{AllowYield: true})
		if err != nil {
			t.Fatal(err)
		}
		first, last := e.Record.Positions[0], e.Record.Positions[row.positions-1]
		if !e.History {
			t.Errorf("drawn to %g N it does not yield", forceN)
		}
		// Tipped by its play the wire is drawn along itself, and not along the slot.
		along := -r3.Dot(s.SeatAt(0).Pose(s.Heading).D1, first.Active.ForceN)
		within(t, fmt.Sprintf("drawn to %g N: along the slot", forceN), along, forceN, 0.1+0.02*forceN)
		within(t, "slid since", last.Play.SlidMM, first.Play.SlidMM, 1e-12)
		t.Logf("drawn to %g N: active %.3f, stress %.2f, slid %.3f mm", forceN, first.Active.ForceN, first.StressRatio, first.Play.SlidMM)
	}
}
