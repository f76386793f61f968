package main

import (
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// The load along the travel is told, on its own name and above 0.
func TestPlayText(t *testing.T) {
	at := r3.Vec{X: 14}
	load := tooth.Load{ForceN: r3.Vec{X: -1.06, Y: 0.3, Z: 0.02}, CoupleNMM: r3.Vec{X: -7.25, Y: 2, Z: 9}}
	played := tooth.Load{ForceN: r3.Vec{X: -0.81, Y: 0.4, Z: -0.01}, CoupleNMM: r3.Vec{X: -4.5, Y: 1, Z: 8}}
	record := func(l tooth.Load) solve.Evaluation {
		return solve.Evaluation{Record: spring.Record{Positions: []spring.Position{{Active: l}}}}
	}
	effect := solve.PlayComparison{
		Tied: record(load), Played: record(played),
		Active: solve.Effect{CoupleNMM: 1.8}, Anchor: solve.Effect{CoupleNMM: 1.5},
	}
	for want, now := range map[string]design.Placement{
		"play takes the distal force at the start from 1.06 to 0.81 N and":            {CentreMM: r3.Vec{X: 15}},
		"play takes the intrusive force at the start from 0.02 to -0.01 N and":        {CentreMM: r3.Vec{X: 14, Z: -1}},
		"play takes the labial crown torque at the start from 7.25 to 4.50 N·mm and":  {CentreMM: at, Rotation: r3.Vec{X: 0.1}},
		"play takes the crown-distal couple at the start from 2.00 to 1.00 N·mm and ": {CentreMM: at, Rotation: r3.Vec{Y: 0.1}},
	} {
		wanted := design.Case{Teeth: tooth.Pair{Anchor: 15, Active: 13}, Now: now, Goal: design.Placement{CentreMM: at}, Positions: 2} // +x mesial, −y labial
		spring := wanted.SpringFor(spring.Path{})
		got := playText(wanted, spring, effect)
		if !strings.Contains(got, want) || !strings.Contains(got, "tied tightly into both slots") || !strings.Contains(got, "up to 1.8 N·mm on the active tooth and 1.5 N·mm on the anchor") {
			t.Errorf("%q, want %q", got, want)
		}
		spring.ActiveHold.Hook = true
		if got := playText(wanted, spring, effect); strings.Contains(got, "both slots") || !strings.HasSuffix(got, "the couple on the anchor tooth by up to 1.5 N·mm") {
			t.Errorf("of a hook: %q", got)
		}
	}
}
