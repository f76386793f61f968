package export

import (
	"errors"
	"math"
	"strings"

	"springwright/design/effect"
	"springwright/design/solve"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/export/plane"
	"springwright/export/sheet"

	"gonum.org/v1/gonum/spatial/r3"
)

// teeth lays out what the spring does to both teeth at their centres of resistance.
func (f *flow) teeth(r effect.TeethReport) {
	f.heading(f.say("At the centre of resistance"), f.say("Loads on the teeth at the start of the travel, and how each tooth begins to move."))
	f.take(1)
	f.tooth("Active tooth %d", r.Active)
	f.tooth("Anchor tooth %d", r.Anchor)
	f.anchorCaution(r)
	f.drift(r)
}

func (f *flow) tooth(role string, t effect.ToothReport) {
	table := f.movementTable(t)
	style := sheet.Style{SizePt: sheet.BodyPt}
	remedy := f.say("Across the arch: %s.", f.words.Recognised(t.RemedyText(f.job.Case.Teeth)))
	if t.Number == f.job.Case.Teeth.Active && f.job.Case.Target.Wants(tooth.CoupleX) {
		remedy = "" // what would cancel the wanted couple is no remedy
	}
	place := f.resistanceText(t)
	textMM := func(text string) float64 {
		return float64(len(f.doc.Wrap(text, f.area.Width(), style)))*style.LineMM() + 1.5
	}
	remedyMM := 0.0
	if remedy != "" {
		remedyMM = textMM(remedy)
	}
	f.need(6.5 + textMM(place) + table.HeightMM() + 2 + remedyMM)
	f.heading(f.say(role, int(t.Number)), "")
	f.paragraph(place, style)
	table.Draw(f.page, f.take(table.HeightMM()+2))
	if remedy != "" {
		f.paragraph(remedy, style)
	}
	f.take(2.5)
}

// anchorCaution says what the anchor tooth takes beyond what is usual for it, where the target
// is silent about that.
func (f *flow) anchorCaution(r effect.TeethReport) {
	if len(r.AnchorExcesses) == 0 {
		return
	}
	of := r.Teeth.AnchorMember()
	var parts []string
	for _, e := range r.AnchorExcesses {
		q := target.OfAnchor(e.Component)
		parts = append(parts, f.say("%s of %s %s, usual are at most %s",
			f.say(of.LoadName(e.Component, e.Value)), sheet.Number(math.Abs(e.Value), 2), q.Unit(), sheet.Number(e.Limit, 2)))
	}
	f.block(f.say("The target says nothing of the load on anchor tooth %d, which is more than usual: %s. Hold the tooth, or limit that load in the case.",
		int(of.Number), strings.Join(parts, "; ")), sheet.Style{SizePt: sheet.BodyPt, Bold: true})
}

// paragraph writes a text over the whole width.
func (f *flow) paragraph(text string, style sheet.Style) {
	at := f.take(0)
	f.take(f.page.Paragraph(at, f.area.Width(), text, style) + 1.5)
}

// resistanceText says where the centre of resistance is taken to lie, and why there.
func (f *flow) resistanceText(t effect.ToothReport) string {
	r := t.Resistance
	distance := func(mm float64, spread float64, word, opposite string) string {
		if mm < 0 {
			mm, word = -mm, opposite
		}
		text := sheet.Number(mm, 1)
		if spread > 0 {
			text += " ± " + sheet.Number(spread, 1)
		}
		return text + " mm " + f.say(word)
	}
	text := f.say("Centre of resistance %s, %s and %s of the slot's centre: %s.",
		distance(r.InwardMM, r.SpreadMM[0], t.Number.InwardWord(), t.Number.OutwardWord()),
		distance(r.DistalMM, r.SpreadMM[1], "distal", "mesial"),
		distance(r.ApicalMM, r.SpreadMM[2], "apical", f.view.OcclusalWord()),
		f.words.Recognised(r.Source))
	if r.Guess {
		text += " " + f.say("A guess, for want of a measurement of this tooth.")
	}
	return text
}

// movementTable has a row for each plane.
func (f *flow) movementTable(t effect.ToothReport) sheet.Table {
	of := tooth.Member{Pair: f.job.Case.Teeth, Number: t.Number}
	table := sheet.Table{Columns: f.headed([]sheet.Column{
		{Head: "", WidthMM: 33},
		{Head: "force\nN", WidthMM: 11, Align: sheet.Right},
		{Head: "moment\nN·mm", WidthMM: 14, Align: sheet.Right},
		{Head: "", WidthMM: 28},
		{Head: "M/F\nmm", WidthMM: 11, Align: sheet.Right},
		{WidthMM: 3},
		{Head: "begins as", WidthMM: 28},
		{Head: "turning about a point, from the\ncentre of resistance", WidthMM: 47},
	})}
	for _, m := range t.Movements {
		momentToForce, about := "–", "–"
		if m.ForceN >= 0.02 {
			momentToForce = sheet.Number(math.Abs(m.MomentNMM)/m.ForceN, 1)
		}
		if m.Turns() {
			// The plain words are too long for the column.
			about = strings.ReplaceAll(f.words.Recognised(m.PlaceText(of)), "towards the crown", "coronal")
		}
		table.Rows = append(table.Rows, []string{
			f.say(m.Plane.Name()), sheet.Number(m.ForceN, 2),
			sheet.Number(math.Abs(m.MomentNMM), 2), word(m.MomentNMM, 2, func(float64) string { return f.say(m.TurnWord(of)) }),
			momentToForce, "", f.say(m.Kind.Short()), about,
		})
	}
	return table
}

