package export

import (
	"errors"
	"math"

	"springwright/design/effect"
	"springwright/design/solve"
	"springwright/export/plane"
	"springwright/export/sheet"

	"gonum.org/v1/gonum/spatial/r3"
)

const driftChartMM = 45.0

// driftBlock is the way that the active tooth is predicted to take.
type driftBlock struct{ *subject }

func (b driftBlock) draw(f *flow) {
	r := *b.job.Teeth
	teeth := b.job.Case.Teeth
	style := sheet.Style{SizePt: sheet.BodyPt}
	title := f.say("Predicted drift of tooth %d", int(r.Active.Number))
	if r.DriftFault != nil {
		f.need(20)
		f.heading(title, "")
		f.paragraph(f.say("None: %s.", b.faultText(r.DriftFault)), style, paragraphApartMM)
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
		row(s.Name, sheet.Number(r3.Norm(s.ShiftMM), 2), sheet.Number(b.push(r.Drift, s), 2), s.Rotation)
	}
	row("largest", "", "", r.Drift.LargestTurn())
	text := b.reachedText(r.Drift) + " " +
		f.say("An estimate of direction, not of time: the tooth is moved in small steps in proportion to force and moment at its centre of resistance, the spring solved anew after each; the anchor tooth stays.")
	if r.Active.Resistance.LeverGuess {
		text += " " + f.say("How firmly the root holds against turning, %s mm² beside shifting, is a guess (0.068 of the root's length squared; Burstone and Pryputniewicz, Am J Orthod 1980;77:396, from memory).",
			sheet.Number(r.Active.Resistance.LeverMM2, 1))
	}
	lines := float64(len(f.doc.Wrap(text, f.area.Width(), style)))
	f.need(6.5 + table.HeightMM() + 2 + lines*style.LineMM() + 1.5 + driftChartMM)
	f.heading(title, f.say("Travelled: of the centre of resistance. Angles: against where the tooth stands now."))
	table.Draw(f.page, f.take(table.HeightMM()+2))
	f.paragraph(text, style, paragraphApartMM)
	b.chart(f, r.Drift)
}

// faultText says why no drift is predicted.
func (b driftBlock) faultText(fault error) string {
	if errors.Is(fault, effect.ErrNoDrift) {
		return b.say("the tooth is to stay where it stands")
	}
	if _, found := errors.AsType[*solve.PositionError](fault); found {
		return b.say("no equilibrium was found on the way")
	}
	return b.words.Recognised(fault.Error())
}

// push is the load towards the goal of a drift: N, or N·mm where the tooth is to turn.
func (b driftBlock) push(d effect.Drift, s effect.Stage) float64 {
	if d.Turns {
		return r3.Dot(r3.Unit(d.Planned), s.Active.CoupleNMM)
	}
	return b.job.Spring.Travel().Along(s.Active)
}

const leastDriftMM = 0.01 // below it a travel counts as made

// reachedText says how far a drift brings the tooth, and why it ends early where it does.
func (b driftBlock) reachedText(d effect.Drift) string {
	if d.Turns {
		text := b.turnedOf(d)
		switch d.End {
		case effect.DriftAgainst:
			text += " " + b.say("Its couple works away from the goal.")
		case effect.DriftDied:
			text += " " + b.say("There its couple has died out.")
		case effect.DriftCentreGone:
			text += " " + b.say("There the centre of resistance has gone as far as planned.")
		case effect.DriftAside:
			text += " " + b.say("It is followed no farther, as it hardly comes nearer.")
		}
		if aside := d.SlotMM; r3.Norm(aside) >= 0.05 { // else it prints as zero
			text += " " + b.say("The slot meanwhile goes %s mm %s.", sheet.Number(r3.Norm(aside), 1), b.say(b.largestWay(aside)))
		}
		return text
	}
	text := b.shiftedOf(d)
	if r3.Norm(d.Planned) >= 0.05*degree {
		text += " " + b.turnedOf(d)
	}
	return text
}

// shiftedOf says how much of its planned shift the slot makes.
func (b driftBlock) shiftedOf(d effect.Drift) string {
	percent := 100 * (1 - d.SlackMM/d.PlannedMM)
	left := sheet.Number(d.SlackMM, 2)
	switch {
	case d.SlackMM < leastDriftMM:
		return b.say("The spring brings the tooth %.0f %% of its planned travel.", percent)
	case d.End == effect.DriftAgainst && len(d.Steps) < 2:
		return b.say("The force works against the planned travel of %s mm: the tooth is pushed the other way.", sheet.Number(d.PlannedMM, 2))
	case d.End == effect.DriftAgainst:
		return b.say("The spring brings the tooth %.0f %% of its planned travel; %s mm are left undone, where its force works the other way.", math.Abs(percent), left)
	case d.ReachedMM < -leastDriftMM:
		return b.say("The slot goes %s mm against its planned travel of %s mm.", sheet.Number(-d.ReachedMM, 2), sheet.Number(d.PlannedMM, 2))
	case d.End == effect.DriftCentreGone:
		return b.say("When the centre of resistance has gone as far as planned, the slot has come %.0f %% of its travel: %s mm are left undone, because the tooth turns.", math.Abs(percent), left)
	case d.End == effect.DriftAside:
		return b.say("The spring brings the tooth %.0f %% of its planned travel; %s mm are left undone, as it hardly comes nearer.", math.Abs(percent), left)
	}
	return b.say("The spring brings the tooth %.0f %% of its planned travel; %s mm are left undone, where its force has died out.", math.Abs(percent), left)
}

// turnedOf says how much of its planned turn the tooth makes, such as "by 11 of 15°,
// crown-distal".
func (b driftBlock) turnedOf(d effect.Drift) string {
	planned := r3.Norm(d.Planned)
	decimals := 0
	if planned < wholeDegreesFrom {
		decimals = 1
	}
	number := func(rad float64) string { return sheet.Number(rad/degree, decimals) }
	sense := b.words.Recognised(effect.TurnSense(b.job.Case.Teeth.ActiveMember(), d.Planned))
	if d.ReachedRad < -0.05*degree {
		return b.say("The tooth turns by %s° the other way, away from its planned %s°, %s.", number(-d.ReachedRad), number(planned), sense)
	}
	return b.say("The spring turns the tooth by %s of the planned %s°, %s.", number(math.Abs(d.ReachedRad)), number(planned), sense)
}

// wholeDegreesFrom is a turn from which on parts of it are told in whole degrees.
const wholeDegreesFrom = 5 * degree

// largestWay is the word for the largest part of a move of the active tooth.
func (b driftBlock) largestWay(mm r3.Vec) string {
	teeth := b.job.Case.Teeth
	x, y, z := math.Abs(mm.X), math.Abs(mm.Y), math.Abs(mm.Z)
	switch {
	case x >= max(y, z):
		return teeth.ForceXWord(mm.X)
	case y >= z:
		return teeth.ActiveMember().ForceYWord(mm.Y)
	case mm.Z < 0:
		return b.view.OcclusalWord()
	}
	return "apical"
}

// chart draws the turns on the way.
func (b driftBlock) chart(f *flow, d effect.Drift) {
	teeth := b.job.Case.Teeth
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
