package main

import (
	"errors"
	"fmt"
	"math"

	"springwright/design"
	"springwright/design/effect"
	"springwright/design/target"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// teeth writes how both teeth begin to move, and how the active one is predicted to drift.
func (t *tableText) teeth(wanted design.Case, r effect.TeethReport) {
	for _, side := range []struct {
		role   string
		report effect.ToothReport
	}{{"active", r.Active}, {"anchor", r.Anchor}} {
		guess := ""
		if side.report.Resistance.Guess {
			guess = ", whose place is a guess"
		}
		t.line("\n%s tooth %d at its centre of resistance%s", side.role, side.report.Number, guess)
		for _, m := range side.report.Movements {
			t.line("  %s: %s", m.Plane.Name(), side.report.MovementText(r.Teeth, m))
		}
		if side.role == "anchor" || !wanted.Target.Wants(tooth.CoupleX) { // what would cancel the wanted couple is no remedy
			t.line("  across the arch: %s", side.report.RemedyText(r.Teeth))
		}
	}
	for _, e := range r.AnchorExcesses {
		unit := target.OfAnchor(e.Component).Unit()
		t.line("  more than usual: %s of %s %s (usual: at most %s), of which the target says nothing: hold the tooth",
			r.Teeth.AnchorMember().LoadName(e.Component, e.Value), fixed(math.Abs(e.Value), 2), unit, fixed(e.Limit, 2))
	}
	if r.DriftFault != nil {
		t.line("\n%s", driftFaultText(r.DriftFault))
		return
	}
	ratio := ""
	if r.Active.Resistance.LeverGuess {
		ratio = "; the root's hold against turning is a guess"
	}
	t.line("\npredicted drift of tooth %d, an estimate (%s%s)", r.Active.Number, reachedText(r), ratio)
	rows := [][]string{{"", "tip", "torque", "rotation"}}
	for _, stage := range r.Drift.Stages() {
		tip, torque, turn := effect.TurnText(r.Teeth.ActiveMember(), stage.Rotation)
		rows = append(rows, []string{stage.Name, tip, torque, turn})
	}
	tip, torque, turn := effect.TurnText(r.Teeth.ActiveMember(), r.Drift.LargestTurn())
	t.labelled(append(rows, []string{"largest", tip, torque, turn}))
}

// driftFaultText says why no drift is predicted.
func driftFaultText(fault error) string {
	if errors.Is(fault, effect.ErrNoDrift) {
		return "no drift is predicted: the tooth is to stay where it stands"
	}
	return "no drift is predicted: " + fault.Error()
}

// reachedText says how far a drift brings the tooth: of a shift in per cent, of a turn in
// degrees.
func reachedText(r effect.TeethReport) string {
	d := r.Drift
	if d.Turns {
		return turnedText(r)
	}
	text := "the slot comes " + fixed(math.Abs(100*d.ReachedShare()), 0) + " % of its travel"
	if d.ReachedMM < -leastDriftMM {
		text = fmt.Sprintf("the slot goes %s mm against its travel of %s mm", fixed(-d.ReachedMM, 2), fixed(d.PlannedMM, 2))
	}
	if d.End == effect.DriftAgainst {
		text += ", where its force works the other way"
	}
	if d.End == effect.DriftCentreGone {
		text += " while the centre of resistance goes all of it"
	}
	if r3.Norm(d.Planned) >= leastDriftRad {
		text += "; " + turnedText(r)
	}
	return text
}

const (
	leastDriftMM     = 0.01 // below it a travel is none
	leastDriftRad    = 0.05 * math.Pi / 180
	wholeDegreesFrom = 5 * math.Pi / 180 // parts of larger turns are told in whole degrees
)

// turnedText says how much of its planned turn the tooth makes, such as "it turns 11 of 15°,
// crown-distal".
func turnedText(r effect.TeethReport) string {
	d := r.Drift
	planned, decimals := r3.Norm(d.Planned), 0
	if planned < wholeDegreesFrom {
		decimals = 1
	}
	number := func(rad float64) string { return fixed(rad*180/math.Pi, decimals) }
	sense := effect.TurnSense(r.Teeth.ActiveMember(), d.Planned)
	if d.ReachedRad < -leastDriftRad {
		return fmt.Sprintf("it turns %s° the other way, away from the planned %s°, %s", number(-d.ReachedRad), number(planned), sense)
	}
	return fmt.Sprintf("it turns %s of the planned %s°, %s", number(math.Abs(d.ReachedRad)), number(planned), sense)
}
