package export

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"springwright/design/notice"
	"springwright/design/wire"
	"springwright/export/bend"
	"springwright/export/sheet"
)

// stepsPage holds the straight wire at true size, the bend table, what to mind, and where the
// free end must come to lie.
type stepsPage struct{ bendTexts }

func (p stepsPage) draw(f *flow) error {
	f.newPage("Bend steps")
	strip{p.subject}.draw(f)
	t := p.bendTable()
	t.Fill(len(t.Columns)-1, f.area.Width())
	rows := t.Rows
	for len(rows) > 0 {
		f.need(headingMM + t.HeadMM() + 20)
		f.heading(f.say("Bend steps"), p.columnsText())
		t.Rows = rows[:min(len(rows), t.RowsIn(f.leftMM()))]
		rows = rows[len(t.Rows):]
		t.Draw(f.page, f.take(t.HeightMM()))
	}
	f.take(2.5)
	bold, body := sheet.Style{SizePt: sheet.BodyPt, Bold: true}, sheet.Style{SizePt: sheet.BodyPt}
	f.block(lengthsText(f.words, p.bends), bold)
	for _, text := range p.bendCautions() {
		f.block(text, bold)
	}
	f.block(p.waysText(), body)
	f.block(p.orderText(), body)
	for _, text := range (notices{p.subject}).instructions(notice.Bending) {
		f.block(text, body)
	}
	f.take(1.5)
	if !p.planar() {
		handSteps(p).draw(f)
	}
	free := freeEndCheck{p.subject}
	f.need(free.heightMM(f))
	free.draw(f)
	for _, text := range p.activationTexts() {
		f.block(text, body)
	}
	return nil
}

// bendTexts say how the wire is bent, step by step.
type bendTexts struct{ *subject }

// columnsText explains the columns.
func (b bendTexts) columnsText() string {
	return b.say("Over: wire that the bend takes up. Bend to: held, before it springs back. Pliers: inside radius.")
}

// waysText explains the words of the columns.
func (b bendTexts) waysText() string {
	if len(b.bends.Rows) == 0 {
		return b.say("No bends: the spring is the straight wire.")
	}
	text := b.say("Left and right: seen from the cheek, following the wire from the anchor slot.")
	if slices.ContainsFunc(b.bends.Rows, func(r bend.Row) bool { return !r.Twist && !r.InView }) {
		text += " " + b.say("To a side: where the bend goes in the finished spring.")
	}
	if b.twists() {
		text += " " + b.say("Twists: clockwise for somebody who looks along the wire from the anchor slot; without allowance for springing back.")
	}
	if !b.planar() {
		text += " " + b.say("Line: where the pen line on the wire's top faces while the rest is bent up.")
	}
	return text + " " + b.say("Bend to is for a wire that yields all at once: try it on a piece of the same wire.")
}

// twists tells whether the wire is twisted anywhere.
func (s *subject) twists() bool {
	return slices.ContainsFunc(s.bends.Rows, func(r bend.Row) bool { return r.Twist })
}

// bendCautions names bends that are hard to set and straights that pliers hardly hold.
func (b bendTexts) bendCautions() []string {
	var shallow, short, upon []string
	for _, r := range b.bends.Rows {
		if r.Shallow() {
			shallow = append(shallow, fmt.Sprint(r.Step))
		}
		if b.short(r) {
			short = append(short, fmt.Sprint(r.Step))
		}
		if b.atOnePlace(r) {
			upon = append(upon, fmt.Sprint(r.Step))
		}
	}
	var texts []string
	if len(shallow) > 0 {
		texts = append(texts, b.say("Below %s: bend %s. Set by laying the wire on the template, not by the angle.", b.words.Degrees(bend.ShallowRad), strings.Join(shallow, ", ")))
	}
	if len(short) > 0 {
		texts = append(texts, b.say("Less than %s mm of straight in front, little for pliers to hold: bend %s.", b.words.Millimetres(b.job.Case.Limits.ShortestStraightMM), strings.Join(short, ", ")))
	}
	if len(upon) > 0 {
		texts = append(texts, b.say("Begins where the bend before it ends, no straight between: bend %s. Set the pliers close against that bend.", strings.Join(upon, ", ")))
	}
	return texts
}

