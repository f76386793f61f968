package main

import (
	"math"
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/effect"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

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
