package main

import (
	"math"
	"testing"

	"springwright/design"
	"springwright/design/tooth"
	"springwright/export"
	"springwright/optimize"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
)

func TestChecks(t *testing.T) {
	free := design.FreeWindow()
	open := design.LoadWindow{ForceN: [3]design.Window{free, free, free}, CoupleNMM: [3]design.Window{free, free, free}}
	wanted := design.Case{Teeth: tooth.Pair{Anchor: 36, Active: 37}, Target: design.Target{Start: open, Travel: open, ForceUntilMM: 0.5}}
	wanted.Target.Start.ForceN[2] = design.Window{Min: 0.3, Max: math.Inf(1)}
	wanted.Target.Travel.ForceN[0] = design.Window{Min: -0.02, Max: 0.06} // mesial is −x here
	wanted.Target.Travel.ForceN[1] = design.Window{Min: -0.5, Max: -0.1}  // buccal is +y
	wanted.Target.Travel.CoupleNMM[1] = design.Window{Min: -0.5, Max: 0.5}

	position := func(leftMM, forceX, forceY, forceZ, coupleY float64) design.Position {
		return design.Position{TravelLeftMM: leftMM, Active: design.Load{
			ForceN: r3.Vec{X: forceX, Y: forceY, Z: forceZ}, CoupleNMM: r3.Vec{Y: coupleY},
		}}
	}
	r := optimize.Result{
		Evaluation: design.Evaluation{Record: design.Record{Positions: []design.Position{
			position(2, 0.05, -0.4, 0.25, -0.1),
			position(1, -0.01, 0.03, 0.1, 0.2),
			position(0, 0.5, 0, -0.2, 0.6), // slack: the side force is not asked for, the couple is
		}}},
		After:    optimize.Summary{StressRatio: 0.284},
		Exceeded: []string{"loop height is exceeded by 0.40 mm"},
	}
	want := []export.Check{
		{Name: "mesial force, over the travel", Value: "−0.050 to 0.010 N", Limit: "−0.06 to 0.02 N", Met: true},
		{Name: "lingual force, over the travel", Value: "−0.030 to 0.400 N", Limit: "0.10 to 0.50 N", Met: false},
		{Name: "intrusive force, at the start", Value: "0.250 N", Limit: "at least 0.30 N", Met: false},
		{Name: "crown-mesial couple, over the travel", Value: "−0.10 to 0.60 N·mm", Limit: "±0.50 N·mm", Met: false},
		{Name: "stress over yield", Value: "at most 0.28", Limit: "at most 1.00", Met: true},
		{Name: "room in the mouth", Value: "loop height is exceeded by 0.40 mm", Limit: "as measured", Met: false},
	}
	if diff := cmp.Diff(want, checks(wanted, r)); diff != "" {
		t.Errorf("checks (-want +got):\n%s", diff)
	}
}