// short tells whether the straight in front of a bend is too short for pliers. Where there is none at all
// they are set against the bend before it (common practice).
func (s *subject) short(r bend.Row) bool {
	return r.Step > 1 && r.FeedMM > 0 && r.FeedMM < s.job.Case.Limits.ShortestStraightMM-1e-9
}

// atOnePlace tells whether a bend begins where the one before it ends.
func (s *subject) atOnePlace(r bend.Row) bool { return r.Step > 1 && r.FeedMM == 0 }

// lineColumn is the column of the bend table that a flat spring does without.
const lineColumn = 4

func (b bendTexts) bendTable() sheet.Table {
	t := sheet.Table{Columns: []sheet.Column{
		{Head: b.say("step"), WidthMM: 8, Align: sheet.Right},
		{Head: b.say("mark\nmm"), WidthMM: 12, Align: sheet.Right},
		{Head: b.say("feed\nmm"), WidthMM: 11, Align: sheet.Right},
		{Head: b.say("over\nmm"), WidthMM: 10, Align: sheet.Right},
		{Head: b.say("line"), WidthMM: 13, Align: sheet.Right},
		{Head: b.say("angle"), WidthMM: 12, Align: sheet.Right},
		{Head: b.say("bend to"), WidthMM: 14, Align: sheet.Right},
		{Head: b.say("way"), WidthMM: 20, Align: sheet.Right},
		{Head: b.say("radius\nmm"), WidthMM: 10, Align: sheet.Right},
		{Head: b.say("pliers\nmm"), WidthMM: 10, Align: sheet.Right},
		{WidthMM: 1.5},
		{Head: b.say("note")},
	}}
	flat := b.planar()
	cells := func(row ...string) []string {
		if flat {
			row = slices.Delete(row, lineColumn, lineColumn+1)
		}
		return row
	}
	if flat {
		t.Columns = slices.Delete(t.Columns, lineColumn, lineColumn+1)
	}
	steps := b.steps()
	for _, r := range b.bends.Rows {
		to, note := b.bendTo(r, steps[r.PathStep].Order)
		t.Rows = append(t.Rows, cells(
			fmt.Sprint(r.Step), b.words.Number(r.MarkMM, 2), b.words.Number(r.FeedMM, 2), b.words.Number(r.ArcMM, 2),
			b.facingText(r.Line), bendText(b.words, r), to, wayText(b.words, r),
			radiusText(b.words, r), b.pliersText(r, steps[r.PathStep].Order), "", note,
		))
	}
	end := b.say("enters the active slot")
	if b.bends.Hooked {
		end = b.say("hook here, at tooth %d", int(b.job.Case.Teeth.Active))
	}
	t.Rows = append(t.Rows, cells(
		endMark, b.words.Number(b.bends.DevelopedMM, 2), b.words.Number(b.bends.EndFeedMM, 2),
		"", "", "", "", "", "", "", "", end,
	))
	return t
}

// bendTo is the angle that a bend is held at before it springs back, and the row's note; a
// twist, which is not held back for, is named in its place.
func (b bendTexts) bendTo(r bend.Row, order int) (angle, note string) {
	note = b.say("then runs %s", directionText(b.words, r.Direction))
	if r.Twist {
		return b.say("twist"), note
	}
	rad, err := b.job.Spring.Wire.OverbendRad(r.BendRad, r.RadiusMM, order)
	switch {
	case errors.Is(err, wire.ErrElasticBend):
		return "–", b.say("springs back straight at this radius")
	case err != nil:
		return "–", note
	}
	return b.words.Number(rad/degree, 0) + "°", note
}

// pliersText is the inside radius of a bend.
func (b bendTexts) pliersText(r bend.Row, order int) string {
	if r.Twist {
		return "–"
	}
	across := b.job.Spring.Wire.HeightMM()
	if order == 1 {
		across = b.job.Spring.Wire.DepthMM()
	}
	inside := r.RadiusMM - across/2
	if inside <= 0 {
		return b.say("sharp")
	}
	return b.words.Number(inside, 2)
}
