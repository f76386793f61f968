package effect_test

import (
	"errors"
	"math"
	"testing"

	"springwright/design/casefile"
	"springwright/design/designtest"
	"springwright/design/effect"
	"springwright/design/spring"

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
	d, err := effect.PredictDrift(t.Context(), s, r3.Vec{Y: 4, Z: 10}, 9.8)
	if err != nil {
		t.Fatal(err)
	}
	const travelMM, stepMM = 1, 1. / 40
	last := d.Steps[len(d.Steps)-1]
	if gone := -last.ShiftMM.X; d.End != effect.DriftCentreGone || gone < travelMM-1e-9 || gone > travelMM+2*stepMM {
		t.Errorf("ends by %v with the centre %v of %v mm on", d.End, gone, travelMM)
	}
	if slot := centreAt(s, s.Start).X - centreAt(s, last.Seat).X; math.Abs(slot+d.SlackMM-travelMM) > 1e-9 || d.SlackMM < 0.2 || math.Abs(slot-d.ReachedMM) > 1e-9 {
		t.Errorf("the slot has gone %v mm and %v are left undone", slot, d.SlackMM)
	}
	if force := s.Travel().Along(last.Active); force < 0.1 {
		t.Errorf("%v N along the way at the end, want a force that has not died out", force)
	}
	if last.Rotation.Y > -3*math.Pi/180 { // +x is mesial here: the crown goes there about −y
		t.Errorf("turned by %v rad about y", last.Rotation.Y)
	}

	// A tooth that cannot turn goes where the slot goes: nothing is left, or the force has gone.
	stiff, err := effect.PredictDrift(t.Context(), s, r3.Vec{Y: 4, Z: 10}, 1e9)
	if err != nil {
		t.Fatal(err)
	}
	last = stiff.Steps[len(stiff.Steps)-1]
	if left := last.Seat.AtMM.X - (s.Start.AtMM.X - travelMM); stiff.End == effect.DriftCentreGone || math.Abs(left-stiff.SlackMM) > 1e-6 || left > 0.1 {
		t.Errorf("ends by %v, %v mm left and %v undone", stiff.End, left, stiff.SlackMM)
	}
}

// centreAt is the active slot's centre at a seat.
func centreAt(s spring.Spring, seat spring.Seat) r3.Vec { return s.Centre(seat.Pose(s.Heading)) }

// A tooth that is to turn where it stands has a drift too: by the twist that is left in the
// wire, as far as that goes, and the goal is measured in radians.
func TestDriftOfATurn(t *testing.T) {
	t.Parallel()
	const goalRad = 0.2
	// With its centre of resistance at the slot nothing carries it aside: it turns until the
	// couple has died out or the goal is reached.
	for _, test := range []struct {
		twistRad float64
		end      effect.DriftEnd
		share    float64
	}{{0.3, effect.DriftArrived, 1}, {0.15, effect.DriftDied, 0.75}, {-0.15, effect.DriftAgainst, 0}} {
		d, err := effect.PredictDrift(t.Context(), designtest.TurningSpring(goalRad, test.twistRad), r3.Vec{}, 10)
		if err != nil {
			t.Fatal(err)
		}
		// Below driftCoupleNMM a couple moves nothing: some hundredths of a radian of this wire.
		const stillRad = 0.015
		last := d.Steps[len(d.Steps)-1].Rotation.X
		if !d.Turns || d.End != test.end || math.Abs(d.ReachedShare()-test.share) > stillRad/goalRad || math.Abs(d.ReachedRad-last) > 1e-9 || d.PlannedMM != 0 {
			t.Errorf("twist %v: turns %v, ends by %v, reached %v of %v rad", test.twistRad, d.Turns, d.End, d.ReachedRad, d.Planned)
		}
		if got := r3.Norm(r3.Sub(d.Planned, r3.Vec{X: goalRad})); got > 1e-12 {
			t.Errorf("planned turn %v", d.Planned)
		}
	}
	stays := designtest.TurningSpring(0, 0.1)
	if _, err := effect.PredictDrift(t.Context(), stays, r3.Vec{}, 10); !errors.Is(err, effect.ErrNoDrift) {
		t.Errorf("a tooth that is to stay: %v", err)
	}
}

// A shift with a large turn is measured by the turn: the slot may go the other way meanwhile.
func TestDriftOfATurnWithASmallShift(t *testing.T) {
	t.Parallel()
	s := designtest.TurningSpring(0.2, 0.3)
	s.End.AtMM.Z += 0.3 // less than 0.2 rad at a lever of √10 mm
	d, err := effect.PredictDrift(t.Context(), s, r3.Vec{}, 10)
	if err != nil {
		t.Fatal(err)
	}
	if !d.Turns || d.ReachedShare() < 0.9 || math.Abs(d.PlannedMM-0.3) > 1e-9 {
		t.Errorf("turns %v, reached %v of the turn and %v of %v mm", d.Turns, d.ReachedShare(), d.ReachedMM, d.PlannedMM)
	}
	s.End.AtMM.Z += 2
	if d, err = effect.PredictDrift(t.Context(), s, r3.Vec{}, 10); err != nil || d.Turns {
		t.Errorf("2.3 mm beside 0.2 rad: turns %v, %v", d.Turns, err)
	}
}

// The largest turn on the way may come before its end, each part at its own place.
func TestLargestTurnOfADrift(t *testing.T) {
	t.Parallel()
	d := effect.Drift{Steps: []effect.DriftStep{
		{}, {Rotation: r3.Vec{X: 0.1, Y: -0.02}}, {Rotation: r3.Vec{X: 0.03, Y: 0.01, Z: -0.2}}, {Rotation: r3.Vec{X: -0.05}},
	}}
	if got, want := d.LargestTurn(), (r3.Vec{X: 0.1, Y: -0.02, Z: -0.2}); got != want {
		t.Errorf("got %v, want %v", got, want)
	}
}

// A wire that slides through its slot does so while the tooth drifts, too: nothing pulls along it.
func TestDriftOfAWireThatSlides(t *testing.T) {
	t.Parallel()
	c := alignedCase(10)
	c.Now.CentreMM.Z = -0.5
	const unturningMM2 = 1e12
	d, err := effect.PredictDrift(t.Context(), effect.StraightSpring(c, "", designtest.Titanium()), r3.Vec{}, unturningMM2)
	if err != nil {
		t.Fatal(err)
	}
	for i, step := range d.Steps {
		if pull := math.Abs(step.Active.ForceN.X); pull > 1e-6 { // of 1.7 N across it
			t.Fatalf("step %d: %v N along the wire", i, pull)
		}
	}
	if d.End != effect.DriftDied || d.ReachedMM < 0.48 {
		t.Errorf("%v mm, ending by %v", d.ReachedMM, d.End)
	}
}
