package spring_test

import (
	"math"
	"testing"

	"springwright/design"
	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

func TestTravel(t *testing.T) {
	t.Parallel()
	at := r3.Vec{X: 12}
	for name, c := range map[string]struct {
		now, goal design.Placement
		turns     bool
		component tooth.Component
		sign      float64
		left      float64 // at the start, mm or rad
	}{
		"intrusion":           {design.Placement{CentreMM: r3.Vec{X: 12, Z: -2}}, design.Placement{CentreMM: at}, false, tooth.ForceZ, 1, 2},
		"retraction":          {design.Placement{CentreMM: r3.Vec{X: 13, Y: 0.1, Z: -0.2}}, design.Placement{CentreMM: at}, false, tooth.ForceX, -1, math.Sqrt(1 + 0.05)},
		"torque":              {design.Placement{CentreMM: at, Rotation: r3.Vec{X: 0.1}}, design.Placement{CentreMM: at}, true, tooth.CoupleX, -1, 0.1},
		"tip about its place": {design.Placement{CentreMM: at, Rotation: r3.Vec{Y: -0.2, Z: 0.1}}, design.Placement{CentreMM: at}, true, tooth.CoupleY, 1, math.Sqrt(0.05)},
	} {
		// A turn about the slot's centre shifts the wire's entry: still a turn.
		wanted := design.Case{Now: c.now, Goal: c.goal, Positions: 3, AnchorSlot: spring.Slot{LengthMM: 4}, ActiveSlot: spring.Slot{LengthMM: 3}}
		s := wanted.SpringFor(spring.Path{})
		travel := s.Travel()
		k, sign := travel.Component()
		if travel.Turns != c.turns || k != c.component || sign != c.sign || travel.None() {
			t.Errorf("%s: turns %v, component %d, sign %v", name, travel.Turns, k, sign)
		}
		start := spring.Position{Seat: s.SeatAt(0), TravelLeftMM: r3.Norm(r3.Sub(s.End.AtMM, s.Start.AtMM))}
		if got := travel.Left(start); math.Abs(got-c.left) > 1e-12 {
			t.Errorf("%s: %v left, want %v", name, got, c.left)
		}
		// A load along the way is all along it, one across it is not.
		way := r3.Unit(travel.Way)
		across := r3.Unit(r3.Cross(way, r3.Vec{X: 1, Y: 2, Z: 3}))
		for _, test := range []struct {
			load tooth.Load
			want float64
		}{
			{tooth.Load{ForceN: r3.Scale(3, way), CoupleNMM: r3.Scale(5, way)}, map[bool]float64{false: 3, true: 5}[c.turns]},
			{tooth.Load{ForceN: across, CoupleNMM: across}, 0},
		} {
			if got := travel.Along(test.load); math.Abs(got-test.want) > 1e-12 {
				t.Errorf("%s: %v along, want %v", name, got, test.want)
			}
		}
	}
	still := design.Case{Now: design.Placement{CentreMM: at}, Goal: design.Placement{CentreMM: at}, Positions: 1}
	if travel := still.SpringFor(spring.Path{}).Travel(); !travel.None() || travel.Turns {
		t.Errorf("%+v of a slot that stays", travel)
	}
}
