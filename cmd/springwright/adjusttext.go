package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"springwright/design"
	"springwright/design/quantity"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/export/bend"
	"springwright/optimize/asbent"
)

// adjustText is what is told of a spring as it was bent, what to do about it first.
func adjustText(c design.Case, drawn spring.Spring, r asbent.Report, dir string, files []output) string {
	var text tableText
	if name := caseName(c); name != "" {
		text.line("%s", name)
	}
	text.line("%s, as bent", english().Wire(drawn.Wire))
	text.line("")
	text.verdict(r)
	text.corrections(drawn, r)
	if r.HasTarget {
		text.asked(c, r)
	}
	text.stepEstimates(drawn, r)
	text.outcome("as bent", r.AsBent)
	if r.One != nil {
		text.outcome("after the best correction", r.One.Outcome)
	}
	if r.Two != nil {
		text.outcome("after the best two corrections", r.Two.Outcome)
	}
	if len(files) > 0 {
		text.line("")
		text.written(dir, files)
	}
	text.line("\nAn estimate for licensed dental professionals, not a prescription: check the force with a gauge before tying.")
	return text.String()
}

// verdict says whether the spring is usable, and why.
func (t *tableText) verdict(r asbent.Report) {
	if !r.HasTarget {
		t.line("no target is known: give the case by --case for the chance and the correction")
		t.unseated(r.AsBent.Trial)
		return
	}
	asBent, corrected := r.Usable()
	switch {
	case asBent:
		if r.AsBent.NoRest == nil {
			t.line("usable: the most likely spring meets the target")
		} else {
			t.line("usable: most of the springs that it may be meet the target")
		}
	case corrected:
		t.line("not usable as bent, but after correction")
	default:
		t.line("not usable: it misses the target, and no one or two corrections bring it there")
	}
	for _, text := range missTexts(r.AsBent) {
		t.line("  %s", text)
	}
	t.line("of 100 springs that it may be %s meet the target; bent exactly as drawn it would be %s", wholePercent(r.AsBent.Trial.Chance()), wholePercent(r.Allowed))
	t.unseated(r.AsBent.Trial)
	// A tenth of the springs is worth another look with the protractor (choice).
	if asBent && r.Allowed-r.AsBent.Trial.Chance() >= 0.1 && slices.ContainsFunc(r.Steps, func(s asbent.StepEstimate) bool { return !s.Measured }) {
		t.line("what was not measured makes most of the difference: measure more of it")
	}
}

// unseated says how many springs could not be seated at all.
func (t *tableText) unseated(trial asbent.Trial) {
	if trial.Unseated > 0 {
		t.line("%s of 100 cannot be seated: their bends do not leave the wire where the slot is; where the free end lies tells more", wholePercent(float64(trial.Unseated)/float64(trial.Springs)))
	}
}

// missTexts says what the most likely spring misses.
func missTexts(o asbent.Outcome) []string {
	if asbent.Unfound(o.NoRest) {
		return []string{"its loads as it most likely is were not found; go by the springs about it"}
	}
	if o.NoRest != nil {
		return []string{"as it most likely is it cannot be seated: " + strings.Split(o.NoRest.Error(), "\n")[0]}
	}
	s := o.Spring
	s.Shortfall = o.Shortfall()
	texts := english().Shortfall(s.Teeth, s)
	if o.Overstressed {
		texts = append(texts, "the wire is stressed beyond what is allowed: it takes a set, or breaks")
	}
	return texts
}

// corrections says what to correct.
func (t *tableText) corrections(drawn spring.Spring, r asbent.Report) {
	if !r.HasTarget {
		return
	}
	if r.One == nil && r.Two == nil {
		t.line("no correction gains enough to be worth a bend")
		return
	}
	for _, one := range [...]struct {
		name string
		made *asbent.Corrected
	}{{"best correction", r.One}, {"best two corrections", r.Two}} {
		made := one.made
		if made == nil {
			t.line("\n%s: none that gains enough", one.name)
			continue
		}
		t.line("\n%s: %s", one.name, strings.Join(correctionTexts(drawn, *made), "; "))
		opens := false
		for _, c := range made.Corrections {
			opens = opens || c.Opens()
		}
		t.line("  of 100 springs that it may be then %s meet the target", wholePercent(made.Trial.Chance()))
		t.line("  %s %% of it lies in the direction of each place's last bend", wholePercent(made.WithLast))
		for _, text := range missTexts(made.Outcome) {
			t.line("  still: %s", text)
		}
		if opens && asbent.BreaksBentBack(drawn.Wire) {
			t.line("  nothing else comes near; this wire breaks where it is straightened and bent again: open the bend once, never past what is said, and never close it again there")
		}
	}
	t.line("\neach correction is reckoned to be off by %s, one standard deviation; measure again afterwards", degrees(r.CorrectionSDRad))
}

// correctionTexts says what is to be done at each place.
func correctionTexts(drawn spring.Spring, made asbent.Corrected) []string {
	var texts []string
	notes := stepNotes(drawn)
	numbers, steps := drawn.Path.BendNumbers(), drawn.Path.Steps()
	for _, c := range made.Corrections {
		by := degrees(math.Abs(c.ByRad))
		switch noun := bendNoun(steps[c.Step]); {
		case c.Fresh:
			texts = append(texts, fmt.Sprintf("make a fresh bend of %s %s, in the middle of the straight %s", by, freshWay(drawn, made, c), notes(c.Step)))
		case c.Opens():
			texts = append(texts, fmt.Sprintf("open %s %d by %s, against the direction of its last bend", noun, numbers[c.Step], by))
		default:
			texts = append(texts, fmt.Sprintf("close %s %d by %s more, in the direction of its last bend", noun, numbers[c.Step], by))
		}
	}
	return texts
}

