package main

import (
	"errors"
	"fmt"
	"math"

	"springwright/design"
	"springwright/design/effect"
	"springwright/design/target"
	"springwright/design/tooth"
)

// teeth writes how both teeth begin to move, what becomes of them with the anchor held in one way and
// another, and how the active one would drift if its anchor stayed.
func (t *tableText) teeth(wanted design.Case, r effect.TeethReport) {
	words := english()
	for _, side := range []struct {
		role   string
		report effect.ToothReport
	}{{"active", r.Active}, {"anchor", r.Anchor}} {
		guess := ""
		if side.report.Resistance.Guess {
			guess = ", whose place is a guess"
		}
		t.line("\n%s tooth %d at its centre of resistance%s", side.role, side.report.Number, guess)
		of := tooth.Member{Pair: r.Teeth, Number: side.report.Number}
		for _, m := range side.report.Movements {
			t.line("  %s: %s", words.Plane(m.Plane), words.Movement(of, side.report, m))
		}
		if side.role == "anchor" || !wanted.Target.Wants(tooth.CoupleX) { // what would cancel the wanted couple is no remedy
			t.line("  across the arch: %s", words.Remedy(of, side.report))
		}
	}
	for _, e := range r.AnchorExcesses {
		unit := target.OfAnchor(e.Component).Unit()
		t.line("  more than usual: %s of %s %s (usual: at most %s), of which the target says nothing: hold the tooth",
			words.LoadName(r.Teeth.AnchorMember(), e.Component, e.Value), fixed(math.Abs(e.Value), 2), unit, fixed(e.Limit, 2))
	}
	t.outcomes(wanted, r)
	if r.DriftFault != nil {
		t.line("\nno drift is predicted: %s", words.DriftFault(r.DriftFault))
		return
	}
	ratio := ""
	if r.Active.Resistance.LeverGuess {
		ratio = "; the root's hold against turning is a guess"
	}
	t.line("\npredicted drift of tooth %d if its anchor stayed, an estimate (%s%s)", r.Active.Number, words.DriftInShort(r.Teeth.ActiveMember(), r.Drift), ratio)
	rows := [][]string{{"", "tip", "torque", "rotation"}}
	for i, stage := range r.Drift.Stages() {
		tip, torque, turn := words.Turn(r.Teeth.ActiveMember(), stage.Rotation)
		rows = append(rows, []string{[...]string{"start", "middle", "end"}[i], tip, torque, turn})
	}
	tip, torque, turn := words.Turn(r.Teeth.ActiveMember(), r.Drift.LargestTurn())
	t.labelled(append(rows, []string{"largest", tip, torque, turn}))
}

// outcomes writes how far the tooth gets with the anchor held in one way and another, what the anchor
// has lost by then, and how that stands to what the target lets it lose.
func (t *tableText) outcomes(wanted design.Case, r effect.TeethReport) {
	var lines []string
	for _, o := range r.Anchors {
		if !errors.Is(o.Fault, effect.ErrNoDrift) { // said below
			lines = append(lines, english().AnchorOutcome(r.Teeth, o))
		}
	}
	for _, v := range r.AnchorVerdicts(wanted.Target) {
		name, value, limit := english().LimitVerdict(v)
		lines = append(lines, fmt.Sprintf("%s%s: %s (limit: %s)", pick(v.Met, "", "NOT MET: "), name, value, limit))
	}
	if len(lines) == 0 {
		return
	}
	t.line("\npredicted for both teeth, an estimate")
	for _, line := range lines {
		t.line("  %s", line)
	}
}