const driftChartMM = 45.0

// drift lays out the way that the active tooth is predicted to take.
func (f *flow) drift(r effect.TeethReport) {
	teeth := f.job.Case.Teeth
	style := sheet.Style{SizePt: sheet.BodyPt}
	title := f.say("Predicted drift of tooth %d", int(r.Active.Number))
	if r.DriftFault != nil {
		f.need(20)
		f.heading(title, "")
		f.paragraph(f.say("None: %s.", f.driftFaultText(r.DriftFault)), style)
		return
	}
	stages := r.Drift.Stages()
	pushHead := "along travel\nN"
	if r.Drift.Turns {
		pushHead = "about the turn\nN·mm"
	}
	table := sheet.Table{Columns: f.headed([]sheet.Column{
		{Head: "", WidthMM: 15},
		{Head: "travelled\nmm", WidthMM: 17, Align: sheet.Right},
		{Head: pushHead, WidthMM: 19, Align: sheet.Right},
		{WidthMM: 3},
		{Head: "tip", WidthMM: 31},
		{Head: "torque", WidthMM: 45},
		{Head: "rotation", WidthMM: 38},
	})}
	row := func(name, travelled, push string, rotation r3.Vec) {
		tip, torque, turn := effect.TurnText(teeth.ActiveMember(), rotation)
		table.Rows = append(table.Rows, []string{
			f.say(name), travelled, push, "",
			f.words.Recognised(tip), f.words.Recognised(torque), f.words.Recognised(turn),
		})
	}
	for _, s := range stages {
		row(s.Name, sheet.Number(r3.Norm(s.ShiftMM), 2), sheet.Number(f.driftPush(r.Drift, s), 2), s.Rotation)
	}
	row("largest", "", "", r.Drift.LargestTurn())
	text := f.reachedText(r.Drift) + " " +
		f.say("An estimate of direction, not of time: the tooth is moved in small steps in proportion to force and moment at its centre of resistance, the spring solved anew after each; the anchor tooth stays.")
	if r.Active.Resistance.LeverGuess {
		text += " " + f.say("How firmly the root holds against turning, %s mm² beside shifting, is a guess (0.068 of the root's length squared; Burstone and Pryputniewicz, Am J Orthod 1980;77:396, from memory).",
			sheet.Number(r.Active.Resistance.LeverMM2, 1))
	}
	lines := float64(len(f.doc.Wrap(text, f.area.Width(), style)))
	f.need(6.5 + table.HeightMM() + 2 + lines*style.LineMM() + 1.5 + driftChartMM)
	f.heading(title, f.say("Travelled: of the centre of resistance. Angles: against where the tooth stands now."))
	table.Draw(f.page, f.take(table.HeightMM()+2))
	f.paragraph(text, style)
	f.driftChart(r.Drift)
}

// driftFaultText says why no drift is predicted.
func (f *flow) driftFaultText(fault error) string {
	if errors.Is(fault, effect.ErrNoDrift) {
		return f.say("the tooth is to stay where it stands")
	}
	if _, found := errors.AsType[*solve.PositionError](fault); found {
		return f.say("no equilibrium was found on the way")
	}
	return f.words.Recognised(fault.Error())
}

// driftPush is the load towards the goal of a drift: N, or N·mm where the tooth is to turn.
func (f *flow) driftPush(d effect.Drift, s effect.Stage) float64 {
	if d.Turns {
		return r3.Dot(r3.Unit(d.Planned), s.Active.CoupleNMM)
	}
	return f.job.Spring.Travel().Along(s.Active)
}

const leastDriftMM = 0.01 // below it a travel counts as made

// reachedText says how far a drift brings the tooth, and why it ends early where it does.
func (f *flow) reachedText(d effect.Drift) string {
	if d.Turns {
		text := f.turnedOf(d)
		switch d.End {
		case effect.DriftAgainst:
			text += " " + f.say("Its couple works away from the goal.")
		case effect.DriftDied:
			text += " " + f.say("There its couple has died out.")
		case effect.DriftCentreGone:
			text += " " + f.say("There the centre of resistance has gone as far as planned.")
		case effect.DriftAside:
			text += " " + f.say("It is followed no farther, as it hardly comes nearer.")
		}
		if aside := d.SlotMM; r3.Norm(aside) >= 0.05 { // else it prints as zero
			text += " " + f.say("The slot meanwhile goes %s mm %s.", sheet.Number(r3.Norm(aside), 1), f.say(f.largestWay(aside)))
		}
		return text
	}
	text := f.shiftedOf(d)
	if r3.Norm(d.Planned) >= 0.05*degree {
		text += " " + f.turnedOf(d)
	}
	return text
}

