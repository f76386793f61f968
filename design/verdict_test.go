package design_test

import (
	"math"
	"testing"

	"springwright/design"
	"springwright/design/designtest"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
)

// A lower left molar: mesial is −x, the cheek +y, crown-mesial about +y.
func TestVerdictsAndMisses(t *testing.T) {
	t.Parallel()
	inf := math.Inf(1)
	wanted := design.Case{Teeth: tooth.Pair{Anchor: 36, Active: 37}, Target: target.Target{Start: designtest.FreeLoad(), Travel: designtest.FreeLoad(), ForceUntilMM: 0.5}}
	wanted.Target.Start.ForceN[2] = Within(0.3, inf)
	wanted.Target.Travel.ForceN[0] = Within(-0.02, 0.06)
	wanted.Target.Travel.ForceN[1] = Within(-0.5, -0.1)
	wanted.Target.Travel.CoupleNMM[1] = Within(-0.5, 0.5)
	wanted.Target.Anchor.ForceN[2] = Within(-inf, 0.2)
	position := func(leftMM, forceX, forceY, forceZ, coupleY float64) spring.Position {
		return spring.Position{
			TravelLeftMM: leftMM,
			Active:       tooth.Load{ForceN: r3.Vec{X: forceX, Y: forceY, Z: forceZ}, CoupleNMM: r3.Vec{Y: coupleY}},
			Anchor:       tooth.Load{ForceN: r3.Vec{Z: -forceZ}},
		}
	}
	record := spring.Record{Positions: []spring.Position{
		position(2, 0.05, -0.4, 0.25, -0.1),
		position(1, -0.01, 0.03, 0.1, 0.2),
		position(0, 0.5, 0, -0.2, 0.6), // slack: the side force is not asked for, the couple is
	}}
	want := []target.Verdict{
		{Quantity: target.OfActive(tooth.ForceX), Window: Within(-0.02, 0.06), Low: -0.01, High: 0.05, Met: true},
		{Quantity: target.OfActive(tooth.ForceY), Window: Within(-0.5, -0.1), Low: -0.4, High: 0.03, Worst: 0.03, WorstLeftMM: 1},
		{Quantity: target.OfActive(tooth.ForceZ), AtStart: true, Window: Within(0.3, inf), Low: 0.25, High: 0.25, Worst: 0.25, WorstLeftMM: 2},
		{Quantity: target.OfActive(tooth.CoupleY), Window: Within(-0.5, 0.5), Low: -0.1, High: 0.6, Worst: 0.6},
		{Quantity: target.OfAnchor(tooth.ForceZ), Window: Within(-inf, 0.2), Low: -0.25, High: -0.1, Met: true},
	}
	got := wanted.Verdicts(record)
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("verdicts (-want +got):\n%s", diff)
	}
	misses := wanted.Misses(record)
	if len(misses) != 3 {
		t.Fatalf("misses %+v, want three", misses)
	}
	for i, v := range []target.Verdict{want[1], want[2], want[3]} {
		m := misses[i]
		if m.Quantity != v.Quantity || m.Value != v.Worst || m.TravelLeftMM != v.WorstLeftMM || m.AtStart != v.AtStart || m.Window != v.Window {
			t.Errorf("miss %+v of %+v", m, v)
		}
	}
	if got := wanted.Verdicts(spring.Record{}); len(got) != 0 {
		t.Errorf("a record without positions: %+v", got)
	}
}

// An empty couple that is off at the last place has no travel left there.
func TestVerdictTakesTheWorstPlace(t *testing.T) {
	t.Parallel()
	c := design.Case{Teeth: tooth.Pair{Anchor: 36, Active: 37}}
	c.Target.Travel.ForceN[2] = Within(0.1, 0.2)
	var record spring.Record
	for i, force := range []float64{0.25, 0.45, 0.15, 0.0, -0.1, 0.3} {
		record.Positions = append(record.Positions, spring.Position{TravelLeftMM: float64(5 - i), Active: tooth.Load{ForceN: r3.Vec{Z: force}}})
	}
	v := c.Verdicts(record)[0]
	if v.Met || v.Worst != 0.45 || v.WorstLeftMM != 4 || v.Low != -0.1 || v.High != 0.45 {
		t.Errorf("%+v", v)
	}
}
