package export

import (
	"errors"
	"math"

	"springwright/design/solve"
	"springwright/design/tooth"
	"springwright/export/label"
	"springwright/export/plane"
	"springwright/export/sheet"
)

// sizeMM is the smallest cell that holds a panel.
func (p panel) sizeMM(f *flow) (width, height float64) {
	name := sheet.Style{SizePt: sheet.HeadPt, Bold: true}
	width = math.Max(compassWide, f.doc.WidthOf(p.name, name))
	height = p.headMM()
	for _, s := range p.scenes {
		width = math.Max(width, s.bounds.Width()+2*templateRoom)
		height += viewMM(s)
	}
	for _, c := range p.checks {
		width = math.Max(width, f.doc.WidthOf(c.text, sheet.Style{SizePt: sheet.SmallPt, Bold: c.bold}))
	}
	for i, line := range p.lines {
		width = math.Max(width, f.doc.WidthOf(line, p.styleOf(i)))
	}
	return width + 2*panelInsetMM, height + panelInsetMM
}

// styleOf is how a line is set.
func (p panel) styleOf(line int) sheet.Style {
	return sheet.Style{SizePt: sheet.SmallPt, Bold: p.unmet && line == 0}
}

// headMM is what a panel's texts take.
func (p panel) headMM() float64 { return 5.5 + cellLineMM*float64(len(p.lines)+len(p.checks)) }

// viewMM is what a view takes with its arrows.
func viewMM(s scene) float64 { return s.bounds.Height() + 2*templateRoom + compassMM }

// cellChecks are what a bench needs to know of a spring beside its drawing: where its end
// lies, what a gauge reads, and warnings, as far as its file tells.
func (f *flow) cellChecks(unsolved error) []checkLine {
	var checks []checkLine
	if f.job.Spring.Teeth == (tooth.Pair{}) && f.job.Spring.OneSided() {
		checks = append(checks, checkLine{f.say("The spring's file does not name its teeth: make sure that it is for these, on this side."), true})
	}
	checks = append(checks, checkLine{f.endPositionText(), false})
	switch {
	case errors.Is(unsolved, solve.ErrYield):
		return append(checks, checkLine{f.say("No gauge value: the wire yields on the way, and takes a permanent set."), true})
	case unsolved != nil:
		return append(checks, checkLine{f.say("No gauge value and no warnings: no equilibrium was found for this spring in its slots."), true})
	}
	checks = append(checks, checkLine{f.gaugeText(), false})
	for _, text := range f.warnings() {
		checks = append(checks, checkLine{text, true})
	}
	return checks
}

// drawPanel draws a spring in its cell and returns the box round the drawing itself.
func (f *flow) drawPanel(p panel, cell plane.Box) (template plane.Box) {
	f.on(p, func() { template = f.drawCell(p, cell) })
	return template
}

func (f *flow) drawCell(p panel, cell plane.Box) plane.Box {
	f.page.Rectangle(sheet.Construction, cell)
	name := sheet.Style{SizePt: sheet.HeadPt, Bold: true}
	at := plane.Point{X: cell.Min.X + panelInsetMM, Y: cell.Max.Y - 1.5 - name.CapMM()}
	verbatim := name
	verbatim.Verbatim = true
	f.page.Text(at, p.name, verbatim)
	width := cell.Width() - 2*panelInsetMM
	for i, line := range p.lines {
		at.Y -= cellLineMM
		f.page.Text(at, f.doc.Fit(line, width, p.styleOf(i)), p.styleOf(i))
	}
	for _, c := range p.checks {
		at.Y -= cellLineMM
		f.page.Text(at, c.text, sheet.Style{SizePt: sheet.SmallPt, Bold: c.bold})
	}
	_, needed := p.sizeMM(f)
	spare := math.Max(0, cell.Height()-needed) / float64(len(p.scenes))
	top, drawn := cell.Max.Y-p.headMM(), plane.Empty()
	for _, s := range p.scenes {
		height := viewMM(s) + spare
		box := f.drawCellView(p, s, boxUnder(cell.Min.X, top, cell.Width(), height))
		drawn = drawn.Cover(box.Min).Cover(box.Max)
		top -= height
	}
	return drawn
}

// drawCellView draws a view under its arrows and returns the box round it.
func (f *flow) drawCellView(p panel, s scene, cell plane.Box) plane.Box {
	small := sheet.Style{SizePt: sheet.SmallPt}
	f.compass(plane.Point{X: cell.Min.X + panelInsetMM, Y: cell.Max.Y}, s.plan)
	room := cell.Grown(-0.8)
	room.Max.Y -= compassMM - 0.8
	shift := room.Centre().Sub(s.bounds.Centre())
	place := func(points []plane.Point) []plane.Point {
		out := make([]plane.Point, len(points))
		for i, q := range points {
			out[i] = shift.Add(q)
		}
		return out
	}
	board := &label.Board{Bounds: room, ClearMM: 0.35}
	wire := p.job.Spring.Wire
	board.Block(thin(s.passive.centre, shift, 1), math.Max(wire.HeightMM(), wire.DepthMM())/2)
	for _, sl := range s.slots {
		if sl.goal {
			f.page.Dashed(sheet.Mark, place(sl.outline), 0.8, 0.5)
		} else {
			f.page.Polyline(sheet.Mark, place(sl.outline))
		}
		board.Block(thin(sl.outline, shift, 1), 0.1)
	}
	if s.plan {
		f.silhouette(s.poses, wire, s.see, shift, 1)
	} else {
		f.page.Polyline(sheet.Outline, place(s.passive.edge()))
	}
	f.page.Polyline(sheet.Centreline, place(s.passive.centre))
	centred := small
	centred.Align = sheet.Centre
	l := labels{board: board}
	for _, b := range f.bendLabels(s, shift, 1) {
		l.put(b.number, b.anchors, b.more, 1.2, f.doc.WidthOf(b.number, centred), centred.CapMM(), func(box plane.Box) {
			f.page.Text(plane.Point{X: box.Centre().X, Y: box.Min.Y}, b.number, centred)
		})
	}
	f.putEnd(&l, s, shift, 1)
	f.settleAndDraw(&l)
	return plane.Box{Min: shift.Add(s.bounds.Min), Max: shift.Add(s.bounds.Max)}
}
