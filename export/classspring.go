package export

import (
	"springwright/design/course"
	"springwright/export/sheet"
	"springwright/export/words"
)

// student is a student's page.
func (c ClassMarks) student(f *flow, m course.Mark) error {
	s := m.Student
	if m.Report == nil || m.Report.AsBent.Spring.Path.WireLengthMM() == 0 {
		return nil // there is nothing to draw: the page of the class says why
	}
	a := AsBentOf(c.Frame, s.Case, s.Spring, *m.Report)
	if err := a.check(); err != nil {
		return err
	}
	f.top.head = headOf(f.words, s.Case, f.say("As bent: not a template to bend over."))
	if m.Grade != "" {
		f.top.head.lines[2] += " " + f.say("Grade %s.", m.Grade)
	}
	if err := (asBentPage{a, f.speech}).draw(f); err != nil {
		return err
	}
	c.offs(f, m)
	return nil
}

// offs is what was measured beside what is drawn, and what the spring does to both teeth.
func (c ClassMarks) offs(f *flow, m course.Mark) {
	names := f.words.StepNames(m.Student.Spring)
	t := sheet.Table{RowMM: 4, Columns: []sheet.Column{
		{Head: f.say("measured of"), WidthMM: 92},
		{Head: f.say("drawn"), WidthMM: 20, Align: sheet.Right},
		{Head: f.say("measured"), WidthMM: 20, Align: sheet.Right},
		{Head: f.say("off by"), Align: sheet.Right},
	}}
	t.Fill(3, 154)
	var rows [][]string
	for i, o := range m.Steps {
		number, unit, scale, decimals := f.words.Number, " mm", 1.0, 2
		if o.Number > 0 {
			unit, scale, decimals = "°", degree, 1
		}
		off := plus(o.Off) + number(o.Off/scale, decimals) + unit
		if i == m.WorstBend || i == m.WorstStraight {
			off = "→ " + off
		}
		name := names[o.Step]
		if o.Number > 0 {
			name = f.words.Bend(m.Student.Spring.Path.Steps()[o.Step].Kind, o.Number)
		}
		rows = append(rows, []string{words.Capital(name), number(o.Drawn/scale, decimals) + unit, number(o.Measured/scale, decimals) + unit, off})
	}
	f.drawRows(t, rows, f.say("What was measured"), "")
	f.take(exerciseGapMM)
	loads, ok := m.Bent()
	if !ok {
		return
	}
	p := answerPage{subject: subjectOf(Job{Frame: c.Frame}, f.speech)}
	teeth, answer := m.Student.Case.Teeth, m.Student.Answer
	does := p.wordedTable(f,
		wordedLoad{f.say("Tooth %d, drawn", int(teeth.Active)), teeth.ActiveMember(), answer.Active},
		wordedLoad{f.say("Tooth %d, bent", int(teeth.Active)), teeth.ActiveMember(), loads[0]},
		wordedLoad{f.say("Tooth %d, drawn", int(teeth.Anchor)), teeth.AnchorMember(), answer.Anchor},
		wordedLoad{f.say("Tooth %d, bent", int(teeth.Anchor)), teeth.AnchorMember(), loads[1]})
	f.need(headingMM + does.HeightMM())
	f.heading(f.say("Loads at the start"), f.say("What the spring would have done to the teeth."))
	does.Draw(f.page, f.take(does.HeightMM()))
}
