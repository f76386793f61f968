package export

import (
	"math"
	"strings"

	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/export/plane"
	"springwright/export/sheet"
	"springwright/export/words"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	highChartMM     = 72.0 // where there is room
	chartHeightMM   = 37.0
	lowChartMM      = 31.0 // where the page is crowded
	loadRowMM       = 3.75 // of tables that share a page with charts
	narrowLoadRowMM = 3.4  // where the page is crowded
)

// loadsPage is what the spring does to both teeth over the travel.
type loadsPage struct {
	*subject
	chartMM, rowMM float64
	together       bool // the last blocks go to the next page with what belongs to them
}

// draw lays out the loads on one page if it can be, with less room between its lines where that
// helps, and else on two of which neither is nearly empty. What room there is goes to the charts.
func (p loadsPage) draw(f *flow) error {
	first := len(f.doc.Pages)
	notes := p.firstNotes()
	way := func(chartMM, rowMM float64, together bool) func() {
		top, bottom := nothing, notes
		if together {
			top, bottom = notes, nothing
		}
		return func() { loadsPage{p.subject, chartMM, rowMM, together}.blocks(f, top); bottom(f) }
	}
	if f.onPages(1, way(highChartMM, loadRowMM, false), way(chartHeightMM, loadRowMM, false), way(lowChartMM, narrowLoadRowMM, false)) {
		return nil
	}
	f.doc.Pages, f.tops = f.doc.Pages[:first], f.tops[:first]
	f.onPages(2, way(highChartMM, loadRowMM, true), way(chartHeightMM, loadRowMM, true))
	return nil
}

// blocks lays out the loads under what stands at the top.
func (p loadsPage) blocks(f *flow, top func(*flow)) {
	f.newPage("Loads")
	top(f)
	f.heading(f.say("Loads over the travel"), f.say("On the teeth, couples about the centre of each slot."))
	loadChartsOf(p.subject).draw(f, p.chartMM)
	teeth := p.job.Case.Teeth
	p.loadTable(f, f.say("Active tooth %d", int(teeth.Active)), onActive, teeth.ActiveMember())
	p.loadTable(f, f.say("Anchor tooth %d", int(teeth.Anchor)), onAnchor, teeth.AnchorMember())
	if text := p.words.FirstDay(p.job.Evaluation.Record, p.job.Spring.Travel()); text != "" {
		f.block(words.Capital(text)+".", sheet.Style{SizePt: sheet.SmallPt})
	}
	p.sketchAndChecks(f)
}

func onActive(p spring.Position) tooth.Load { return p.Active }

func onAnchor(p spring.Position) tooth.Load { return p.Anchor }

// loadTable lays out the loads on the active tooth, or the anchor's under it: forces, then
// couples, and what the target asks of them.
func (p loadsPage) loadTable(f *flow, title string, load func(spring.Position) tooth.Load, of tooth.Member) {
	active := of.Number == of.Active
	positions := p.job.Evaluation.Record.Positions
	way := travelOf(p.job.Spring)
	t := sheet.Table{Columns: p.loadColumns(way, active, f.area.Width()), RowMM: p.rowMM}
	along := p.pushesAlong()
	for _, at := range positions {
		l := load(at)
		row := []string{
			p.words.Number(way.left(at), way.decimals()),
			p.words.Number(math.Abs(l.ForceN.Z), 2), p.words.Number(math.Abs(l.ForceN.Z)/gramForceN, 0), word(l.ForceN.Z, 2, p.sense(of, tooth.ForceZ)),
			worded(p.words, l.ForceN.X, 2, p.sense(of, tooth.ForceX)), worded(p.words, l.ForceN.Y, 2, p.sense(of, tooth.ForceY)),
			p.words.Number(math.Abs(l.CoupleNMM.Y), 2), p.words.Number(math.Abs(l.CoupleNMM.Y)/gramForceN, 0), word(l.CoupleNMM.Y, 2, p.sense(of, tooth.CoupleY)),
			ratio(p.words, l, along),
		}
		if active {
			row = append(row, p.words.Number(at.StressRatio, 2))
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
	p.targetRow(f, t.Columns, of)
	f.take(2.5)
	p.otherCouples(f, load, of)
}

func (p loadsPage) loadColumns(way travel, active bool, widthMM float64) []sheet.Column {
	columns := []sheet.Column{
		{Head: p.say("travel left\nmm"), WidthMM: 15, Align: sheet.Right},
		{Head: p.say("force\nN"), WidthMM: 12, Align: sheet.Right},
		{Head: "\ngf", WidthMM: 11, Align: sheet.Right},
		{Head: "", WidthMM: 17},
		{Head: p.say("along arch\nN"), WidthMM: 22, Align: sheet.Right},
		{Head: p.say("across arch\nN"), WidthMM: 23, Align: sheet.Right},
		{Head: p.say("couple\nN·mm"), WidthMM: 14, Align: sheet.Right},
		{Head: "\ngf·mm", WidthMM: 12, Align: sheet.Right},
		{Head: "", WidthMM: 21},
		{Head: p.say("M/F\nmm"), WidthMM: 14, Align: sheet.Right},
		{Head: "", Align: sheet.Right}, // both tables as wide as the page
	}
	last := &columns[len(columns)-1]
	if active {
		last.Head = p.say("stress\nto yield")
	}
	if way.Turns {
		columns[0].Head = p.say("travel left\ndegrees")
	}
	if p.pushesAlong() {
		columns[9].Head = p.say("M/F mm,\nalong arch")
	}
	last.WidthMM = widthMM
	for _, c := range columns[:len(columns)-1] {
		last.WidthMM -= c.WidthMM
	}
	return columns
}

// targetRow closes a table with what the target asks for over the travel, in small letters.
func (p loadsPage) targetRow(f *flow, columns []sheet.Column, of tooth.Member) {
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
		column int          // that it ends before
		label  words.Phrase // where it stands in the line below, for want of a column or of room in it
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
		text := p.targetText(c.k, of)
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
	height := p.rowMM
	if more != "" {
		height += style.LineMM()
	}
	f.need(height)
	at := f.take(p.rowMM)
	y := at.Y - p.rowMM + (p.rowMM-style.CapMM())/2
	f.page.Text(plane.Point{X: edge(1), Y: y}, f.say("target"), style)
	for i, c := range cells {
		f.page.Text(plane.Point{X: edge(c.column), Y: y}, texts[i], style)
	}
	if more != "" {
		f.page.Text(plane.Point{X: edge(len(columns)), Y: y - style.LineMM()}, more, style)
		f.take(style.LineMM())
	}
}

// targetText is what the target asks of a component over the travel; empty where it asks nothing.
func (p loadsPage) targetText(k tooth.Component, of tooth.Member) string {
	q := target.OfAnchor(k)
	if of.Number == of.Active {
		q = target.OfActive(k)
	}
	target := p.job.Case.Target
	w := target.WindowAt(q, p.job.Evaluation.Record.Positions[0].TravelLeftMM, false)
	if !w.Asked() || target.AtResistance && k.Couple() { // about another point
		return ""
	}
	return p.windowText(w, k, of)
}

// windowText is a window in the words of the column above it: a word says which way where it
// asks for one.
func (p loadsPage) windowText(w target.Window, k tooth.Component, of tooth.Member) string {
	number := func(v float64) string { return p.words.Number(v, 2) }
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
			return p.words.Sense(of, tooth.ForceY, sign)
		}
		return p.words.Sense(of, k, sign)
	}
	switch {
	case math.IsInf(w.Min, -1):
		return "≤ " + number(w.Max) + " " + sense(sign)
	case math.IsInf(w.Max, 1) && w.Min < 0:
		return "≤ " + number(-w.Min) + " " + sense(-sign)
	case math.IsInf(w.Max, 1):
		return "≥ " + number(w.Min) + " " + sense(sign)
	case w.Min < 0:
		return p.say("%s to %s", number(-w.Min)+" "+sense(-sign), number(w.Max)+" "+sense(sign))
	}
	return p.say("%s to %s", number(w.Min), number(w.Max)) + " " + sense(sign)
}

