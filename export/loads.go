package export

import (
	"math"
	"strings"

	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/export/plane"
	"springwright/export/sheet"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	chartHeightMM   = 37.0
	lowChartMM      = 31.0 // where the page is crowded
	loadRowMM       = 3.75 // of tables that share a page with charts
	narrowLoadRowMM = 3.4  // where the page is crowded
)

// loadsPage lays out the page of loads: on one page if it can be, with less room between its
// lines where that helps, and else on two of which neither is nearly empty.
func (f *flow) loadsPage() {
	first := len(f.doc.Pages)
	for _, way := range [...]struct{ squeezed, together bool }{{false, false}, {true, false}, {false, true}} {
		f.doc.Pages, f.heads, f.bands = f.doc.Pages[:first], f.heads[:first], f.bands[:first]
		f.squeezed, f.together = way.squeezed, way.together
		f.newPage("Loads")
		f.loads()
		if len(f.doc.Pages) == first+1 {
			break
		}
	}
	f.squeezed, f.together = false, false
}

func (f *flow) chartMM() float64 {
	if f.squeezed {
		return lowChartMM
	}
	return chartHeightMM
}

func (f *flow) loadRowMM() float64 {
	if f.squeezed {
		return narrowLoadRowMM
	}
	return loadRowMM
}

// loads lays out what the spring does to both teeth over the travel.
func (f *flow) loads() {
	f.heading(f.say("Loads over the travel"), f.say("On the teeth, couples about the centre of each slot."))
	f.charts()
	teeth := f.job.Case.Teeth
	f.loadTable(f.say("Active tooth %d", int(teeth.Active)), func(p spring.Position) tooth.Load { return p.Active }, teeth.ActiveMember())
	f.loadTable(f.say("Anchor tooth %d", int(teeth.Anchor)), func(p spring.Position) tooth.Load { return p.Anchor }, teeth.AnchorMember())
	f.sketchAndChecks()
}

// loadTable lays out the loads on the active tooth, or the anchor's under it: forces, then
// couples, and what the target asks of them.
func (f *flow) loadTable(title string, load func(spring.Position) tooth.Load, of tooth.Member) {
	active := of.Number == of.Active
	positions := f.job.Evaluation.Record.Positions
	way := travelOf(f.job.Spring)
	t := sheet.Table{Columns: f.loadColumns(way, active), RowMM: f.loadRowMM()}
	along := f.pushesAlong()
	for _, p := range positions {
		l := load(p)
		row := []string{
			sheet.Number(way.left(p), way.decimals()),
			sheet.Number(math.Abs(l.ForceN.Z), 2), sheet.Number(math.Abs(l.ForceN.Z)/gramForceN, 0), word(l.ForceN.Z, 2, f.said(of.ForceZWord)),
			worded(l.ForceN.X, 2, f.said(of.ForceXWord)), worded(l.ForceN.Y, 2, f.said(of.ForceYWord)),
			sheet.Number(math.Abs(l.CoupleNMM.Y), 2), sheet.Number(math.Abs(l.CoupleNMM.Y)/gramForceN, 0), word(l.CoupleNMM.Y, 2, f.said(of.CoupleYWord)),
			ratio(l, along),
		}
		if active {
			row = append(row, sheet.Number(p.StressRatio, 2))
		}
		t.Rows = append(t.Rows, row)
	}
	headed, rows := active, t.Rows
	for len(rows) > 0 {
		f.need(headingMM + t.HeadMM() + 4.3*float64(min(len(rows), 3)))
		t.NoHead = !headed && f.yMM < f.area.Max.Y // the table above has the same heads
		f.heading(title, "")
		if !t.NoHead {
			f.take(-1.5) // the heads have room of their own above them
		}
		t.Rows = rows[:min(len(rows), t.RowsIn(f.leftMM()))]
		rows = rows[len(t.Rows):]
		t.Draw(f.page, f.take(t.HeightMM()))
		headed = false
	}
	f.targetRow(t.Columns, of)
	f.take(2.5)
	f.otherCouples(load, of)
}

