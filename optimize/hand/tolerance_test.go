package hand

import (
	"math"
	"testing"

	"springwright/design"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"
)

// At its tolerance a bend or straight leaves a spring that meets the target, a little beyond it one that
// does not, by the full evaluation: in tied slots, and in tubes.
func TestTolerancesAreWhereTheTargetIsMissed(t *testing.T) {
	t.Parallel()
	for name, seat := range map[string]func(*design.Case){
		"tied": func(*design.Case) {},
		"in tubes": func(c *design.Case) {
			c.AnchorSlot.Fast, c.ActiveSlot.Fast = false, false
			c.Target.Travel.ForceN[2].Min = -0.2 // what is left of its force in tubes
			c.Target.Start.ForceN[2].Min = 0.2
		},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			c, s := demoSpring(t, design.SkilledBender())
			seat(&c)
			s = c.SeatedSpring(s.Path)
			h := New(c, s)
			got, err := h.tolerances(1)
			if err != nil {
				t.Fatal(err)
			}
			parallel, err := h.tolerances(3)
			if err != nil || len(got) != len(s.Path.Steps()) {
				t.Fatalf("%d tolerances of %d steps, %v", len(got), len(s.Path.Steps()), err)
			}
			met := func(step int, off float64) bool {
				steps := benchFor(t, &h).off(step, off).steps
				e, err := solve.Evaluate(t.Context(), c.SeatedSpring(spring.PathOf(steps...)), solve.Options{AllowYield: true})
				return err == nil && len(c.Misses(e.Record)) == 0
			}
			trial := benchFor(t, &h)
			seats := func(step int, off float64) bool {
				return trial.follow(trial.off(step, off), func(int, tooth.Load, tooth.Load) {}, func(int, float64) bool { return true })
			}
			found := 0
			for i, tolerance := range got {
				if tolerance != parallel[i] {
					t.Errorf("step %d: %+v, on three goroutines %+v", i, tolerance, parallel[i])
				}
				most, near := float64(largestToleranceMM), closeMM
				if tolerance.Angle {
					most, near = largestToleranceRad, closeRad
				}
				for sign, off := range map[float64]float64{-1: tolerance.Less, 1: tolerance.More} {
					// Loads of the trial are within 0.05 % of those of Evaluate, less than what near changes.
					if !met(i, sign*max(0, off-near)) {
						t.Errorf("step %d, off by %.4f of %.4f: misses", i, sign*off, most)
					}
					if step := s.Path.Steps()[i]; sign < 0 {
						most = min(most, step.LengthMM+math.Abs(step.AngleRad)) // one of them is 0
					}
					if off >= most-1e-9 || off+2*near > most {
						continue
					}
					found++
					// What the trial cannot seat counts as missed there, though the slower ways of Evaluate may.
					missed := false
					for beyond := near / 4; beyond < 1.3*near && !missed; beyond += near / 4 {
						at := sign * (off + beyond)
						missed = !met(i, at) || !seats(i, at)
					}
					if !missed {
						t.Errorf("step %d, off by %.4f and more: still meets", i, sign*off)
					}
				}
			}
			if found < 8 {
				t.Errorf("only %d ends were found", found)
			}
		})
	}
}