// otherCouples says how large the couples about the other two axes become.
func (p loadsPage) otherCouples(f *flow, load func(spring.Position) tooth.Load, of tooth.Member) {
	var worst r3.Vec
	for _, p := range p.job.Evaluation.Record.Positions {
		l := load(p).CoupleNMM
		if math.Abs(l.X) > math.Abs(worst.X) {
			worst.X = l.X
		}
		if math.Abs(l.Z) > math.Abs(worst.Z) {
			worst.Z = l.Z
		}
	}
	couple := func(v float64, name func(float64) string) string {
		return p.words.Number(math.Abs(v), 2) + " N·mm " + name(v) + " (" + p.words.Number(math.Abs(v)/gramForceN, 0) + " gf·mm)"
	}
	const leastNMM = 0.1 // below that it matters to no tooth and is mostly rounding of the angles (choice)
	var text []string
	if math.Abs(worst.X) >= leastNMM {
		text = append(text, f.say("Largest torque: %s.", couple(worst.X, func(v float64) string { return f.words.Torque(of, v) })))
	}
	if math.Abs(worst.Z) >= leastNMM {
		text = append(text, f.say("Largest rotating couple: %s.", couple(worst.Z, p.sense(of, tooth.CoupleZ))))
	}
	if len(text) == 0 {
		return
	}
	f.need(5)
	f.paragraph(strings.Join(text, " "), sheet.Style{SizePt: sheet.BodyPt}, 2)
}

// sense is the word for a component of a load on a tooth, by its sign.
func (s speech) sense(of tooth.Member, k tooth.Component) func(float64) string {
	return func(v float64) string { return s.words.Sense(of, k, v) }
}

// word names what a load does, unless it prints as zero.
func word(v float64, decimals int, name func(float64) string) string {
	if math.Round(v*math.Pow(10, float64(decimals))) == 0 {
		return ""
	}
	return name(v)
}

// worded is a load without its sign but with its word, such as "0.03 mesial".
func worded(words *words.Book, v float64, decimals int, name func(float64) string) string {
	text := words.Number(math.Abs(v), decimals)
	if w := word(v, decimals, name); w != "" {
		return text + " " + w
	}
	return text
}

// pushesAlong tells whether the spring is one that pushes along the arch: the ratio of couple
// to force is then taken over that force.
func (s *subject) pushesAlong() bool {
	force := s.job.Evaluation.Record.Positions[0].Active.ForceN
	return math.Abs(force.X) > math.Abs(force.Z)
}

// ratio is the couple in the plane seen from the cheek to the force along the arch, or else
// to that up and down, where there is one.
func ratio(words *words.Book, l tooth.Load, along bool) string {
	const leastN = 0.02 // below it the ratio of two roundings means nothing
	force := l.ForceN.Z
	if along {
		force = l.ForceN.X
	}
	if math.Abs(force) < leastN {
		return "–"
	}
	return words.Number(math.Abs(l.CoupleNMM.Y/force), 1)
}