func (f *flow) loadColumns(way travel, active bool) []sheet.Column {
	columns := []sheet.Column{
		{Head: "travel left\nmm", WidthMM: 15, Align: sheet.Right},
		{Head: "force\nN", WidthMM: 12, Align: sheet.Right},
		{Head: "\ngf", WidthMM: 11, Align: sheet.Right},
		{Head: "", WidthMM: 17},
		{Head: "along arch\nN", WidthMM: 22, Align: sheet.Right},
		{Head: "across arch\nN", WidthMM: 23, Align: sheet.Right},
		{Head: "couple\nN·mm", WidthMM: 14, Align: sheet.Right},
		{Head: "\ngf·mm", WidthMM: 12, Align: sheet.Right},
		{Head: "", WidthMM: 21},
		{Head: "M/F\nmm", WidthMM: 14, Align: sheet.Right},
		{Head: "", Align: sheet.Right}, // both tables as wide as the page
	}
	last := &columns[len(columns)-1]
	if active {
		last.Head = "stress\nto yield"
	}
	if way.Turns {
		columns[0].Head = "travel left\ndegrees"
	}
	if f.pushesAlong() {
		columns[9].Head = "M/F mm,\nalong arch"
	}
	last.WidthMM = f.area.Width()
	for _, c := range columns[:len(columns)-1] {
		last.WidthMM -= c.WidthMM
	}
	return f.headed(columns)
}

// targetRow closes a table with what the target asks for over the travel, in small letters.
func (f *flow) targetRow(columns []sheet.Column, of tooth.Member) {
	window := func(k tooth.Component) string {
		q := target.OfAnchor(k)
		if of.Number == of.Active {
			q = target.OfActive(k)
		}
		target := f.job.Case.Target
		w := target.WindowAt(q, f.job.Evaluation.Record.Positions[0].TravelLeftMM, false)
		if !w.Asked() || target.AtResistance && k.Couple() { // about another point
			return ""
		}
		return f.windowText(w, k, of)
	}
	edge := func(column int) float64 {
		x := f.area.Min.X
		for _, c := range columns[:column] {
			x += c.WidthMM
		}
		return x - 0.8
	}
	style := sheet.Style{SizePt: sheet.SmallPt, Align: sheet.Right}
	type cell struct {
		k      tooth.Component
		column int    // that it ends before
		label  string // where it stands in the line below, for want of a column or of room in it
	}
	var cells []cell
	var texts, others []string
	from := 1
	for _, c := range [...]cell{
		{tooth.ForceZ, 4, ""},
		{tooth.ForceX, 5, "along the arch %s"},
		{tooth.ForceY, 6, "across the arch %s"},
		{tooth.CoupleY, 9, "tipping %s"},
		{tooth.CoupleX, 0, "torque %s"},
		{tooth.CoupleZ, 0, "rotating %s"},
	} {
		text := window(c.k)
		switch {
		case text == "":
		case c.column == 0, c.label != "" && f.doc.WidthOf(text, style) > edge(c.column)-edge(from)-1:
			others = append(others, f.say(c.label, text))
		default:
			cells, texts = append(cells, c), append(texts, text)
		}
		from = c.column
	}
	more := strings.Join(others, ", ")
	if len(cells) == 0 && more == "" {
		return
	}
	height := f.loadRowMM()
	if more != "" {
		height += style.LineMM()
	}
	f.need(height)
	at := f.take(f.loadRowMM())
	y := at.Y - f.loadRowMM() + (f.loadRowMM()-style.CapMM())/2
	f.page.Text(plane.Point{X: edge(1), Y: y}, f.say("target"), style)
	for i, c := range cells {
		f.page.Text(plane.Point{X: edge(c.column), Y: y}, texts[i], style)
	}
	if more != "" {
		f.page.Text(plane.Point{X: edge(len(columns)), Y: y - style.LineMM()}, more, style)
		f.take(style.LineMM())
	}
}

