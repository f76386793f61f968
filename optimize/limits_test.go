package optimize

import (
	"math"
	"testing"

	"springwright/design"
	"springwright/design/beam"
	"springwright/design/family"
	"springwright/design/solve"
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

// drawn is a spring with every step of its pattern kept, so that a drawn pose tells which
// step of the pattern it lies on.
func drawn(t *testing.T, c design.Case, r Result) solve.Evaluation {
	t.Helper()
	values := make([]float64, len(r.Settings))
	for j, s := range r.Settings {
		values[j] = s.Value
	}
	e, err := solve.Evaluate(t.Context(), c.SpringFor(family.RectangularLoop(c).PathFor(values)), solve.Options{AllowYield: true})
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// A drawn pose every 0.5 mm and 5° misses the top of a bend by less than
// 1 mm × (1 − cos 2.5°) = 0.001 mm; the search solves on its own, coarser mesh.
const reachToleranceMM = exceedMM + 0.005

// checkLimits works the limits out from the case and the drawn shapes alone.
func checkLimits(t *testing.T, c design.Case, r Result) {
	t.Helper()
	e := drawn(t, c, r)
	pattern := family.RectangularLoop(c)
	half := c.Wire.HeightMM() / 2
	// What the limits are measured from: the centres of the active slot, and where its
	// distal side lies.
	goal, now := c.Goal.CentreMM, c.Now.CentreMM
	goal.X -= c.AnchorSlot.LengthMM / 2
	now.X -= c.AnchorSlot.LengthMM / 2
	mesial := -1.0
	if c.Teeth.Active.Place() < c.Teeth.Anchor.Place() {
		mesial = 1
	}
	for _, shape := range []struct {
		name   string
		poses  []beam.Pose
		centre r3.Vec
	}{{"passive", e.Passive, goal}, {"seated", e.Seated, now}} {
		var top, mesially, distally, low, high float64
		low, high = math.Inf(1), math.Inf(-1)
		top, mesially, distally = high, high, high
		for i, pose := range shape.poses {
			top = max(top, pose.At.Z+half-goal.Z)
			step := e.Samples[i].Step
			if step < pattern.LoopFirst || step > pattern.LoopLast {
				continue
			}
			mesially = max(mesially, mesial*(pose.At.X-shape.centre.X)+half)
			distally = max(distally, -mesial*(pose.At.X-shape.centre.X)+half)
			low, high = min(low, pose.At.X-half), max(high, pose.At.X+half)
		}
		for _, limit := range []struct {
			name         string
			got, limitMM float64
		}{
			{"loop height", top, c.Limits.LoopHeightMM},
			{"room mesially", mesially, c.Limits.RoomMesialMM},
			{"room distally", distally, c.Limits.RoomDistalMM},
			{"loop width", high - low, c.Limits.LoopWidthMM},
		} {
			if limit.got > limit.limitMM+reachToleranceMM {
				t.Errorf("%s: %s is %.3f mm, limit %.3f mm", shape.name, limit.name, limit.got, limit.limitMM)
			}
		}
		if gap := straightGapMM(e, shape.poses, pattern); gap < c.Wire.HeightMM()+selfGapMM-0.02 {
			t.Errorf("%s: the wire comes to %.3f mm of itself, centre to centre; wanted %.3f mm", shape.name, gap, c.Wire.HeightMM()+selfGapMM)
		}
	}
	for _, p := range r.Evaluation.Record.Positions {
		if p.StressRatio > 1 {
			t.Errorf("stress ratio %.3f with %.2f mm left", p.StressRatio, p.TravelLeftMM)
		}
	}
}

// straightGapMM is the nearest distance between drawn points of straights that are not
// neighbours: points every 0.5 mm miss a crossing by at most 0.25 mm, so that points in
// between are put in.
func straightGapMM(e solve.Evaluation, poses []beam.Pose, pattern spring.Pattern) float64 {
	type point struct {
		at   r3.Vec
		rank int
	}
	rank, ranks := 0, make([]int, len(pattern.Steps))
	for i, step := range pattern.Steps {
		ranks[i] = -1
		if step.Kind == spring.Straight {
			ranks[i] = rank
			rank++
		}
	}
	var points []point
	for i := 1; i < len(poses); i++ {
		if k := ranks[e.Samples[i].Step]; k >= 0 {
			for share := 0.0; share <= 1; share += 0.05 {
				points = append(points, point{mix(poses[i-1].At, poses[i].At, share), k})
			}
		}
	}
	nearest := math.Inf(1)
	for i, a := range points {
		for _, b := range points[i+1:] {
			if b.rank >= a.rank+2 {
				nearest = min(nearest, r3.Norm(r3.Sub(a.at, b.at)))
			}
		}
	}
	return nearest
}
