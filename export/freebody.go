package export

import (
	"math"
	"strconv"

	"springwright/design"
	"springwright/design/tooth"
	"springwright/export/plane"
	"springwright/export/sheet"
)

// The free-body sketch: both teeth and the loads on them at the first position. Arrows of
// forces are in proportion to each other, and so are arcs of couples.

const (
	sketchWidthMM = 78.0
	crownHalfMM   = 5.0  // of a drawn crown's width
	crownMM       = 5.6  // from its neck to its biting edge
	rootMM        = 10.0 // of a drawn root's length
	arrowMM       = 10.0 // for the force that the scale names
	leastArrowMM  = 1.8  // shorter ones would be all head
	arcRadiusMM   = 7.4
	arcRad        = 270 * degree // for the couple that the scale names
	leastArcRad   = 14 * degree
	sketchTextMM  = 3.2 // between lines
)

func (f *flow) sketchHeightMM() float64 {
	// The number of each tooth, its loads, and the scale.
	return headingMM + f.toothHeightMM() + 2.6 + float64(f.loadLinesAtMost()+1)*sketchTextMM + 1.5
}

// loadLinesAtMost is how many lines name the loads on a tooth.
func (f *flow) loadLinesAtMost() int {
	teeth := f.job.Case.Teeth
	p := f.job.Evaluation.Record.Positions[0]
	return max(len(f.loadLines(p.Active, teeth.ActiveMember())), len(f.loadLines(p.Anchor, teeth.AnchorMember())))
}

// toothHeightMM is what a tooth takes with its arrows.
func (f *flow) toothHeightMM() float64 {
	return crownMM/2 + rootMM + math.Max(arrowMM, arcRadiusMM) + 2
}

// scaleOf is the round value that stands for the longest arrow.
func scaleOf(largest float64) float64 {
	if !(largest > 0) {
		return 0
	}
	power := math.Pow(10, math.Floor(math.Log10(largest)))
	for _, m := range [...]float64{1, 1.5, 2, 3, 4, 5, 6, 8} {
		if m*power >= largest*(1-1e-9) {
			return m * power
		}
	}
	return 10 * power
}

// sketch draws both teeth as boxes with a root, and their loads at the first position.
func (f *flow) sketch(box plane.Box) {
	position := f.job.Evaluation.Record.Positions[0]
	teeth := f.job.Case.Teeth
	var forceN, coupleNMM float64
	for _, l := range [...]design.Load{position.Active, position.Anchor} {
		forceN = max(forceN, math.Abs(l.ForceN.Z), math.Abs(l.ForceN.X))
		coupleNMM = max(coupleNMM, math.Abs(l.CoupleNMM.Y))
	}
	forceN, coupleNMM = scaleOf(forceN), scaleOf(coupleNMM)

	y := box.Max.Y - arrowMM - 1
	if f.view.ZSign > 0 { // the root is up
		y = box.Max.Y - crownMM/2 - rootMM - 1
	}
	at := [2]plane.Point{{X: box.Min.X + box.Width()*0.25, Y: y}, {X: box.Min.X + box.Width()*0.75, Y: y}}
	if f.view.XSign < 0 {
		at[0], at[1] = at[1], at[0]
	}
	textY := box.Max.Y - f.toothHeightMM()
	f.sketchTooth(at[0], textY, teeth.AnchorMember(), position.Anchor, forceN, coupleNMM)
	f.sketchTooth(at[1], textY, teeth.ActiveMember(), position.Active, forceN, coupleNMM)

	var scale string
	if forceN > 0 {
		scale = f.say("An arrow of %g mm is %.3g N", arrowMM, forceN)
	}
	if coupleNMM > 0 {
		if scale != "" {
			scale += ", "
		}
		scale += f.say("an arc of %.0f° is %.3g N·mm", arcRad/degree, coupleNMM)
	}
	if scale != "" {
		y := textY - float64(f.loadLinesAtMost()+1)*sketchTextMM - 3.2
		f.page.Text(plane.Point{X: box.Min.X, Y: y}, capital(scale)+".", sheet.Style{SizePt: sheet.SmallPt})
	}
}

func (f *flow) sketchTooth(at plane.Point, textY float64, of tooth.Member, l design.Load, scaleN, scaleNMM float64) {
	up := f.view.ZSign
	q := func(x, y float64) plane.Point { return at.Add(plane.Point{X: x, Y: y * up}) }
	f.page.Polyline(sheet.Construction, []plane.Point{
		q(-crownHalfMM, -crownMM/2), q(crownHalfMM, -crownMM/2), q(crownHalfMM, crownMM/2),
		q(0.45*crownHalfMM, crownMM/2+rootMM), q(-0.45*crownHalfMM, crownMM/2+rootMM), q(-crownHalfMM, crownMM/2), q(-crownHalfMM, -crownMM/2),
	})
	f.page.Dot(at, 0.7)
	if scaleN > 0 {
		for _, arrow := range [...]plane.Point{
			{Y: up * arrowMM * l.ForceN.Z / scaleN}, {X: f.view.XSign * arrowMM * l.ForceN.X / scaleN},
		} {
			if arrow.Norm() >= leastArrowMM {
				f.page.Arrow(sheet.Bar, at, at.Add(arrow))
			}
		}
	}
	if scaleNMM > 0 {
		// About +y the root goes towards +x: clockwise where x is right and apical is up.
		sweep := -l.CoupleNMM.Y / scaleNMM * f.view.XSign * f.view.ZSign * arcRad
		if math.Abs(sweep) >= leastArcRad {
			crown := -math.Pi / 2 * up // on the side of the crown
			f.arcArrow(sheet.Bar, at, arcRadiusMM, crown-sweep/2, sweep, 1.6)
		}
	}
	small := sheet.Style{SizePt: sheet.SmallPt, Align: sheet.Centre}
	bold := sheet.Style{SizePt: sheet.BodyPt, Bold: true, Align: sheet.Centre}
	textY -= bold.CapMM()
	f.page.Text(plane.Point{X: at.X, Y: textY}, strconv.Itoa(int(of.Number)), bold)
	for _, line := range f.loadLines(l, of) {
		textY -= sketchTextMM
		f.page.Text(plane.Point{X: at.X, Y: textY}, line, small)
	}
}

// loadLines names the loads on a tooth: always those in the plane seen from the cheek, the
// others where they print as more than zero.
func (f *flow) loadLines(l design.Load, of tooth.Member) []string {
	var lines []string
	for i, part := range [...]struct {
		value float64
		unit  string
		name  func(float64) string
	}{
		{l.ForceN.Z, "N", f.said(of.ForceZWord)},
		{l.CoupleNMM.Y, "N·mm", f.said(of.CoupleYWord)},
		{l.ForceN.X, "N", f.said(of.ForceXWord)},
		{l.ForceN.Y, "N", f.said(of.ForceYWord)},
		{l.CoupleNMM.X, "N·mm", f.said(of.CoupleXWord)},
		{l.CoupleNMM.Z, "N·mm", f.said(of.CoupleZWord)},
	} {
		name := word(part.value, 2, part.name)
		text := sheet.Number(math.Abs(part.value), 2) + " " + part.unit
		switch {
		case name != "":
			lines = append(lines, text+" "+name)
		case i == 0:
			lines = append(lines, f.say("no force up or down"))
		case i == 1:
			lines = append(lines, f.say("no tipping couple"))
		}
	}
	return lines
}
