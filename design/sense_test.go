package design_test

import (
	"fmt"
	"math"
	"testing"

	"springwright/design/designtest"
	"springwright/design/target"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// The ratio is taken over the force in the sense that is asked for, mesial or distal alike, and
// over half of the least asked where the spring's own is smaller or goes the other way.
func TestRatioTakesTheForceInTheSenseAskedFor(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		window        target.Window
		forceN, ratio float64 // of a couple of 5.6 N·mm
	}{
		{Within(0.5, 1), 0.8, 7},
		{Within(0.5, 1), 0.1, 5.6 / 0.25},
		{Within(0.5, 1), -0.8, 5.6 / 0.25},
		{Within(-1, -0.5), -0.8, -7},
		{Within(-1, -0.5), -0.1, -5.6 / 0.25},
		{Within(-1, -0.5), 0.8, -5.6 / 0.25},
		{Within(-0.5, 0.5), 0.8, math.NaN()},
		{Within(0, 0.5), 0.8, math.NaN()},
		{Within(-0.5, 0), -0.8, math.NaN()},
	} {
		wanted := target.Target{Travel: target.LoadWindow{ForceN: [3]target.Window{test.window}}, MomentToForceMM: Within(6, 8)}
		j := target.Judged{Active: tooth.Load{ForceN: r3.Vec{X: test.forceN}, CoupleNMM: r3.Vec{Y: 5.6}}}
		got := wanted.Value(target.MomentToForce, j)
		if math.IsNaN(test.ratio) != math.IsNaN(got) || math.Abs(got-test.ratio) > 1e-12 {
			t.Errorf("asked %+v, %v N: ratio %v, want %v", test.window, test.forceN, got, test.ratio)
		}
	}
}

// Couples alone are about a point.
func TestOnlyCouplesAreAboutAPoint(t *testing.T) {
	t.Parallel()
	c := designtest.LoopCase()
	for _, test := range []struct {
		atResistance bool
		q            target.Quantity
		want         string
	}{
		{true, target.OfActive(tooth.ForceZ), "intrusive force"},
		{true, target.OfActive(tooth.CoupleY), "crown-mesial couple at the centre of resistance"},
		{true, target.OfAnchor(tooth.ForceZ), "intrusive force on anchor tooth 36"},
		{true, target.OfAnchor(tooth.CoupleY), "crown-mesial couple on anchor tooth 36 at the centre of resistance"},
		{false, target.OfActive(tooth.CoupleY), "crown-mesial couple"},
		{false, target.OfActive(tooth.ForceZ), "intrusive force"},
	} {
		c.Target.AtResistance = test.atResistance
		if got := c.QuantityName(test.q, c.SignOf(test.q, 0), fmt.Sprintf); got != test.want {
			t.Errorf("%q, want %q", got, test.want)
		}
	}
}