// windowText is a window in the words of the column above it: a word says which way where it
// asks for one.
func (f *flow) windowText(w target.Window, k tooth.Component, of tooth.Member) string {
	number := func(v float64) string { return sheet.Number(v, 2) }
	if w.Min == -w.Max {
		return "±" + number(w.Max)
	}
	sign := 1.0
	if w.Max <= 0 || w.Min < 0 && of.ClinicalSign(k) < 0 {
		sign = -1
		w.Min, w.Max = 0-w.Max, 0-w.Min
	}
	sense := func(sign float64) string {
		if k == tooth.CoupleX { // of which the text in front says the rest
			return f.say(of.ForceYWord(sign))
		}
		return f.say(of.Sense(k, sign))
	}
	switch {
	case math.IsInf(w.Min, -1):
		return "≤ " + number(w.Max) + " " + sense(sign)
	case math.IsInf(w.Max, 1) && w.Min < 0:
		return "≤ " + number(-w.Min) + " " + sense(-sign)
	case math.IsInf(w.Max, 1):
		return "≥ " + number(w.Min) + " " + sense(sign)
	case w.Min < 0:
		return f.say("%s to %s", number(-w.Min)+" "+sense(-sign), number(w.Max)+" "+sense(sign))
	}
	return f.say("%s to %s", number(w.Min), number(w.Max)) + " " + sense(sign)
}

// otherCouples says how large the couples about the other two axes become.
func (f *flow) otherCouples(load func(spring.Position) tooth.Load, of tooth.Member) {
	var worst r3.Vec
	for _, p := range f.job.Evaluation.Record.Positions {
		l := load(p).CoupleNMM
		if math.Abs(l.X) > math.Abs(worst.X) {
			worst.X = l.X
		}
		if math.Abs(l.Z) > math.Abs(worst.Z) {
			worst.Z = l.Z
		}
	}
	couple := func(v float64, name func(float64) string) string {
		return sheet.Number(math.Abs(v), 2) + " N·mm " + f.say(name(v)) + " (" + sheet.Number(math.Abs(v)/gramForceN, 0) + " gf·mm)"
	}
	const leastNMM = 0.1 // below that it matters to no tooth and is mostly rounding of the angles (choice)
	var text []string
	if math.Abs(worst.X) >= leastNMM {
		text = append(text, f.say("Largest torque: %s.", couple(worst.X, of.CoupleXWord)))
	}
	if math.Abs(worst.Z) >= leastNMM {
		text = append(text, f.say("Largest rotating couple: %s.", couple(worst.Z, of.CoupleZWord)))
	}
	if len(text) == 0 {
		return
	}
	f.need(5)
	f.take(f.page.Paragraph(f.take(0), f.area.Width(), strings.Join(text, " "), sheet.Style{SizePt: sheet.BodyPt}) + 2)
}

// said is a word for a load in the language of the job.
func (f *flow) said(name func(float64) string) func(float64) string {
	return func(v float64) string { return f.say(name(v)) }
}

// word names what a load does, unless it prints as zero.
func word(v float64, decimals int, name func(float64) string) string {
	if math.Round(v*math.Pow(10, float64(decimals))) == 0 {
		return ""
	}
	return name(v)
}

// worded is a load without its sign but with its word, such as "0.03 mesial".
func worded(v float64, decimals int, name func(float64) string) string {
	text := sheet.Number(math.Abs(v), decimals)
	if w := word(v, decimals, name); w != "" {
		return text + " " + w
	}
	return text
}

// pushesAlong tells whether the spring is one that pushes along the arch: the ratio of couple
// to force is then taken over that force.
func (f *flow) pushesAlong() bool {
	force := f.job.Evaluation.Record.Positions[0].Active.ForceN
	return math.Abs(force.X) > math.Abs(force.Z)
}

// ratio is the couple in the plane seen from the cheek to the force along the arch, or else
// to that up and down, where there is one.
func ratio(l tooth.Load, along bool) string {
	const leastN = 0.02 // below it the ratio of two roundings means nothing
	force := l.ForceN.Z
	if along {
		force = l.ForceN.X
	}
	if math.Abs(force) < leastN {
		return "–"
	}
	return sheet.Number(math.Abs(l.CoupleNMM.Y/force), 1)
}
