package export

import (
	"springwright/design/effect"
	"springwright/export/plane"
	"springwright/export/sheet"
	"springwright/export/words"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	driftChartMM    = 45.0
	lowDriftChartMM = 29.0 // where the page is crowded
)

// driftBlock is the way that the active tooth is predicted to take while its anchor stays.
type driftBlock struct {
	*subject
	chartMM float64
}

func (b driftBlock) draw(f *flow) {
	title := f.say("Predicted drift of tooth %d if its anchor stayed", int(b.job.Teeth.Active.Number))
	f.need(b.heightMM(f))
	if fault := b.job.Teeth.DriftFault; fault != nil {
		f.heading(title, "")
		f.paragraph(f.say("None: %s.", b.words.DriftFault(fault)), sheet.Style{SizePt: sheet.BodyPt}, paragraphApartMM)
		return
	}
	table := b.table()
	f.heading(title, f.say("Travelled: of the centre of resistance. Angles: against where the tooth stands now."))
	table.Draw(f.page, f.take(table.HeightMM()+2))
	f.paragraph(b.text(), sheet.Style{SizePt: sheet.BodyPt}, paragraphApartMM)
	b.chart(f, b.job.Teeth.Drift)
}

// heightMM is what the block takes.
func (b driftBlock) heightMM(f *flow) float64 {
	if b.job.Teeth.DriftFault != nil {
		return 20
	}
	lines := float64(len(f.doc.Wrap(b.text(), f.area.Width(), sheet.Style{SizePt: sheet.BodyPt})))
	return 6.5 + b.table().HeightMM() + 2 + lines*sheet.Style{SizePt: sheet.BodyPt}.LineMM() + 1.5 + b.chartMM
}

// text says how far the tooth comes, and what that rests on.
func (b driftBlock) text() string {
	r := *b.job.Teeth
	text := b.words.Drift(b.job.Case.Teeth.ActiveMember(), r.Drift) + " " +
		b.say("An estimate of direction, not of time: the tooth is moved in small steps in proportion to force and moment at its centre of resistance, the spring solved anew after each. It shows what the spring itself can do: an anchor tooth stays only where a screw holds it.")
	if r.Active.Resistance.LeverGuess {
		text += " " + b.say("How firmly the root holds against turning, %s mm² beside shifting, is a guess (0.068 of the root's length squared; Burstone and Pryputniewicz, Am J Orthod 1980;77:396, from memory).",
			b.words.Number(r.Active.Resistance.LeverMM2, 1))
	}
	return text
}

// table has the start, the middle and the end of the way, and the largest turns on it.
func (b driftBlock) table() sheet.Table {
	r := *b.job.Teeth
	teeth := b.job.Case.Teeth
	stages := r.Drift.Stages()
	pushHead := words.Phrase("along travel\nN")
	if r.Drift.Turns {
		pushHead = "about the turn\nN·mm"
	}
	table := sheet.Table{Columns: []sheet.Column{
		{Head: "", WidthMM: 15},
		{Head: b.say("travelled\nmm"), WidthMM: 17, Align: sheet.Right},
		{Head: b.say(pushHead), WidthMM: 19, Align: sheet.Right},
		{WidthMM: 3},
		{Head: b.say("tip"), WidthMM: 31},
		{Head: b.say("torque"), WidthMM: 45},
		{Head: b.say("rotation"), WidthMM: 38},
	}}
	row := func(name, travelled, push string, rotation r3.Vec) {
		tip, torque, turn := b.words.Turn(teeth.ActiveMember(), rotation)
		table.Rows = append(table.Rows, []string{
			name, travelled, push, "", tip, torque, turn,
		})
	}
	names := [...]string{b.say("start"), b.say("middle"), b.say("end")}
	for i, s := range stages {
		row(names[i], b.words.Number(r3.Norm(s.ShiftMM), 2), b.words.Number(b.push(r.Drift, s), 2), s.Rotation)
	}
	row(b.say("largest"), "", "", r.Drift.LargestTurn())
	return table
}

// push is the load towards the goal of a drift: N, or N·mm where the tooth is to turn.
func (b driftBlock) push(d effect.Drift, s effect.DriftStep) float64 {
	if d.Turns {
		return r3.Dot(r3.Unit(d.Planned), s.Active.CoupleNMM)
	}
	return b.job.Spring.Travel().Along(s.Active)
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
			series(f.say(byOutward(teeth.Active.OutwardWord(), "torque, buccal crown +", "torque, labial crown +", "")), 0, true, func(s effect.DriftStep) float64 { return buccal * s.Rotation.X }),
			series(f.say("rotation, mesial-in +"), 0.7, true, func(s effect.DriftStep) float64 { return -mesial * buccal * s.Rotation.Z }),
		},
	}
	at := f.take(b.chartMM)
	chart.Draw(f.page, plane.Box{Min: plane.Point{X: at.X, Y: at.Y - b.chartMM}, Max: plane.Point{X: at.X + f.area.Width()*0.75, Y: at.Y}})
}
