package export

import (
	"math"
	"slices"

	"springwright/design/notice"
	"springwright/design/spring"
	"springwright/export/plane"
	"springwright/export/sheet"
	"springwright/export/words"
)

// sketchAndChecks lays out the free-body sketch beside what the chair needs to know of the loads,
// and under them the checks of the design and the warnings.
func (p loadsPage) sketchAndChecks(f *flow) {
	const apart = 5.0
	bold := sheet.Style{SizePt: sheet.BodyPt, Bold: true}
	sketch, checks := freeBodyOf(p.subject), checkList{p.subject}
	column := chairColumn{widthMM: f.area.Width() - sketchWidthMM - apart, texts: p.chairTexts()}
	column.beside, column.compared = p.straightBlock()
	height := math.Max(column.heightMM(f), sketch.heightMM(f))
	// Warnings fill the column, the others stand at the end.
	warnings := notices{p.subject}.warnings()
	for len(warnings) > 0 && column.heightMM(f)+column.textMM(f, checkLine{warnings[0], true}) <= height {
		column.texts, warnings = append(column.texts, checkLine{warnings[0], true}), warnings[1:]
	}
	if p.together {
		more := checks.heightMM(f)
		for _, text := range warnings {
			more += f.blockMM(text, bold)
		}
		f.need(height + more + 2)
	}
	f.need(height)

	top := f.yMM
	f.heading(f.say("At the start"), sketch.remark())
	sketch.draw(f, plane.Box{
		Min: plane.Point{X: f.area.Min.X, Y: top - height},
		Max: plane.Point{X: f.area.Min.X + sketchWidthMM, Y: f.yMM},
	})
	column.draw(f, plane.Point{X: f.area.Min.X + sketchWidthMM + apart, Y: top})
	f.yMM = top - height - 2
	checks.draw(f)
	for _, text := range warnings {
		f.block(text, bold)
	}
}

// chairTexts are what the chair needs to know of the loads.
func (p loadsPage) chairTexts() []checkLine {
	texts := []checkLine{{gaugeCheck{p.subject}.gaugeText(), false}, {p.recheckText(), false}}
	for _, text := range (notices{p.subject}).instructions(notice.Tying) {
		texts = append(texts, checkLine{text, false})
	}
	return texts
}

// chairColumn is what stands beside the sketch: texts, and the spring beside a straight wire.
type chairColumn struct {
	widthMM  float64
	texts    []checkLine
	beside   besideStraight
	compared bool // there is something to say beside a straight wire
}

func (c chairColumn) textMM(f *flow, t checkLine) float64 {
	return f.doc.HeightOf(t.text, c.widthMM, sheet.Style{SizePt: sheet.BodyPt, Bold: t.bold}) + 1.5
}

func (c chairColumn) heightMM(f *flow) float64 {
	height := headingMM
	for _, text := range c.texts {
		height += c.textMM(f, text)
	}
	if c.compared {
		height += c.beside.heightMM(f, c.widthMM)
	}
	return height
}

func (c chairColumn) draw(f *flow, at plane.Point) {
	head := sheet.Style{SizePt: sheet.HeadPt, Bold: true}
	f.page.Text(plane.Point{X: at.X, Y: at.Y - head.CapMM()}, f.say("At the chair"), head)
	at.Y -= headingMM
	for _, text := range c.texts {
		at.Y -= f.page.Paragraph(at, c.widthMM, text.text, sheet.Style{SizePt: sheet.BodyPt, Bold: text.bold}) + 1.5
	}
	if c.compared {
		c.beside.draw(f, at, c.widthMM)
	}
}

// notices are the warnings about a spring.
type notices struct{ *subject }

// warnings are the texts of those that are not written yet.
func (n notices) warnings() []string {
	if n.told.warnings {
		return nil
	}
	var texts []string
	for _, w := range n.job.Evaluation.Warnings {
		if n.instructed(w) {
			continue
		}
		said, hint := n.words.Notice(w)
		text := n.say("Warning: %s.", said)
		if hint != "" {
			text += " " + words.Capital(hint) + "."
		}
		texts = append(texts, text)
	}
	return texts
}

// instructed tells whether a page is laid out for the work that a warning is about: it stands
// there, once, as what to do and why, and not as a warning that is on nearly every sheet.
func (n notices) instructed(w notice.Notice) bool {
	switch notice.WorkOf(w) {
	case notice.Bending:
		return slices.Contains(n.job.pages(), StepsPage)
	case notice.Tying:
		return slices.Contains(n.job.pages(), LoadsPage)
	}
	return false
}

// instructions say what to do at a kind of work, and then why.
func (n notices) instructions(at notice.Work) []string {
	var texts []string
	for _, w := range n.job.Evaluation.Warnings {
		if notice.WorkOf(w) == at && n.instructed(w) {
			text, hint := n.words.Notice(w)
			texts = append(texts, words.Capital(hint)+". "+words.Capital(text)+".")
		}
	}
	return texts
}

// warnHere writes the warnings, all of them or none, where the page has room.
func (n notices) warnHere(f *flow) {
	bold := sheet.Style{SizePt: sheet.BodyPt, Bold: true}
	texts := n.warnings()
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
	n.told.warnings = true
}

// recheckText says when to see the patient again.
func (p loadsPage) recheckText() string {
	positions := p.job.Evaluation.Record.Positions
	way := travelOf(p.job.Spring)
	along := func(p spring.Position) float64 { return math.Abs(way.Along(p.Active)) }
	couple := func(p spring.Position) float64 { return math.Abs(p.Active.CoupleNMM.Y) }
	value, recheck := along, words.Phrase("Recheck: after 4 to 6 weeks (common practice), or after %s of travel, when the force has fallen to half, %s N. Measure again and reactivate.")
	if way.None() || way.Turns || along(positions[0]) < leastForceN {
		recheck = "Recheck: after 4 to 6 weeks (common practice), or after %s of travel, when the couple has fallen to half, %s N·mm. Measure again and reactivate."
		if !way.Turns {
			value = couple
		}
	}
	after, found := halfway(positions, way.left, value)
	if !found {
		return p.say("Recheck: after 4 to 6 weeks (common practice).")
	}
	return p.say(recheck, p.words.Number(after, 1)+way.unit(), p.words.Number(value(positions[0])/2, 2))
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
