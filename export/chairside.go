package export

import (
	"fmt"
	"math"
	"strings"

	"springwright/design"
	"springwright/export/plane"
	"springwright/export/sheet"
)

const sketchHeightMM = 46.0

// sketchAndChecks lays out the free-body sketch beside the gauge check and the checks.
func (f *flow) sketchAndChecks() {
	style := sheet.Style{SizePt: sheet.BodyPt}
	const sketchWidthMM = 78.0
	width := f.area.Width() - sketchWidthMM - 5
	lines := f.checkLines(width, style)
	height := math.Max(sketchHeightMM, 6.5+float64(len(lines))*style.LineMM())
	f.need(height)

	top := f.yMM
	f.heading("At the start", "on the teeth, seen from the cheek")
	f.sketch(plane.Box{
		Min: plane.Point{X: f.area.Min.X, Y: top - sketchHeightMM},
		Max: plane.Point{X: f.area.Min.X + sketchWidthMM, Y: f.yMM},
	})
	x := f.area.Min.X + sketchWidthMM + 5
	head := sheet.Style{SizePt: sheet.HeadPt, Bold: true}
	f.page.Text(plane.Point{X: x, Y: top - head.CapMM()}, "Checks", head)
	y := top - 6.5
	for _, line := range lines {
		f.page.Text(plane.Point{X: x, Y: y - style.CapMM()}, line.text, sheet.Style{SizePt: style.SizePt, Bold: line.bold})
		y -= style.LineMM()
	}
	f.yMM = top - height - 3
}

type checkLine struct {
	text string
	bold bool
}

// checkLines are the gauge check, the checks of the design and the warnings, wrapped.
func (f *flow) checkLines(width float64, style sheet.Style) []checkLine {
	var lines []checkLine
	add := func(text string, bold bool) {
		s := style
		s.Bold = bold
		for _, line := range f.doc.Wrap(text, width, s) {
			lines = append(lines, checkLine{line, bold})
		}
	}
	add(f.gaugeText(), false)
	for _, c := range f.job.Checks {
		verdict := "Met"
		if !c.Met {
			verdict = "NOT MET"
		}
		add(fmt.Sprintf("%s: %s %s (limit %s).", verdict, c.Name, c.Value, c.Limit), !c.Met)
	}
	for _, w := range f.job.Evaluation.Warnings {
		text := "Warning: " + w.Text + "."
		if w.Hint != "" {
			text += " " + capital(w.Hint) + "."
		}
		add(text, true)
	}
	return lines
}

// spreadOfWires is how far real wires of one name differ from the nominal stiffness
// (110–179 gf in one test of several makes; Prog Orthod 2014, doi 10.1186/s40510-014-0042-0).
const spreadOfWires = 0.25

func (f *flow) gaugeText() string {
	g := f.job.Evaluation.Gauge
	if !g.Solved {
		return "Gauge check: none for this spring; its free end has no height to be pulled to."
	}
	way := "apically"
	if g.TravelMM < 0 {
		way = f.view.OcclusalWord() + "ly"
	}
	low, high := (1-spreadOfWires)*g.ForceN, (1+spreadOfWires)*g.ForceN
	return fmt.Sprintf("Gauge check: clamp the anchor end and pull the free end %s mm %s, free to turn. The gauge should read %s N (%s gf); %s to %s N (%s to %s gf) is the usual spread of wires.",
		sheet.Number(math.Abs(g.TravelMM), 1), way,
		sheet.Number(g.ForceN, 2), sheet.Number(g.ForceN/gramForceN, 0),
		sheet.Number(low, 2), sheet.Number(high, 2), sheet.Number(low/gramForceN, 0), sheet.Number(high/gramForceN, 0))
}

// sketch draws both teeth as boxes with a root, and their loads at the first position.
func (f *flow) sketch(box plane.Box) {
	position := f.job.Evaluation.Record.Positions[0]
	teeth := f.job.Case.Teeth
	largest := 0.0
	for _, l := range [...]design.Load{position.Active, position.Anchor} {
		largest = math.Max(largest, math.Max(math.Abs(l.ForceN.Z), math.Abs(l.ForceN.X)))
	}
	at := [2]plane.Point{{X: box.Min.X + box.Width()*0.25, Y: box.Centre().Y}, {X: box.Min.X + box.Width()*0.75, Y: box.Centre().Y}}
	if f.view.XSign < 0 {
		at[0], at[1] = at[1], at[0]
	}
	f.sketchTooth(at[0], int(teeth.Anchor), position.Anchor, largest)
	f.sketchTooth(at[1], int(teeth.Active), position.Active, largest)
}

func (f *flow) sketchTooth(at plane.Point, number int, l design.Load, largestN float64) {
	const (
		halfMM  = 5.5 // of the crown's width
		crownMM = 6.0 // from the slot to the biting edge
		rootMM  = 11.0
		arrowMM = 10.0
		leastMM = 1.8 // shorter arrows would be all head
	)
	up := f.view.ZSign
	q := func(x, y float64) plane.Point { return at.Add(plane.Point{X: x, Y: y * up}) }
	f.page.Polyline(sheet.Construction, []plane.Point{
		q(-halfMM, -crownMM/2), q(halfMM, -crownMM/2), q(halfMM, crownMM/2),
		q(0.45*halfMM, crownMM/2+rootMM), q(-0.45*halfMM, crownMM/2+rootMM), q(-halfMM, crownMM/2), q(-halfMM, -crownMM/2),
	})
	f.page.Dot(at, 0.7)
	if largestN > 0 {
		if length := arrowMM * l.ForceN.Z / largestN; math.Abs(length) >= leastMM {
			f.page.Arrow(sheet.Bar, at, q(0, length))
		}
		if length := arrowMM * l.ForceN.X / largestN; math.Abs(length) >= leastMM {
			f.page.Arrow(sheet.Bar, at, at.Add(plane.Point{X: f.view.XSign * length}))
		}
	}
	const leastNMM = 0.05
	if c := l.CoupleNMM.Y; math.Abs(c) >= leastNMM {
		// About +y the root goes towards +x: clockwise where x is right and apical is up.
		turn := -math.Copysign(1, c) * f.view.XSign * f.view.ZSign
		crown := -90 * up // degrees: on the side of the crown
		f.arcArrow(sheet.Bar, at, 7.6, (crown-turn*60)*degree, turn*120*degree, 1.6)
	}
	small := sheet.Style{SizePt: sheet.SmallPt, Align: sheet.Centre}
	bold := sheet.Style{SizePt: sheet.BodyPt, Bold: true, Align: sheet.Centre}
	teeth := f.job.Case.Teeth
	lines := [...]string{
		strings.TrimSpace(sheet.Number(math.Abs(l.ForceN.Z), 2) + " N " + word(l.ForceN.Z, 2, teeth.ForceZWord)),
		strings.TrimSpace(sheet.Number(math.Abs(l.CoupleNMM.Y), 2) + " N·mm " + word(l.CoupleNMM.Y, 2, teeth.CoupleYWord)),
	}
	// Below the drawing, whichever way the tooth stands.
	y := at.Y - crownMM/2 - rootMM - 2
	if up > 0 {
		y = at.Y - crownMM/2 - arrowMM
	}
	f.page.Text(plane.Point{X: at.X, Y: y - bold.CapMM()}, fmt.Sprint(number), bold)
	f.page.Text(plane.Point{X: at.X, Y: y - bold.CapMM() - small.LineMM()}, lines[0], small)
	f.page.Text(plane.Point{X: at.X, Y: y - bold.CapMM() - 2*small.LineMM()}, lines[1], small)
}
