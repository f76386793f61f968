package export

import (
	"math"
	"slices"

	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/export/plane"
	"springwright/export/sheet"
)

// sketchAndChecks lays out the free-body sketch beside what the chair needs to know of the loads,
// and under them the checks of the design and the warnings.
func (f *flow) sketchAndChecks() {
	const apart = 5.0
	body := sheet.Style{SizePt: sheet.BodyPt}
	width := f.area.Width() - sketchWidthMM - apart
	texts := []checkLine{{f.gaugeText(), false}, {f.recheckText(), false}}
	for _, text := range f.instructions(solve.Tying) {
		texts = append(texts, checkLine{text, false})
	}
	textMM := func(c checkLine) float64 {
		return float64(len(f.doc.Wrap(c.text, width, sheet.Style{SizePt: body.SizePt, Bold: c.bold})))*body.LineMM() + 1.5
	}
	needed := headingMM
	for _, text := range texts {
		needed += textMM(text)
	}
	beside, compared := f.straightBlock()
	if compared {
		needed += f.straightHeightMM(beside, width)
	}
	height := math.Max(needed, f.sketchHeightMM())
	// Warnings fill the column, the others stand at the end.
	warnings := f.warnings()
	for len(warnings) > 0 && needed+textMM(checkLine{warnings[0], true}) <= height {
		text := checkLine{warnings[0], true}
		texts, warnings = append(texts, text), warnings[1:]
		needed += textMM(text)
	}
	if f.together {
		height += f.checksHeightMM()
		for _, text := range warnings {
			height += f.blockMM(text, sheet.Style{SizePt: body.SizePt, Bold: true})
		}
		f.need(height + 2)
		height = math.Max(needed, f.sketchHeightMM())
	}
	f.need(height)

	top := f.yMM
	f.heading(f.say("At the start"), f.sketchRemark())
	f.sketch(plane.Box{
		Min: plane.Point{X: f.area.Min.X, Y: top - height},
		Max: plane.Point{X: f.area.Min.X + sketchWidthMM, Y: f.yMM},
	})
	x := f.area.Min.X + sketchWidthMM + apart
	head := sheet.Style{SizePt: sheet.HeadPt, Bold: true}
	f.page.Text(plane.Point{X: x, Y: top - head.CapMM()}, f.say("At the chair"), head)
	y := top - headingMM
	for _, text := range texts {
		y -= f.page.Paragraph(plane.Point{X: x, Y: y}, width, text.text, sheet.Style{SizePt: body.SizePt, Bold: text.bold}) + 1.5
	}
	if compared {
		f.drawStraight(beside, plane.Point{X: x, Y: y}, width)
	}
	f.yMM = top - height - 2
	f.checks()
	for _, text := range warnings {
		f.block(text, sheet.Style{SizePt: sheet.BodyPt, Bold: true})
	}
}

// warnings are the texts of those that are not written yet.
func (f *flow) warnings() []string {
	if f.warned {
		return nil
	}
	var texts []string
	for _, w := range f.job.Evaluation.Warnings {
		if f.instructed(w) {
			continue
		}
		text := f.say("Warning: %s.", f.words.Recognised(w.Text))
		if w.Hint != "" {
			text += " " + capital(f.words.Recognised(w.Hint)) + "."
		}
		texts = append(texts, text)
	}
	return texts
}

// instructed tells whether a page is laid out for the work that a warning is about: it stands
// there, once, as what to do and why, and not as a warning that is on nearly every sheet.
func (f *flow) instructed(w solve.Warning) bool {
	switch w.Work {
	case solve.Bending:
		return slices.Contains(f.job.pages(), StepsPage)
	case solve.Tying:
		return slices.Contains(f.job.pages(), LoadsPage)
	}
	return false
}

// instructions say what to do at a kind of work, and then why.
func (f *flow) instructions(at solve.Work) []string {
	var texts []string
	for _, w := range f.job.Evaluation.Warnings {
		if w.Work == at && f.instructed(w) {
			texts = append(texts, capital(f.words.Recognised(w.Hint))+". "+capital(f.words.Recognised(w.Text))+".")
		}
	}
	return texts
}

// warnHere writes the warnings, all of them or none, where the page has room.
func (f *flow) warnHere() {
	bold := sheet.Style{SizePt: sheet.BodyPt, Bold: true}
	texts := f.warnings()
	needed := 0.0
	for _, text := range texts {
		needed += f.blockMM(text, bold)
	}
	if len(texts) == 0 || needed > f.leftMM() {
		return
	}
	for _, text := range texts {
		f.block(text, bold)
	}
	f.warned = true
}

const checksApartMM = 6.0 // between the two columns

// checkLines are the checks of the design in two columns.
func (f *flow) checkLines() (lines [2][]checkLine) {
	width := (f.area.Width() - checksApartMM) / 2
	all := f.checkTexts()
	for i, c := range all {
		s := sheet.Style{SizePt: sheet.SmallPt, Bold: !c.met}
		column := 2 * i / max(2, len(all)+len(all)%2)
		for _, line := range f.doc.Wrap(c.text, width, s) {
			lines[column] = append(lines[column], checkLine{line, !c.met})
		}
	}
	return lines
}

