package visit

import (
	"context"
	"math"
	"testing"

	"springwright/design/effect"

	"gonum.org/v1/gonum/spatial/r3"
)

// Both teeth go the same way in time as they drift without it: only how long they take is new. Where the
// centre of resistance has come as far, the tooth and the anchor are turned and shifted alike.
func TestACourseGoesTheWayOfTheDrift(t *testing.T) {
	t.Parallel()
	c, s := loop(t)
	c.Anchorage.Held = 0 // so that the anchor moves, too
	body, err := effect.AnchorBodyOf(c)
	if err != nil {
		t.Fatal(err)
	}
	offset, lever := c.ActiveOffset(s.Start), c.Resistance.Active.LeverMM2
	drift, err := effect.PredictBothDrift(context.Background(), s, offset, lever, body)
	if err != nil {
		t.Fatal(err)
	}
	course, err := effect.NewCourse(s, offset, lever, body, effect.Pace{PerDay: 0.01, Push: 0.4})
	if err != nil {
		t.Fatal(err)
	}
	compared := 0
	before := course.Now()
	for range 60 {
		if err := course.Wear(context.Background(), 1); err != nil {
			t.Fatal(err)
		}
		now := course.Now()
		for _, step := range drift.Steps {
			if step.ShiftMM.Z <= before.Centre || step.ShiftMM.Z > now.Centre { // the travel is along z
				continue
			}
			part := (step.ShiftMM.Z - before.Centre) / (now.Centre - before.Centre)
			between := func(a, b r3.Vec) r3.Vec { return r3.Add(a, r3.Scale(part, r3.Sub(b, a))) }
			// The drift's steps turn by up to 0.5° and are Euler's, off by a part of that.
			const slackRad, slackMM = 0.5 * degree, 0.05
			if off := r3.Norm(r3.Sub(between(before.ActiveTurn, now.ActiveTurn), step.Rotation)); off > slackRad {
				t.Errorf("at %.2f mm the tooth is turned %.2f° off the drift", now.Centre, off/degree)
			}
			if off := r3.Norm(r3.Sub(between(before.Anchor.SlotMM, now.Anchor.SlotMM), step.Anchor.SlotMM)); off > slackMM {
				t.Errorf("at %.2f mm the anchor's slot lies %.3f mm off the drift", now.Centre, off)
			}
			compared++
		}
		before = now
	}
	if compared < 10 || math.IsNaN(before.Closed) {
		t.Errorf("%d places were compared", compared)
	}
}
