package export

import (
	"math"

	"springwright/design"
	"springwright/design/tooth"
	"springwright/export/plane"
	"springwright/export/sheet"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	chartHeightMM = 40.0
	loadRowMM     = 3.75 // of tables that share a page with charts
)

// loads lays out what the spring does to both teeth over the travel.
func (f *flow) loads() {
	remark := f.say("On the teeth, couples about the centre of each slot. Hatched: the target.")
	if f.spread() != nil {
		remark += " " + f.say("Thin lines: nine of ten springs bent by hand lie between.")
	}
	f.heading(f.say("Loads over the travel"), remark)
	f.charts()
	teeth := f.job.Case.Teeth
	f.loadTable(f.say("Active tooth %d", int(teeth.Active)), func(p design.Position) design.Load { return p.Active }, true)
	f.loadTable(f.say("Anchor tooth %d", int(teeth.Anchor)), func(p design.Position) design.Load { return p.Anchor }, false)
	f.sketchAndChecks()
}

// spread is where nine of ten bent springs lie, nil where none were tried.
func (f *flow) spread() []design.PositionSpread {
	if s := f.job.Evaluation.Record.Spread; s != nil && len(s.Positions) > 1 {
		return s.Positions
	}
	return nil
}

// limits are the two curves between which nine of ten bent springs lie.
func (f *flow) limits(sign float64, band func(design.PositionSpread) design.Band) []sheet.Series {
	low, high := sheet.Series{Thin: true}, sheet.Series{Thin: true}
	for _, p := range f.spread() {
		b := band(p)
		low.Points = append(low.Points, plane.Point{X: p.TravelLeftMM, Y: sign * b.Low})
		high.Points = append(high.Points, plane.Point{X: p.TravelLeftMM, Y: sign * b.High})
	}
	if len(low.Points) == 0 {
		return nil
	}
	return []sheet.Series{low, high}
}

func (f *flow) charts() {
	teeth := f.job.Case.Teeth
	active, anchor := f.say("active %d", int(teeth.Active)), f.say("anchor %d", int(teeth.Anchor))
	_, mesial := teeth.Clinical(tooth.CoupleY)
	series := func(label string, dashed bool, value func(design.Position) float64) sheet.Series {
		s := sheet.Series{Label: label, Dashed: dashed}
		for _, p := range f.job.Evaluation.Record.Positions {
			s.Points = append(s.Points, plane.Point{X: p.TravelLeftMM, Y: value(p)})
		}
		return s
	}
	force := sheet.Chart{
		Title: f.say("Force, intrusive +"), XTitle: f.say("travel left, mm"), YTitle: "N", XReversed: true,
		Series: []sheet.Series{
			series(active, false, func(p design.Position) float64 { return p.Active.ForceN.Z }),
			series(anchor, true, func(p design.Position) float64 { return p.Anchor.ForceN.Z }),
		},
		BandUntilX: f.job.Case.Target.ForceUntilMM,
	}
	couple := sheet.Chart{
		Title: f.say("Couple, crown-mesial +"), XTitle: f.say("travel left, mm"), YTitle: "N·mm", XReversed: true,
		Series: []sheet.Series{
			series(active, false, func(p design.Position) float64 { return mesial * p.Active.CoupleNMM.Y }),
			series(anchor, true, func(p design.Position) float64 { return mesial * p.Anchor.CoupleNMM.Y }),
		},
	}
	add := func(c *sheet.Chart, sign float64, band func(design.PositionSpread) design.Band) {
		c.Series = append(c.Series, f.limits(sign, band)...)
	}
	add(&force, 1, func(p design.PositionSpread) design.Band { return p.ActiveForceZN })
	add(&force, 1, func(p design.PositionSpread) design.Band { return p.AnchorForceZN })
	add(&couple, mesial, func(p design.PositionSpread) design.Band { return p.ActiveCoupleYNMM })
	add(&couple, mesial, func(p design.PositionSpread) design.Band { return p.AnchorCoupleYNMM })
	band(&force, f.job.Case.Target.Travel.ForceN[2], 1)
	if !f.job.Case.Target.AtResistance { // else it is about another point
		band(&couple, f.job.Case.Target.Travel.CoupleNMM[1], mesial)
	}

	f.need(chartHeightMM)
	at := f.take(chartHeightMM + 2)
	half := (f.area.Width() - 4) / 2
	for i, c := range [...]sheet.Chart{force, couple} {
		x := at.X + float64(i)*(half+4)
		c.Draw(f.page, plane.Box{Min: plane.Point{X: x, Y: at.Y - chartHeightMM}, Max: plane.Point{X: x + half, Y: at.Y}})
	}
}