// freshWay is which way a fresh bend goes.
func freshWay(drawn spring.Spring, made asbent.Corrected, of asbent.Correction) string {
	at := of.Step + 1
	for _, c := range made.Corrections {
		if c.Fresh && c.Step < of.Step {
			at += 2
		}
	}
	if drawn.Teeth == (tooth.Pair{}) {
		if of.ByRad > 0 {
			return "to the side of +z of the wire"
		}
		return "to the side of −z of the wire"
	}
	for _, row := range bend.TableOf(made.Spring, drawn.Teeth).Rows {
		if row.PathStep == at && row.InView {
			return "to the " + bendWay(row)
		}
		if row.PathStep == at {
			return bendWay(row)
		}
	}
	return ""
}

// asked holds what the target asks for against the spring as bent and as corrected.
func (t *tableText) asked(c design.Case, r asbent.Report) {
	header := []string{"worst of each load over the travel", "asked"}
	var outcomes []asbent.Outcome
	if r.AsBent.NoRest == nil {
		header, outcomes = append(header, "as bent"), append(outcomes, r.AsBent)
	}
	for _, one := range [...]struct {
		name string
		made *asbent.Corrected
	}{{"one", r.One}, {"two", r.Two}} {
		if one.made != nil {
			header, outcomes = append(header, one.name), append(outcomes, one.made.Outcome)
		}
	}
	if len(outcomes) == 0 {
		return
	}
	rows := [][]string{header}
	for k, o := range outcomes {
		for i, v := range c.Verdicts(o.Evaluation.Record) {
			name, value, limit := english().Verdict(c, v)
			if k == 0 {
				rows = append(rows, []string{name, limit, value})
			} else if i+1 < len(rows) {
				rows[i+1] = append(rows[i+1], value)
			}
		}
	}
	t.line("")
	t.labelled(rows)
}

// stepEstimates tells what most likely came out.
func (t *tableText) stepEstimates(drawn spring.Spring, r asbent.Report) {
	t.line("")
	rows := [][]string{{"most likely bent", "drawn", "as bent", "±", ""}}
	notes := stepNotes(drawn)
	for i := range r.Steps {
		e := r.Steps[i]
		read := ""
		if e.Measured {
			read = "measured"
		}
		if e.Step.Kind == spring.Straight {
			rows = append(rows, []string{"straight " + notes(i), fixed(e.Drawn, 2) + " mm", fixed(e.Value, 2) + " mm", fixed(e.SD, 2), read})
			continue
		}
		sign := math.Copysign(1, e.Drawn)
		rows = append(rows, []string{notes(i), degrees(sign * e.Drawn), degrees(sign * e.Value), fixed(quantity.Degree.Outside(e.SD), 1), read})
	}
	t.labelled(rows)
	t.line("±: one standard deviation; straights without a reading are as likely as the hand leaves them")
	var parts []string
	teeth := drawn.Teeth
	for k := tooth.ForceX; k <= tooth.ForceZ; k++ {
		if mm := r.EndOff[k]; math.Abs(mm) >= 0.05 && teeth != (tooth.Pair{}) {
			parts = append(parts, fixed(math.Abs(mm), 1)+" mm "+english().Way(teeth.ActiveMember(), k, mm))
		}
	}
	if len(parts) > 0 {
		t.line("the free end then lies %s of where it is drawn", strings.Join(parts, ", "))
	}
	t.line("stiffness of the wire: %s of the nominal, ± %s", fixed(r.Stiffness.Value, 2), fixed(r.Stiffness.SD, 2))
}

// outcome writes the loads of the most likely spring, and from where to where they may be.
func (t *tableText) outcome(title string, o asbent.Outcome) {
	if o.NoRest != nil {
		return
	}
	travel := o.Spring.Travel()
	left, unit := "left mm", 1.0
	if travel.Turns {
		left, unit = "left °", quantity.Degree.Outside(1)
	}
	for _, side := range [...]struct {
		name  string
		load  func(spring.Position) tooth.Load
		bands [][tooth.Components]spring.Band
	}{
		{"active tooth", func(p spring.Position) tooth.Load { return p.Active }, o.Trial.Active},
		{"anchor tooth", func(p spring.Position) tooth.Load { return p.Anchor }, o.Trial.Anchor},
	} {
		t.line("\nloads on the %s, %s; below each, from 5 %% to 95 %% of the springs that it may be", side.name, title)
		rows := [][]string{{left, "Fx N", "Fy N", "Fz N", "Cx N·mm", "Cy N·mm", "Cz N·mm", ""}}
		for i, p := range o.Evaluation.Record.Positions {
			rows = append(rows, append(append([]string{fixed(unit*travel.Left(p), 2)}, componentCells(side.load(p), quantity.Newton, 2, quantity.NewtonMillimetre, 1)...), ""))
			if i >= len(side.bands) {
				continue
			}
			row := []string{""}
			for k := range tooth.Components {
				decimals := 2
				if k.Couple() {
					decimals = 1
				}
				b := side.bands[i][k]
				row = append(row, fixed(b.Low, decimals)+"…"+fixed(b.High, decimals))
			}
			rows = append(rows, append(row, ""))
		}
		t.table(rows)
	}
}

// wholePercent is a share in per cent.
func wholePercent(share float64) string { return fixed(100*share, 0) }
