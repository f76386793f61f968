package export

import (
	"fmt"
	"math"
	"strings"

	"springwright/design/target"
	"springwright/export/plane"
	"springwright/export/sheet"
	"springwright/export/words"
)

// checkText is a check of the design in words.
type checkText struct {
	text string
	met  bool
}

// checkList is the checks of a design.
type checkList struct{ *subject }

// checkTexts says what a design was held against: every window of its target, the wire's stress,
// the room in the mouth and what pliers need. None where nobody has held it against a target.
func (c checkList) checkTexts() []checkText {
	verdict := c.job.Evaluation.Record.Verdict
	if verdict == nil {
		return nil
	}
	var list []checkText
	put := func(name, value, limit string, met bool) {
		text := words.Capital(c.say("%s %s (limit %s).", name, value, limit))
		if !met {
			text = c.say("%s: %s %s (limit %s).", c.say("NOT MET"), name, value, limit)
		}
		list = append(list, checkText{text, met})
	}
	for _, v := range c.job.Case.Verdicts(c.job.Evaluation.Record) {
		name, value, limit := c.words.Verdict(c.job.Case, v)
		put(name, value, limit, v.Met)
	}
	if c.job.Teeth != nil {
		for _, v := range c.job.Teeth.AnchorVerdicts(c.job.Case.Target) {
			name, value, limit := c.words.LimitVerdict(v)
			put(name, value, limit, v.Met)
		}
	}
	stress, allowed := 0.0, c.job.Case.Limits.StressRatio()
	for _, p := range c.job.Evaluation.Record.Positions {
		stress = max(stress, p.StressRatio)
	}
	put(c.say("stress over yield"), c.say("at most %s", c.words.Number(stress, 2)), c.say("at most %s", c.words.Number(allowed, 2)), stress <= allowed)
	var beyond []string
	for _, e := range verdict.Exceeded {
		switch e.Limit {
		case target.StressLimit, target.TravelLimit, target.AnchorLossLimit, target.AnchorTipLimit: // no room
		default:
			beyond = append(beyond, c.words.Excess(e))
		}
	}
	value := c.say("kept")
	if len(beyond) > 0 {
		value = strings.Join(beyond, ", ")
	}
	put(c.say("room in the mouth"), value, c.say("as measured"), len(beyond) == 0)
	if value, met, ok := c.straightWords(); ok {
		put(c.say("straight between bends"), value, c.say("at least %s", c.words.Millimetres(c.job.Case.Limits.ShortestStraightMM)+" mm"), met)
	}
	return list
}

// straightWords say the shortest straight between two bends or twists, and where one is
// shorter than pliers need. The search keeps that for the straights of a pattern, but bends
// out of its plane and twists are set as close to the others as they come. It is not ok where
// nothing is asked or there are no two bends.
func (c checkList) straightWords() (words string, met, ok bool) {
	if c.job.Case.Limits.ShortestStraightMM <= 0 || len(c.bends.Rows) < 2 {
		return "", false, false
	}
	shortest := math.Inf(1)
	var short []string
	for _, r := range c.bends.Rows[1:] {
		if c.atOnePlace(r) {
			continue
		}
		shortest = min(shortest, r.FeedMM)
		if c.short(r) {
			short = append(short, fmt.Sprint(r.Step))
		}
	}
	if math.IsInf(shortest, 1) { // all bends are at one place
		return "", false, false
	}
	words = c.say("at least %s", c.words.Millimetres(shortest)+" mm")
	if len(short) > 0 {
		words = c.say("down to %s mm; pliers cannot hold between the bends in front of bend %s", c.words.Millimetres(shortest), strings.Join(short, ", "))
	}
	return words, len(short) == 0, true
}

const checksApartMM = 6.0 // between the two columns

// lines are the checks of the design in two columns.
func (c checkList) lines(f *flow) (lines [2][]checkLine) {
	width := (f.area.Width() - checksApartMM) / 2
	all := c.checkTexts()
	for i, c := range all {
		s := sheet.Style{SizePt: sheet.SmallPt, Bold: !c.met}
		column := 2 * i / max(2, len(all)+len(all)%2)
		for _, line := range f.doc.Wrap(c.text, width, s) {
			lines[column] = append(lines[column], checkLine{line, !c.met})
		}
	}
	return lines
}

// heightMM is what the checks take.
func (c checkList) heightMM(f *flow) float64 {
	lines := c.lines(f)
	rows := max(len(lines[0]), len(lines[1]))
	if rows == 0 {
		return 0
	}
	return headingMM + float64(rows)*sheet.Style{SizePt: sheet.SmallPt}.LineMM()
}

// draw lists the checks of the design.
func (c checkList) draw(f *flow) {
	height := c.heightMM(f)
	if height == 0 {
		return
	}
	small := sheet.Style{SizePt: sheet.SmallPt}
	f.need(height)
	f.heading(f.say("Checks"), f.say("met as drawn, unless marked NOT MET"))
	at := f.take(height - headingMM + 2)
	for _, column := range c.lines(f) {
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