// band hatches a target window that has two ends.
func band(c *sheet.Chart, w design.Window, sign float64) {
	if math.IsInf(w.Min, 0) || math.IsInf(w.Max, 0) || w.Min >= w.Max {
		return
	}
	c.BandMin, c.BandMax = w.Min, w.Max
	if sign < 0 {
		c.BandMin, c.BandMax = -w.Max, -w.Min
	}
}

// loadTable lays out the loads on the active tooth, or the anchor's under it: forces, then
// couples.
func (f *flow) loadTable(title string, load func(design.Position) design.Load, active bool) {
	headed := active
	teeth := f.job.Case.Teeth
	_, mesial := teeth.Clinical(tooth.CoupleY)
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
		{Head: "couple to\nforce mm", WidthMM: 14, Align: sheet.Right},
		{Head: "", Align: sheet.Right}, // both tables as wide as the page
	}
	if active {
		columns[len(columns)-1].Head = "stress\nto yield"
	}
	used := 0.0
	for _, c := range columns {
		used += c.WidthMM
	}
	columns[len(columns)-1].WidthMM = f.area.Width() - used
	t := sheet.Table{Columns: f.headed(columns), RowMM: loadRowMM}
	for _, p := range f.job.Evaluation.Record.Positions {
		l := load(p)
		row := []string{
			sheet.Number(p.TravelLeftMM, 2),
			sheet.Number(l.ForceN.Z, 2), sheet.Number(l.ForceN.Z/gramForceN, 0), word(l.ForceN.Z, 2, f.said(teeth.ForceZWord)),
			worded(l.ForceN.X, 2, f.alongWord), worded(l.ForceN.Y, 2, f.said(teeth.ForceYWord)),
			sheet.Number(mesial*l.CoupleNMM.Y, 2), sheet.Number(mesial*l.CoupleNMM.Y/gramForceN, 0), word(l.CoupleNMM.Y, 2, f.said(teeth.CoupleYWord)),
			ratio(l),
		}
		if active {
			row = append(row, sheet.Number(p.StressRatio, 2))
		}
		t.Rows = append(t.Rows, row)
	}
	rows := t.Rows
	for len(rows) > 0 {
		f.need(headingMM + t.HeadMM() + 4.3*float64(min(len(rows), 3)))
		t.NoHead = !headed && f.yMM < f.area.Max.Y // the table above has the same heads
		f.heading(title, "")
		if !t.NoHead {
			f.take(-1.5) // the heads have room of their own above them
		}
		t.Rows = rows[:min(len(rows), t.RowsIn(f.leftMM()))]
		rows = rows[len(t.Rows):]
		t.Draw(f.page, f.take(t.HeightMM()+3))
		headed = false
	}
	f.otherCouples(load)
}

// otherCouples says how large the couples about the other two axes become.
func (f *flow) otherCouples(load func(design.Position) design.Load) {
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
	if math.Abs(worst.X) < 0.005 && math.Abs(worst.Z) < 0.005 {
		return
	}
	teeth := f.job.Case.Teeth
	style := sheet.Style{SizePt: sheet.BodyPt}
	f.need(5)
	at := f.take(0)
	f.take(f.page.Paragraph(at, f.area.Width(), f.say("Largest torque %s N·mm (%s gf·mm), rotating couple %s N·mm (%s gf·mm).",
		worded(worst.X, 2, f.said(teeth.CoupleXWord)), sheet.Number(math.Abs(worst.X)/gramForceN, 0),
		worded(worst.Z, 2, f.said(teeth.CoupleZWord)), sheet.Number(math.Abs(worst.Z)/gramForceN, 0)), style) + 2)
}

func (f *flow) alongWord(forceN float64) string {
	if forceN*f.view.Teeth.MesialSign() >= 0 {
		return f.say("mesial")
	}
	return f.say("distal")
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

// ratio is the couple to force in the plane seen from the cheek, where there is a force.
func ratio(l design.Load) string {
	const leastN = 0.02 // below it the ratio of two roundings means nothing
	if math.Abs(l.ForceN.Z) < leastN {
		return "–"
	}
	return sheet.Number(math.Abs(l.CoupleNMM.Y/l.ForceN.Z), 1)
}
