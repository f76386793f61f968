package main

import (
	"springwright/design"
)

// teeth writes how both teeth begin to move, and how the active one is predicted to drift.
func (t *tableText) teeth(r design.TeethReport, s design.Spring) {
	for _, side := range []struct {
		role   string
		report design.ToothReport
	}{{"active", r.Active}, {"anchor", r.Anchor}} {
		guess := ""
		if side.report.Resistance.Guess {
			guess = ", whose place is a guess"
		}
		t.line("\n%s tooth %d at its centre of resistance%s", side.role, side.report.Number, guess)
		for _, m := range side.report.Movements {
			t.line("  %s: %s", m.Plane.Name(), side.report.MovementText(r.Teeth, m))
		}
		t.line("  across the arch: %s", side.report.RemedyText(r.Teeth))
	}
	if r.DriftFault != nil {
		t.line("\nno drift is predicted: %v", r.DriftFault)
		return
	}
	ratio := ""
	if r.Active.Resistance.LeverGuess {
		ratio = "; the root's hold against turning is a guess"
	}
	reached := "the slot comes " + fixed(100*r.Drift.ReachedShare(s), 0) + " % of its travel"
	if r.Drift.Turned {
		reached += " while the centre of resistance goes all of it"
	}
	t.line("\npredicted drift of tooth %d, an estimate (%s%s)", r.Active.Number, reached, ratio)
	rows := [][]string{{"", "tip", "torque", "rotation"}}
	for _, stage := range r.Drift.Stages() {
		tip, torque, turn := design.TurnText(r.Teeth.ActiveMember(), stage.Rotation)
		rows = append(rows, []string{stage.Name, tip, torque, turn})
	}
	t.labelled(rows)
}
