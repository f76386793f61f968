package main

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/effect"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// A turn is told in degrees, a shift in per cent, and neither as a share below nothing.
func TestReachedText(t *testing.T) {
	const degree = math.Pi / 180
	teeth := tooth.Pair{Anchor: 36, Active: 37} // +x distal: about +y the crown goes mesially
	for want, d := range map[string]effect.Drift{
		"it turns 11 of the planned 15°, crown-mesial":                                    {Turns: true, Planned: r3.Vec{Y: 15 * degree}, ReachedRad: 11.2 * degree},
		"it turns 19° the other way, away from the planned 15°, crown-distal":             {Turns: true, Planned: r3.Vec{Y: -15 * degree}, ReachedRad: -18.75 * degree},
		"it turns 1.3 of the planned 3.0°, lingual crown torque":                          {Turns: true, Planned: r3.Vec{X: -3 * degree}, ReachedRad: 1.26 * degree},
		"the slot comes 77 % of its travel":                                               {PlannedMM: 2, ReachedMM: 1.54, SlackMM: 0.46},
		"the slot comes 100 % of its travel":                                              {PlannedMM: 2, ReachedMM: 2.02},
		"the slot comes 46 % of its travel while the centre of resistance goes all of it": {PlannedMM: 2, ReachedMM: 0.92, SlackMM: 1.08, End: effect.DriftCentreGone},
		"the slot goes 2.50 mm against its travel of 2.00 mm":                             {PlannedMM: 2, ReachedMM: -2.5, SlackMM: 4.5},
		"the slot comes 100 % of its travel; it turns 5 of the planned 20°, mesial-out":   {PlannedMM: 2, ReachedMM: 2, Planned: r3.Vec{Z: -20 * degree}, ReachedRad: 5 * degree},
	} {
		if got := reachedText(effect.TeethReport{Teeth: teeth, Drift: d}); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
	if got := driftFaultText(fmt.Errorf("no drift: %w", effect.ErrNoDrift)); got != "no drift is predicted: the tooth is to stay where it stands" {
		t.Errorf("%q", got)
	}
	if got := driftFaultText(errors.New("it broke")); got != "no drift is predicted: it broke" {
		t.Errorf("%q", got)
	}
}

// The table shows the largest turn of the way, wherever it comes.
func TestDriftTableShowsTheLargestTurn(t *testing.T) {
	const degree = math.Pi / 180
	steps := []effect.DriftStep{{}, {ShiftMM: r3.Vec{Z: 1}, Rotation: r3.Vec{X: 4 * degree}}, {ShiftMM: r3.Vec{Z: 1.4}, Rotation: r3.Vec{X: 5.7 * degree}}, {ShiftMM: r3.Vec{Z: 2}, Rotation: r3.Vec{X: 0.7 * degree}}}
	var text tableText
	text.teeth(design.Case{}, effect.TeethReport{Teeth: tooth.Pair{Anchor: 36, Active: 37}, Drift: effect.Drift{PlannedMM: 2, ReachedMM: 2, Steps: steps}})
	if got := text.String(); !strings.Contains(got, "largest") || !strings.Contains(got, "5.7° buccal crown torque") {
		t.Errorf("the largest turn is missing:\n%s", got)
	}
}
