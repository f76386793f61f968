package export

import (
	"springwright/design/quantity"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/export/sheet"
	"springwright/export/words"
)

// readingsPage is the blank form for what is measured of the bent spring, in the order in which adjust asks for it.
type readingsPage struct{ *subject }

// readingRowMM leaves room to write a number in by hand.
const readingRowMM = 6.5

func (p readingsPage) draw(f *flow) error {
	f.newPage("Readings")
	f.heading(f.say("Readings"), f.say("What came out, as measured: fill in what you can, leave the rest empty."))
	f.block(f.say("A straight is measured from where one bend ends to where the next begins; a bend by how many degrees the wire turns. The desk and the form of \"adjust\" ask for the same, in the same order."), sheet.Style{SizePt: sheet.BodyPt})
	p.steps(f)
	p.end(f)
	return nil
}

// steps has a row for each straight and bend along the wire.
func (p readingsPage) steps(f *flow) {
	t := sheet.Table{RowMM: readingRowMM, Columns: []sheet.Column{
		{Head: f.say("along the wire")},
		{Head: f.say("drawn"), WidthMM: 16, Align: sheet.Right},
		{Head: f.say("measured"), WidthMM: 26, Ruled: true},
		{Head: "", WidthMM: 10, Ruled: true},
	}}
	t.Fill(0, f.area.Width())
	made := p.job.Spring
	made.Teeth = p.view.Teeth
	names := f.words.StepNames(made)
	var rows [][]string
	for i, s := range made.Path.Steps() {
		if s.Kind == spring.Straight {
			rows = append(rows, []string{f.say("straight %s", names[i]), f.words.Number(s.LengthMM, 2), "", "mm"})
			continue
		}
		deg := quantity.Degree.Outside(s.AngleRad)
		rows = append(rows, []string{words.Capital(names[i]), f.words.Number(max(deg, -deg), 1), "", "°"})
	}
	for i := range rows {
		rows[i][0] = words.Capital(rows[i][0])
	}
	p.rows(f, t, rows)
}

// end has where the free end lies, before and after a trial activation, and what the gauge reads.
func (p readingsPage) end(f *flow) {
	of := p.view.Teeth.ActiveMember()
	either := func(k tooth.Component) string {
		return "mm " + f.words.Way(of, k, 1) + " / " + f.words.Way(of, k, -1)
	}
	turn := "° " + f.say("clockwise") + " / " + f.say("anticlockwise")
	t := sheet.Table{RowMM: readingRowMM, Columns: []sheet.Column{
		{Head: f.say("how far E lies off")},
		{Head: f.say("from where it is drawn"), WidthMM: 34, Ruled: true},
		{Head: f.say("after trial activation, from before"), WidthMM: 48, Ruled: true},
		{Head: f.say("ring one"), WidthMM: 40, Ruled: true},
	}}
	t.Fill(0, f.area.Width())
	rows := [][]string{
		{f.say("up or down"), "", "", either(tooth.ForceZ)},
		{f.say("along the arch"), "", "", either(tooth.ForceX)},
		{f.say("across the arch"), "", "", either(tooth.ForceY)},
	}
	if !p.bends.Hooked { // a hook turns as it likes
		rows = append(rows, []string{f.say("turned, seen from the cheek"), "", "", turn})
		if p.spatial() {
			rows = append(rows, []string{f.say("turned, seen from the biting side"), "", "", turn}, []string{f.say("turned, seen along the arch"), "", "", turn})
		}
	}
	for i := range rows {
		rows[i][0] = words.Capital(rows[i][0])
	}
	p.rows(f, t, rows)
	made := p.job.Spring
	made.Teeth = p.view.Teeth
	if gauge := f.words.GaugeReading(made, p.job.Evaluation.Gauge); gauge != "" {
		g := sheet.Table{RowMM: readingRowMM, Columns: []sheet.Column{
			{Head: f.say("gauge check")},
			{Head: f.say("measured"), WidthMM: 26, Ruled: true},
			{Head: "", WidthMM: 10, Ruled: true},
		}}
		g.Fill(0, f.area.Width())
		f.block(words.Capital(gauge)+".", sheet.Style{SizePt: sheet.BodyPt})
		p.rows(f, g, [][]string{{words.Capital(f.say("the gauge reads")), "", "N"}})
	}
}

// rows draws a table, on the next page where it does not fit.
func (p readingsPage) rows(f *flow, t sheet.Table, rows [][]string) {
	for len(rows) > 0 {
		if t.RowsIn(f.leftMM()) < 1 {
			f.need(f.area.Height())
		}
		n := min(len(rows), t.RowsIn(f.leftMM()))
		t.Rows, rows = rows[:n], rows[n:]
		t.Draw(f.page, f.take(t.HeightMM()+gapMM))
	}
}
