package design_test

import (
	"math"
	"testing"

	"springwright/design"
	"springwright/design/casefile"

	"gonum.org/v1/gonum/spatial/r3"
)

// closingLoop draws a tooth 1 mm towards −x with a couple that carries its root after it.
const closingLoop = `
path = [
  { straight_mm = 5 },
  { bend_deg = 98, radius_mm = 0.9659 },
  { straight_mm = 6.5 },
  { bend_deg = 180, radius_mm = 1.2159 },
  { bend_deg = 20, radius_mm = 0.9659, order = 1 },
  { straight_mm = 2.3 },
  { bend_deg = -20, radius_mm = 0.9659, order = 1 },
  { straight_mm = 1.5 },
  { bend_deg = 90, radius_mm = 0.9659 },
  { straight_mm = 2.5 },
  { bend_deg = -20, radius_mm = 0.9659, order = 1 },
  { straight_mm = 2.3 },
  { bend_deg = 20, radius_mm = 0.9659, order = 1 },
  { straight_mm = 1 },
  { bend_deg = 25, radius_mm = 0.9659 },
  { straight_mm = 1 },
]

[wire]
alloy = "beta-titanium"
e_gpa = 65
poisson = 0.3
yield_mpa = 900
thickness_mm = 0.4318
width_mm = 0.635

[anchor]
slot_length_mm = 3

[active]
slot_length_mm = 3
heading = "on"
start = { at_mm = [12, 0, 0], tip_deg = 0, torque_deg = 0, rotation_deg = 0 }
end = { at_mm = [11, 0, 0], tip_deg = 0, torque_deg = 0, rotation_deg = 0 }
positions = 5
`

// With a couple that outlasts the force the root comes after the crown, and the slot turns
// back while the centre of resistance goes on: the way ends where that has gone as far as
// planned, with a force that has not died out.
func TestDriftEndsWhereTheCentreHasGoneAsFarAsPlanned(t *testing.T) {
	t.Parallel()
	s, err := casefile.ReadSpring("loop.toml", []byte(closingLoop))
	if err != nil {
		t.Fatal(err)
	}
	d, err := design.PredictDrift(t.Context(), s, r3.Vec{Y: 4, Z: 10}, 9.8)
	if err != nil {
		t.Fatal(err)
	}
	const travelMM, stepMM = 1, 1. / 40
	last := d.Steps[len(d.Steps)-1]
	if gone := -last.ShiftMM.X; !d.Turned || gone < travelMM-1e-9 || gone > travelMM+2*stepMM {
		t.Errorf("turned %v with the centre %v of %v mm on", d.Turned, gone, travelMM)
	}
	if slot := s.Start.AtMM.X - last.Seat.AtMM.X; math.Abs(slot+d.SlackMM-travelMM) > 1e-9 || d.SlackMM < 0.2 {
		t.Errorf("the slot has gone %v mm and %v are left undone", slot, d.SlackMM)
	}
	if force := s.Travel().Along(last.Active); force < 0.1 {
		t.Errorf("%v N along the way at the end, want a force that has not died out", force)
	}
	if last.Rotation.Y > -3*math.Pi/180 { // +x is mesial here: the crown goes there about −y
		t.Errorf("turned by %v rad about y", last.Rotation.Y)
	}

	// A tooth that cannot turn goes where the slot goes: nothing is left, or the force has gone.
	stiff, err := design.PredictDrift(t.Context(), s, r3.Vec{Y: 4, Z: 10}, 1e9)
	if err != nil {
		t.Fatal(err)
	}
	last = stiff.Steps[len(stiff.Steps)-1]
	if left := last.Seat.AtMM.X - (s.Start.AtMM.X - travelMM); stiff.Turned || math.Abs(left-stiff.SlackMM) > 1e-6 || left > 0.1 {
		t.Errorf("turned %v, %v mm left and %v undone", stiff.Turned, left, stiff.SlackMM)
	}
}
