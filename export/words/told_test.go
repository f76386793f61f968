package words

import (
	"errors"
	"fmt"
	"testing"

	"springwright/design/effect"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

func TestMovementWords(t *testing.T) {
	t.Parallel()
	teeth := tooth.Pair{Anchor: 36, Active: 37} // +x distal, +y buccal
	const leverMM2 = 8.228
	for _, c := range []struct {
		name  string
		load  tooth.Load
		plane effect.Plane
		want  string
	}{
		{"nothing", tooth.Load{}, effect.SidePlane, "no load worth naming"},
		{"intrusion", tooth.Load{ForceN: r3.Vec{Z: 0.5}}, effect.SidePlane, "bodily movement, intrusive"},
		{"mesial and intrusive", tooth.Load{ForceN: r3.Vec{X: -0.5, Z: 0.3}}, effect.SidePlane, "bodily movement, mesial and intrusive"},
		{"couple", tooth.Load{CoupleNMM: r3.Vec{Y: 5}}, effect.SidePlane, "turns, crown-mesial, about its centre of resistance"},
		// 8.228 × 0.5 / 2.057 = 2 mm. Pushed apically and turned crown-mesial: the distal
		// side goes down, so that the point at rest lies distally.
		{"intrusion and couple", tooth.Load{ForceN: r3.Vec{Z: 0.5}, CoupleNMM: r3.Vec{Y: 2.057}}, effect.SidePlane, "tips, crown-mesial, about a point 2.0 mm distal of its centre of resistance"},
		// A crown pushed mesially turns about a point above its centre of resistance.
		{"uncontrolled tipping", tooth.Load{ForceN: r3.Vec{X: -0.5}, CoupleNMM: r3.Vec{Y: 0.5 * 7.86}}, effect.SidePlane, "tips, crown-mesial, about a point 1.0 mm apical of its centre of resistance"},
		{"nearly bodily", tooth.Load{ForceN: r3.Vec{X: -0.5}, CoupleNMM: r3.Vec{Y: 0.1371}}, effect.SidePlane, "nearly bodily, mesial; tips, crown-mesial, about a point 30.0 mm apical of its centre of resistance"},
		{"torque", tooth.Load{CoupleNMM: r3.Vec{X: 5}}, effect.EndPlane, "turns, crown-buccal, about its centre of resistance"},
		{"rotation", tooth.Load{CoupleNMM: r3.Vec{Z: 5}}, effect.BitePlane, "turns, mesial-in, about its centre of resistance"},
	} {
		report := effect.ToothReport{Number: teeth.Active, AtResistance: c.load, Movements: effect.Movements(c.load, leverMM2)}
		if got := NewBook(English).Movement(teeth.ActiveMember(), report, report.Movements[c.plane]); got != c.want {
			t.Errorf("%s: got %q, want %q", c.name, got, c.want)
		}
	}
}

func TestTurnIsToldByItsParts(t *testing.T) {
	t.Parallel()
	tip, torque, turn := NewBook(English).Turn(tooth.Pair{Anchor: 36, Active: 37}.ActiveMember(), r3.Vec{X: degree, Y: -2 * degree, Z: 1e-5})
	if tip != "2.0° crown-distal" || torque != "1.0° buccal crown torque" || turn != "0.0°" {
		t.Errorf("turns read %q, %q, %q", tip, torque, turn)
	}
}

// The sentence follows the figures.
func TestAnchorEffectFollowsTheFigures(t *testing.T) {
	t.Parallel()
	teeth := tooth.Pair{Anchor: 36, Active: 37} // +x distal: +couple is crown-mesial
	at := func(activeNMM, anchorN, anchorNMM float64) spring.Position {
		return spring.Position{
			Active: tooth.Load{ForceN: r3.Vec{Z: -anchorN}, CoupleNMM: r3.Vec{Y: activeNMM}},
			Anchor: tooth.Load{ForceN: r3.Vec{Z: anchorN}, CoupleNMM: r3.Vec{Y: anchorNMM}},
		}
	}
	candidate := func(name string, positions ...spring.Position) effect.Candidate {
		return effect.Candidate{Family: name, Evaluation: solve.Evaluation{Record: spring.Record{Positions: positions}}}
	}
	loop := candidate("loop", at(0, -0.5, 6), at(0, -0.25, 3))
	for _, c := range []struct {
		candidate effect.Candidate
		want      string
	}{
		{loop, "at the start tooth 36 feels 0.50 N extrusive and 6.0 N·mm crown-mesial, and carries the couple all but alone (class IV); at the end of the travel 0.25 N extrusive and 3.0 N·mm crown-mesial"},
		{
			candidate("wire", at(-9, -1, -9), at(0, 0, 0)),
			"at the start tooth 36 feels 1.00 N extrusive and 9.0 N·mm crown-distal (2.0 times the force and 1.5 times the couple of the loop), and tooth 37 is turned the same way, crown-distal (class I); nothing is left of it at the end of the travel",
		},
		{
			candidate("wire", at(6, 0, -6), at(6, 0.5, 0)),
			"at the start tooth 36 feels 6.0 N·mm crown-distal (0.0 times the force and 1.0 times the couple of the loop), turned crown-distal while tooth 37 is turned crown-mesial (class VI); at the end of the travel 0.50 N intrusive, while tooth 37 carries the couple all but alone (class IV)",
		},
	} {
		if got := NewBook(English).AnchorEffect(teeth, c.candidate, loop); got != c.want {
			t.Errorf("got  %s\nwant %s", got, c.want)
		}
	}
}

// The class is about tipping: a spring that torques has none worth naming.
func TestAnchorEffectOfATorquingSpring(t *testing.T) {
	t.Parallel()
	teeth := tooth.Pair{Anchor: 26, Active: 23} // +x mesial, −y palatal
	at := func(torqueNMM float64) spring.Position {
		return spring.Position{
			Active: tooth.Load{CoupleNMM: r3.Vec{X: -torqueNMM}},
			Anchor: tooth.Load{ForceN: r3.Vec{X: -0.2, Y: -0.1}, CoupleNMM: r3.Vec{X: torqueNMM, Y: 0.3}},
		}
	}
	c := effect.Candidate{Family: "root spring", Evaluation: solve.Evaluation{Record: spring.Record{Positions: []spring.Position{at(5), at(4)}}}}
	buccal := teeth.AnchorMember().ForceYWord(1)
	want := "at the start tooth 26 feels 0.20 N distal, 0.10 N " + teeth.AnchorMember().ForceYWord(-1) + " and 5.0 N·mm crown-" + buccal +
		"; at the end of the travel 0.20 N distal, 0.10 N " + teeth.AnchorMember().ForceYWord(-1) + " and 4.0 N·mm crown-" + buccal
	if got := NewBook(English).AnchorEffect(teeth, c, c); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

// Without teeth the axes of the file are named, with their sign.
func TestMissesWithoutTeethNameAxes(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		q    target.Quantity
		sign float64
		want string
	}{
		{target.OfActive(tooth.ForceZ), 1, "force along z on the active tooth"},
		{target.OfActive(tooth.ForceX), -1, "force along −x on the active tooth"},
		{target.OfAnchor(tooth.CoupleY), -1, "couple about −y on the anchor tooth"},
		{target.MomentToForce, -1, "moment-to-force ratio"},
		{target.Rate, 1, "load-deflection rate"},
	} {
		if got := NewBook(English).missed(tooth.Pair{}, target.Miss{Quantity: test.q}, test.sign); got != test.want {
			t.Errorf("%v: %q, want %q", test.q, got, test.want)
		}
	}
}

// A turn is told in degrees, a shift in per cent, and neither as a share below nothing.
func TestDriftInShort(t *testing.T) {
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
		if got := NewBook(English).DriftInShort(teeth.ActiveMember(), d); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
	if got := NewBook(English).DriftFault(fmt.Errorf("no drift: %w", effect.ErrNoDrift)); got != "the tooth is to stay where it stands" {
		t.Errorf("%q", got)
	}
	if got := NewBook(English).DriftFault(errors.New("it broke")); got != "it broke" {
		t.Errorf("%q", got)
	}
}

// What is missed by little is told with as many decimals as it takes.
func TestSmallMissesAreSeen(t *testing.T) {
	near := target.Miss{Quantity: target.OfActive(tooth.ForceZ), Value: 0.29996, Window: target.Window{Min: 0.3, Max: 0.6}}
	if got := NewBook(English).missedNumber(near); got != "0.29996" {
		t.Errorf("0.29996 N is told as %s N beside a window from 0.3 N on", got)
	}
}
