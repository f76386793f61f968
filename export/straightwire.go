package export

import (
	"context"
	"math"

	"springwright/design"
	"springwright/design/effect"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/export/plane"
	"springwright/export/sheet"

	"gonum.org/v1/gonum/spatial/r3"
)

// StraightWire is a straight wire of a spring's section and alloy, held at both ends as the
// spring is over the same travel, to be held against it on the page of loads.
type StraightWire struct {
	Spring spring.Spring
	// Positions are elastic figures over the travel; none where there are no figures.
	Positions []spring.Position
	// Superelastic and Unsolved say why there are none: the loads of a superelastic wire
	// depend on the way it went, or no equilibrium was found.
	Superelastic, Unsolved bool
}

// NewStraightWire solves the straight wire of a case as an elastic one, which takes no
// longer than the search takes for one spring. The error is that of ctx.
func NewStraightWire(ctx context.Context, c design.Case, s spring.Spring) (*StraightWire, error) {
	straight := &StraightWire{Spring: effect.StraightSpring(c, "", s.Wire).Tied()}
	if s.Wire.IsSuperelastic() {
		straight.Superelastic = true
		return straight, nil
	}
	straight.Spring.Wire.TangentMPa = 0 // no history: beyond yield there are no figures here
	e, err := solve.Evaluate(ctx, straight.Spring, solve.Options{AllowYield: true})
	if stopped := ctx.Err(); stopped != nil {
		return nil, stopped
	}
	straight.Unsolved = err != nil
	straight.Positions = e.Record.Positions
	return straight, nil
}

// yields tells whether the straight wire yields anywhere on the travel: its first seat then
// sets it permanently, and elastic figures hold nowhere.
func (s StraightWire) yields() bool {
	for _, p := range s.Positions {
		if p.StressRatio > 1 {
			return true
		}
	}
	return false
}

// rests tells whether the straight wire does nothing that would show on a gauge.
func (s StraightWire) rests() bool {
	const leastN, leastNMM = 0.005, 0.005 // what prints as zero
	first := s.Positions[0]
	return max(r3.Norm(first.Active.ForceN), r3.Norm(first.Anchor.ForceN)) < leastN &&
		max(r3.Norm(first.Active.CoupleNMM), r3.Norm(first.Anchor.CoupleNMM)) < leastNMM
}

// elastic is the longest way before the end of the travel that the wire takes without
// yielding, in the unit of the travel, between positions in proportion.
func (s StraightWire) elastic(t travel) float64 {
	reach := 0.0
	for i := len(s.Positions) - 1; i >= 0; i-- {
		p := s.Positions[i]
		if p.StressRatio > 1 {
			if i == len(s.Positions)-1 {
				return 0
			}
			next := s.Positions[i+1]
			share := (p.StressRatio - 1) / (p.StressRatio - next.StressRatio)
			return t.left(p) + share*(t.left(next)-t.left(p))
		}
		reach = t.left(p)
	}
	return reach
}

// travel is the way of the active slot as it is printed.
type travel struct{ spring.Travel }

func travelOf(s spring.Spring) travel { return travel{s.Travel()} }

// left is the travel left, mm, or degrees where the slot only turns.
func (t travel) left(p spring.Position) float64 {
	if t.Turns {
		return t.Left(p) / degree
	}
	return t.Left(p)
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
func (f *flow) straightBlock() (besideStraight, bool) {
	positions := f.job.Evaluation.Record.Positions
	t := travelOf(f.job.Spring)
	if f.job.Straight == nil || t.None() {
		return besideStraight{}, false
	}
	active, anchor := int(f.job.Case.Teeth.Active), int(f.job.Case.Teeth.Anchor)
	columns := []sheet.Column{{WidthMM: 21}}
	column := func(head string) {
		columns = append(columns, sheet.Column{Head: head, WidthMM: 14, Align: sheet.Right})
	}
	if t.Turns {
		column(f.say("turning %d\nN·mm", active))
		column(f.say("turning %d\nN·mm", anchor))
	} else {
		column(f.say("along travel\nN"))
		column(f.say("couple %d\nN·mm", active))
		column(f.say("couple %d\nN·mm", anchor))
	}
	column(f.say("stress\nto yield"))
	if t.Turns {
		column(f.say("lost per °\nN·mm"))
	} else {
		column(f.say("lost per mm\nN"))
	}
	b := besideStraight{
		title:  f.say("Beside a straight wire"),
		remark: f.say("At the start. Same wire, tied into both slots, free to slide in the active one."),
		table:  sheet.Table{Columns: columns, RowMM: loadRowMM},
	}
	if f.job.Straight.Spring.ActiveHold.Hook {
		b.remark = f.say("At the start. Same wire, tied at the anchor, hooked at the active tooth, free to slide.")
	}
	b.remark += " " + f.say("Along the travel +, against it −.")
	if !t.Turns {
		b.remark += " " + f.say("Couples: crown-mesial +.")
	}
	b.table.Rows = append(b.table.Rows, f.straightRow(f.say("this spring"), t, positions))
	straight := *f.job.Straight
	length := travelText(t, t.left(positions[0]))
	switch reach := straight.elastic(t); {
	case straight.Superelastic:
		b.words = f.say("Straight wire: no figures here, for a superelastic wire has loads that depend on the way it went.")
	case straight.Unsolved || len(straight.Positions) == 0:
		b.words = f.say("Straight wire: no figures, for no equilibrium was found for it in these slots.")
	case straight.yields() && reach > 0:
		b.words = f.say("Straight wire: it yields, and has no figures. It stays elastic for no more than %s of the travel of %s.", travelText(t, reach), length)
	case straight.yields():
		b.words = f.say("Straight wire: it yields, and has no figures. It does not stay elastic over any of the travel of %s.", length)
	default:
		b.table.Rows = append(b.table.Rows, f.straightRow(f.say("straight wire"), t, straight.Positions))
		if straight.rests() {
			b.words = f.say("The straight wire slides through its slot and does nothing here.")
		}
	}
	return b, true
}

// travelText is a length or an angle of the travel with its unit.
func travelText(t travel, left float64) string { return sheet.Number(left, t.decimals()) + t.unit() }

// straightRow is what a wire does at the start, the most that it is stressed, and what it
// loses on the way.
func (f *flow) straightRow(name string, t travel, positions []spring.Position) []string {
	mesial := f.job.Case.Teeth.ClinicalSign(tooth.CoupleY)
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
		row = append(row, sheet.Number(v, 2))
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

func (f *flow) straightHeightMM(b besideStraight, widthMM float64) float64 {
	lines := func(text string, s sheet.Style) float64 {
		return float64(len(f.doc.Wrap(text, widthMM, s))) * s.LineMM()
	}
	height := straightHeadMM + lines(b.remark, sheet.Style{SizePt: sheet.SmallPt}) + b.table.HeightMM()
	if b.words != "" {
		height += 1.2 + lines(b.words, sheet.Style{SizePt: sheet.BodyPt})
	}
	return height
}

func (f *flow) drawStraight(b besideStraight, at plane.Point, widthMM float64) {
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
