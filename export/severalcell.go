package export

import (
	"errors"
	"math"

	"springwright/design/solve"
	"springwright/design/tooth"
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
func (p panel) cellChecks(unsolved error) []checkLine {
	var checks []checkLine
	if p.job.Spring.Teeth == (tooth.Pair{}) && p.job.Spring.OneSided() {
		checks = append(checks, checkLine{p.say("The spring's file does not name its teeth: make sure that it is for these, on this side."), true})
	}
	checks = append(checks, checkLine{freeEndCheck{p.subject}.endPositionText(), false})
	switch {
	case errors.Is(unsolved, solve.ErrYield):
		return append(checks, checkLine{p.say("No gauge value: the wire yields on the way, and takes a permanent set."), true})
	case unsolved != nil:
		return append(checks, checkLine{p.say("No gauge value and no warnings: no equilibrium was found for this spring in its slots."), true})
	}
	checks = append(checks, checkLine{gaugeCheck{p.subject}.gaugeText(), false})
	for _, text := range (notices{p.subject}).warnings() {
		checks = append(checks, checkLine{text, true})
	}
	return checks
}

// draw draws a spring in its cell and returns the box round the drawing itself.
func (p panel) draw(f *flow, cell plane.Box) plane.Box {
	f.page.Rectangle(sheet.Construction, cell)
	name := sheet.Style{SizePt: sheet.HeadPt, Bold: true}
	at := plane.Point{X: cell.Min.X + panelInsetMM, Y: cell.Max.Y - 1.5 - name.CapMM()}
	f.page.Text(at, p.name, name)
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
		box := p.drawView(f, s, boxUnder(cell.Min.X, top, cell.Width(), height))
		drawn = drawn.Cover(box.Min).Cover(box.Max)
		top -= height
	}
	return drawn
}

// drawView draws a view under its arrows and returns the box round it.
func (p panel) drawView(f *flow, s scene, cell plane.Box) plane.Box {
	room := cell.Grown(-0.8)
	room.Max.Y -= compassMM - 0.8
	shift := room.Centre().Sub(s.bounds.Centre())
	l := labels{board: s.board(room, shift, 1)}
	l.putNumbers(f, p.bendLabels(s, shift, 1))
	l.putEnd(f, s, shift, 1)
	f.page.Figure(p.spoken(s.plan), func() {
		p.compass(s.plan).draw(f.page, plane.Point{X: cell.Min.X + panelInsetMM, Y: cell.Max.Y})
		s.draw(f.page, shift, 1)
		l.settleAndDraw(f)
	})
	return plane.Box{Min: shift.Add(s.bounds.Min), Max: shift.Add(s.bounds.Max)}
}
