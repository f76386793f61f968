package export

import (
	"math"

	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/export/plane"
	"springwright/export/sheet"
	"springwright/export/words"
)

// travel is the way of the active slot as it is printed.
type travel struct{ spring.Travel }

func travelOf(s spring.Spring) travel { return travel{s.Travel()} }

// left is the travel left, mm, or degrees where the slot only turns.
func (t travel) left(p spring.Position) float64 { return t.printed(t.Left(p)) }

// printed is a way of the travel, mm or rad, in the unit that it is printed in.
func (t travel) printed(way float64) float64 {
	if t.Turns {
		return way / degree
	}
	return way
}

// decimals is how many the travel left is printed with.
func (t travel) decimals() int {
	if t.Turns {
		return 1
	}
	return 2
}

// unit stands behind a number of the travel.
func (t travel) unit() string {
	if t.Turns {
		return "°"
	}
	return " mm"
}

// besideStraight is the block that holds the spring against the straight wire: a table, and
// words where the straight wire has no figures.
type besideStraight struct {
	title, remark, words string
	table                sheet.Table
}

// straightBlock puts the block together; false where there is nothing to say.
func (p loadsPage) straightBlock() (besideStraight, bool) {
	positions := p.job.Evaluation.Record.Positions
	t := travelOf(p.job.Spring)
	if p.job.Straight == nil || t.None() {
		return besideStraight{}, false
	}
	active, anchor := int(p.job.Case.Teeth.Active), int(p.job.Case.Teeth.Anchor)
	columns := []sheet.Column{{WidthMM: 21}}
	column := func(head string) {
		columns = append(columns, sheet.Column{Head: head, WidthMM: 14, Align: sheet.Right})
	}
	if t.Turns {
		column(p.say("turning %d\nN·mm", active))
		column(p.say("turning %d\nN·mm", anchor))
	} else {
		column(p.say("along travel\nN"))
		column(p.say("couple %d\nN·mm", active))
		column(p.say("couple %d\nN·mm", anchor))
	}
	column(p.say("stress\nto yield"))
	if t.Turns {
		column(p.say("lost per °\nN·mm"))
	} else {
		column(p.say("lost per mm\nN"))
	}
	b := besideStraight{
		title:  p.say("Beside a straight wire"),
		remark: p.say("At the start. Same wire, tied into both slots, free to slide in the active one."),
		table:  sheet.Table{Columns: columns, RowMM: loadRowMM},
	}
	if p.job.Straight.Spring.ActiveHold.Hook {
		b.remark = p.say("At the start. Same wire, tied at the anchor, hooked at the active tooth, free to slide.")
	}
	b.remark += " " + p.say("Along the travel +, against it −.")
	if !t.Turns {
		b.remark += " " + p.say("Couples: crown-mesial +.")
	}
	b.table.Rows = append(b.table.Rows, p.straightRow(p.say("this spring"), t, positions))
	straight := *p.job.Straight
	length := travelText(p.words, t, t.left(positions[0]))
	switch reach := t.printed(straight.ElasticLeft()); {
	case straight.Superelastic:
		b.words = p.say("Straight wire: no figures here, for a superelastic wire has loads that depend on the way it went.")
	case straight.Unsolved || len(straight.Positions) == 0:
		b.words = p.say("Straight wire: no figures, for no equilibrium was found for it in these slots.")
	case straight.Yields() && reach > 0:
		b.words = p.say("Straight wire: it yields, and has no figures. It stays elastic for no more than %s of the travel of %s.", travelText(p.words, t, reach), length)
	case straight.Yields():
		b.words = p.say("Straight wire: it yields, and has no figures. It does not stay elastic over any of the travel of %s.", length)
	default:
		b.table.Rows = append(b.table.Rows, p.straightRow(p.say("straight wire"), t, straight.Positions))
		if straight.Rests() {
			b.words = p.say("The straight wire slides through its slot and does nothing here.")
		}
	}
	return b, true
}

// travelText is a length or an angle of the travel with its unit.
func travelText(words *words.Book, t travel, left float64) string {
	return words.Number(left, t.decimals()) + t.unit()
}

// straightRow is what a wire does at the start, the most that it is stressed, and what it
// loses on the way.
func (p loadsPage) straightRow(name string, t travel, positions []spring.Position) []string {
	mesial := p.job.Case.Teeth.ClinicalSign(tooth.CoupleY)
	first, last := positions[0], positions[len(positions)-1]
	values := []float64{t.Along(first.Active)}
	if t.Turns {
		values = append(values, t.Along(first.Anchor))
	} else {
		values = append(values, mesial*first.Active.CoupleNMM.Y, mesial*first.Anchor.CoupleNMM.Y)
	}
	values = append(values, greatestStress(positions), (t.Along(first.Active)-t.Along(last.Active))/t.left(first))
	row := []string{name}
	for _, v := range values {
		row = append(row, p.words.Number(v, 2))
	}
	return row
}

func greatestStress(positions []spring.Position) float64 {
	most := 0.0
	for _, p := range positions {
		most = math.Max(most, p.StressRatio)
	}
	return most
}

const straightHeadMM = 4.8 // the block's title

func (b besideStraight) heightMM(f *flow, widthMM float64) float64 {
	height := straightHeadMM + f.doc.HeightOf(b.remark, widthMM, sheet.Style{SizePt: sheet.SmallPt}) + b.table.HeightMM()
	if b.words != "" {
		height += 1.2 + f.doc.HeightOf(b.words, widthMM, sheet.Style{SizePt: sheet.BodyPt})
	}
	return height
}

func (b besideStraight) draw(f *flow, at plane.Point, widthMM float64) {
	head := sheet.Style{SizePt: sheet.HeadPt, Bold: true}
	f.page.Text(plane.Point{X: at.X, Y: at.Y - head.CapMM()}, b.title, head)
	at.Y -= straightHeadMM
	at.Y -= f.page.Paragraph(at, widthMM, b.remark, sheet.Style{SizePt: sheet.SmallPt})
	b.table.Draw(f.page, at)
	if b.words != "" {
		at.Y -= b.table.HeightMM() + 1.2
		f.page.Paragraph(at, widthMM, b.words, sheet.Style{SizePt: sheet.BodyPt})
	}
}