// checksHeightMM is what the checks take.
func (f *flow) checksHeightMM() float64 {
	lines := f.checkLines()
	rows := max(len(lines[0]), len(lines[1]))
	if rows == 0 {
		return 0
	}
	return headingMM + float64(rows)*sheet.Style{SizePt: sheet.SmallPt}.LineMM()
}

// checks lists the checks of the design.
func (f *flow) checks() {
	height := f.checksHeightMM()
	if height == 0 {
		return
	}
	small := sheet.Style{SizePt: sheet.SmallPt}
	f.need(height)
	f.heading(f.say("Checks"), f.say("met as drawn, unless marked NOT MET"))
	at := f.take(height - headingMM + 2)
	for _, column := range f.checkLines() {
		y := at.Y
		for _, line := range column {
			f.page.Text(plane.Point{X: at.X, Y: y - small.CapMM()}, line.text, sheet.Style{SizePt: small.SizePt, Bold: line.bold})
			y -= small.LineMM()
		}
		at.X += (f.area.Width()-checksApartMM)/2 + checksApartMM
	}
}

type checkLine struct {
	text string
	bold bool
}

// spreadOfWires is how far real wires of one name differ from the nominal stiffness
// (110–179 gf in one test of several makes; Prog Orthod 2014, doi 10.1186/s40510-014-0042-0).
const spreadOfWires = 0.25

func (f *flow) gaugeText() string {
	g := f.job.Evaluation.Gauge
	switch {
	case g.Solved:
	case g.Lack == solve.GaugeCouples:
		return f.say("Gauge check: none. This spring works by couples, and a force gauge at E shows nothing of them. Check its bends, its twists and its neutral position instead.")
	case g.Lack == solve.GaugeUnsolved:
		return f.say("Gauge check: none for this spring; E comes to no rest where it is to be pulled.")
	default:
		return f.say("Gauge check: none for this spring; along its force E already lies level with the slot. Check the neutral position instead.")
	}
	low, high := (1-spreadOfWires)*g.ForceN, (1+spreadOfWires)*g.ForceN
	return f.say("Gauge check: clamp the anchor end and pull the wire at E %s mm %s, free to turn. The gauge should read %s N (%s gf); %s to %s N (%s to %s gf) is the usual spread of wires.",
		sheet.Number(math.Abs(g.TravelMM), 1), f.say(f.gaugeWay(g)),
		sheet.Number(g.ForceN, 2), sheet.Number(g.ForceN/gramForceN, 0),
		sheet.Number(low, 2), sheet.Number(high, 2), sheet.Number(low/gramForceN, 0), sheet.Number(high/gramForceN, 0))
}

// gaugeWay is the English word for the way in which the wire is pulled at E, such as "mesially".
func (f *flow) gaugeWay(g solve.GaugeCheck) string {
	switch {
	case g.Axis == tooth.ForceX:
		return f.view.Teeth.ForceXWord(g.TravelMM) + "ly"
	case g.Axis == tooth.ForceY:
		return f.view.Teeth.ActiveMember().ForceYWord(g.TravelMM) + "ly"
	case g.TravelMM < 0:
		return f.view.OcclusalWord() + "ly"
	}
	return "apically"
}

// recheckText says when to see the patient again.
func (f *flow) recheckText() string {
	positions := f.job.Evaluation.Record.Positions
	way := travelOf(f.job.Spring)
	along := func(p spring.Position) float64 { return math.Abs(way.Along(p.Active)) }
	couple := func(p spring.Position) float64 { return math.Abs(p.Active.CoupleNMM.Y) }
	value, recheck := along, "Recheck: after 4 to 6 weeks (common practice), or after %s of travel, when the force has fallen to half, %s N. Measure again and reactivate."
	if way.None() || way.Turns || along(positions[0]) < leastForceN {
		recheck = "Recheck: after 4 to 6 weeks (common practice), or after %s of travel, when the couple has fallen to half, %s N·mm. Measure again and reactivate."
		if !way.Turns {
			value = couple
		}
	}
	after, found := halfway(positions, way.left, value)
	if !found {
		return f.say("Recheck: after 4 to 6 weeks (common practice).")
	}
	return f.say(recheck, sheet.Number(after, 1)+way.unit(), sheet.Number(value(positions[0])/2, 2))
}

// leastForceN is a force below which a spring is one that turns a tooth and does not push.
const leastForceN = 0.02

// halfway returns the travel after which a value has first fallen to half of what it is at
// the start, between positions in proportion.
func halfway(positions []spring.Position, left, value func(spring.Position) float64) (travelled float64, found bool) {
	half := value(positions[0]) / 2
	for i := 1; i < len(positions); i++ {
		a, b := positions[i-1], positions[i]
		if va, vb := value(a), value(b); va > half && vb <= half {
			at := left(a) + (va-half)/(va-vb)*(left(b)-left(a))
			return left(positions[0]) - at, true
		}
	}
	return 0, false
}
