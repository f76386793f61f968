package optimize

import (
	"math"
	"testing"

	"springwright/design"
	"springwright/design/beam"
	"springwright/design/family"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/presets"

	"gonum.org/v1/gonum/spatial/r3"
)

func presetCase(t testing.TB, name string) design.Case {
	t.Helper()
	_, c, err := presets.Case(name)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// checkHook holds a hook that slides to its tooth, and the loads on both teeth to balance
// about the points that they are stated about, by statics from the record alone.
func checkHook(t *testing.T, r Result) {
	t.Helper()
	s := r.Spring
	for i, p := range r.Evaluation.Record.Positions {
		if p.HookMM != nil {
			if off := r3.Norm(r3.Sub(*p.HookMM, p.Seat.AtMM)); off > solve.HookToleranceMM+exceedMM {
				t.Errorf("position %d: the hook hangs %.2f mm off its tooth", i, off)
			}
		}
		through := beam.Rotate(p.Seat.Rotation, r3.Vec{X: 1})
		if s.Heading == spring.Back {
			through = r3.Scale(-1, through)
		}
		arm := r3.Add(r3.Add(p.Seat.AtMM, r3.Scale(s.ActiveSlotLengthMM/2, through)), r3.Vec{X: s.AnchorSlotLengthMM / 2})
		left := r3.Add(r3.Add(p.Active.CoupleNMM, p.Anchor.CoupleNMM), r3.Cross(arm, p.Active.ForceN))
		if force := r3.Add(p.Active.ForceN, p.Anchor.ForceN); r3.Norm(force) > 1e-6 || r3.Norm(left) > 1e-6 {
			t.Errorf("position %d: %v N and %v N·mm are left over", i, force, left)
		}
	}
}

// An arch from a molar to a lower incisor in front: the wire ends at the tooth, too.
func TestHookOnALowerIncisor(t *testing.T) {
	t.Parallel()
	c := presetCase(t, "incisor-intrusion")
	c.Bender.Springs = 0
	c.Teeth = tooth.Pair{Anchor: 46, Active: 41}
	c.Now.CentreMM.X, c.Now.CentreMM.Y, c.Now.CentreMM.Z = 33, 0, -3
	c.Goal.CentreMM.X = 33
	r := search(t, c, Options{})
	checkMet(t, c, r)
}

// checkPassings measures the distance of the wire from itself on a fine mesh, unloaded and
// in its first seat.
func checkPassings(t *testing.T, c design.Case, r Result) {
	t.Helper()
	pattern, err := family.PatternFor(c)
	if err != nil {
		t.Fatal(err)
	}
	values := make([]float64, len(r.Settings))
	for j, s := range r.Settings {
		values[j] = s.Value
	}
	spring := c.SpringFor(pattern.PathFor(values))
	solver := beam.NewSolver(spring.Rod(), beam.Origin(), beam.Options{StepMM: 0.1, StepRad: 0.05})
	for _, shape := range []string{"passive", "seated"} {
		if shape == "seated" {
			if err := solver.Follow(spring.HoldAt(spring.SeatAt(0))); err != nil {
				t.Fatal(err)
			}
		}
		nodes := solver.AppendNodes(nil)
		for _, p := range pattern.Passings {
			nearest := math.Inf(1)
			for _, a := range nodes {
				for _, b := range nodes {
					if isAmong(a.Piece, p.One) && isAmong(b.Piece, p.Other) {
						nearest = min(nearest, r3.Norm(r3.Sub(a.Pose.At, b.Pose.At)))
					}
				}
			}
			// The search's own mesh cuts the corners of bends, of which this is the sagitta
			// for 45° at a helix's radius, seen at an angle where the wire lies beside itself.
			const sagittaMM = 0.05
			if least := c.Wire.DepthMM() + family.PassingMM; nearest < least-exceedMM-sagittaMM {
				t.Errorf("%s: passes itself at %.3f mm, want %.3f mm", shape, nearest, least)
			}
		}
	}
}

// Most random numbers of every family can be pulled to where the wire about closes, and
// seated from there.
func TestEveryFamilyHasStarts(t *testing.T) {
	t.Parallel()
	for _, name := range presets.Names() {
		c := presetCase(t, name)
		c.Search.Starts = 8
		pattern, err := family.PatternFor(c)
		if err != nil {
			t.Fatal(err)
		}
		s := newTrial(t, c, pattern)
		seated := 0
		for _, x := range s.startingPoints() {
			s.closed(x)
			if costAt(s.worker, x).solved() {
				seated++
			}
		}
		if seated < 4 {
			t.Errorf("%s: %d of 8 starts can be seated", name, seated)
		}
	}
}

func TestFamiliesJacobiansMatchDifferences(t *testing.T) {
	t.Parallel()
	for _, name := range presets.Names() {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			c := heldFast(presetCase(t, name))
			c.Search.Starts, c.Positions = 3, 2
			pattern, err := family.PatternFor(c)
			if err != nil {
				t.Fatal(err)
			}
			s := newTrial(t, c, pattern)
			kinks, entries := 0, 0
			for _, x := range pointsNear(t, s, 1) {
				k, n := compareJacobian(t, s, x, map[string]bool{})
				kinks, entries = kinks+k, entries+n
			}
			if kinks*50 > entries {
				t.Errorf("%d of %d derivatives lie at kinks", kinks, entries)
			}
		})
	}
}