// shiftedOf says how much of its planned shift the slot makes.
func (f *flow) shiftedOf(d effect.Drift) string {
	percent := 100 * (1 - d.SlackMM/d.PlannedMM)
	left := sheet.Number(d.SlackMM, 2)
	switch {
	case d.SlackMM < leastDriftMM:
		return f.say("The spring brings the tooth %.0f %% of its planned travel.", percent)
	case d.End == effect.DriftAgainst && len(d.Steps) < 2:
		return f.say("The force works against the planned travel of %s mm: the tooth is pushed the other way.", sheet.Number(d.PlannedMM, 2))
	case d.End == effect.DriftAgainst:
		return f.say("The spring brings the tooth %.0f %% of its planned travel; %s mm are left undone, where its force works the other way.", math.Abs(percent), left)
	case d.ReachedMM < -leastDriftMM:
		return f.say("The slot goes %s mm against its planned travel of %s mm.", sheet.Number(-d.ReachedMM, 2), sheet.Number(d.PlannedMM, 2))
	case d.End == effect.DriftCentreGone:
		return f.say("When the centre of resistance has gone as far as planned, the slot has come %.0f %% of its travel: %s mm are left undone, because the tooth turns.", math.Abs(percent), left)
	case d.End == effect.DriftAside:
		return f.say("The spring brings the tooth %.0f %% of its planned travel; %s mm are left undone, as it hardly comes nearer.", math.Abs(percent), left)
	}
	return f.say("The spring brings the tooth %.0f %% of its planned travel; %s mm are left undone, where its force has died out.", math.Abs(percent), left)
}

// turnedOf says how much of its planned turn the tooth makes, such as "by 11 of 15°,
// crown-distal".
func (f *flow) turnedOf(d effect.Drift) string {
	planned := r3.Norm(d.Planned)
	decimals := 0
	if planned < wholeDegreesFrom {
		decimals = 1
	}
	number := func(rad float64) string { return sheet.Number(rad/degree, decimals) }
	sense := f.words.Recognised(effect.TurnSense(f.job.Case.Teeth.ActiveMember(), d.Planned))
	if d.ReachedRad < -0.05*degree {
		return f.say("The tooth turns by %s° the other way, away from its planned %s°, %s.", number(-d.ReachedRad), number(planned), sense)
	}
	return f.say("The spring turns the tooth by %s of the planned %s°, %s.", number(math.Abs(d.ReachedRad)), number(planned), sense)
}

// wholeDegreesFrom is a turn from which on parts of it are told in whole degrees.
const wholeDegreesFrom = 5 * degree

// largestWay is the word for the largest part of a move of the active tooth.
func (f *flow) largestWay(mm r3.Vec) string {
	teeth := f.job.Case.Teeth
	x, y, z := math.Abs(mm.X), math.Abs(mm.Y), math.Abs(mm.Z)
	switch {
	case x >= max(y, z):
		return teeth.ForceXWord(mm.X)
	case y >= z:
		return teeth.ActiveMember().ForceYWord(mm.Y)
	case mm.Z < 0:
		return f.view.OcclusalWord()
	}
	return "apical"
}

func (f *flow) driftChart(d effect.Drift) {
	teeth := f.job.Case.Teeth
	way, wayTitle := func(s effect.DriftStep) float64 { return r3.Norm(s.ShiftMM) }, f.say("travelled, mm")
	if d.Turns {
		way = func(s effect.DriftStep) float64 { return r3.Dot(r3.Unit(d.Planned), s.Rotation) / degree }
		wayTitle = f.say("turned towards the goal, degrees")
	}
	series := func(label string, dashMM float64, dashed bool, value func(effect.DriftStep) float64) sheet.Series {
		s := sheet.Series{Label: label, Dashed: dashed, DashMM: dashMM, Plain: true}
		for _, step := range d.Steps {
			s.Points = append(s.Points, plane.Point{X: way(step), Y: value(step) / degree})
		}
		return s
	}
	mesial, buccal := teeth.MesialSign(), teeth.BuccalSign()
	chart := sheet.Chart{
		Title: f.say("Turns on the way"), XTitle: wayTitle, YTitle: f.say("degrees"), LabelMM: 30,
		Series: []sheet.Series{
			series(f.say("tip, crown-mesial +"), 0, false, func(s effect.DriftStep) float64 { return -mesial * s.Rotation.Y }),
			series(f.say("torque, "+teeth.Active.OutwardWord()+" crown +"), 0, true, func(s effect.DriftStep) float64 { return buccal * s.Rotation.X }),
			series(f.say("rotation, mesial-in +"), 0.7, true, func(s effect.DriftStep) float64 { return -mesial * buccal * s.Rotation.Z }),
		},
	}
	at := f.take(driftChartMM)
	chart.Draw(f.page, plane.Box{Min: plane.Point{X: at.X, Y: at.Y - driftChartMM}, Max: plane.Point{X: at.X + f.area.Width()*0.75, Y: at.Y}})
}
