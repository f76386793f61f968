package export

import (
	"slices"

	"springwright/design/effect"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/export/plane"
	"springwright/export/sheet"
)

// candidatesInTable is how many candidates fit side by side.
const candidatesInTable = 3

// tables prints what drives the travel, couples and geometry class.
func (p comparisonPage) tables(f *flow) {
	for some := range slices.Chunk(p.Candidates, candidatesInTable) {
		p.table(f, some)
	}
}

// comparedColumn is a column of the table of loads that every candidate has.
type comparedColumn struct {
	sheet.Column
	text func(spring.Position) string
}

// comparedColumns are those of each candidate, and what the signs mean.
func (p comparisonPage) comparedColumns() (columns []comparedColumn, remark string) {
	teeth := p.Case.Teeth
	active, anchor := teeth.ActiveMember(), teeth.AnchorMember()
	add := func(head string, widthMM float64, compared effect.Compared, load func(spring.Position) tooth.Load) {
		columns = append(columns, comparedColumn{
			sheet.Column{Head: head, WidthMM: widthMM, Align: sheet.Right},
			func(at spring.Position) string { return p.words.Number(compared.Of(load(at)), 2) },
		})
	}
	list := effect.ComparedLoads(p.Case)
	main, tipping := list[0], list[len(list)-1]
	if main.Component.Couple() {
		add(p.say("turning %d\nN·mm", int(active.Number)), 19, main, onActive)
		add(p.say("turning %d\nN·mm", int(anchor.Number)), 19, main, onAnchor)
		remark = p.say("Couples along the turn: on active tooth %d, %s +; on anchor tooth %d, %s +.",
			int(active.Number), p.words.Sense(active, main.Component, main.Sign), int(anchor.Number), p.words.Sense(anchor, main.Component, main.Sign))
	} else {
		add(p.say("force\nN"), 12, main, onActive)
		add(p.say("couple %d\nN·mm", int(active.Number)), 14, tipping, onActive)
		add(p.say("couple %d\nN·mm", int(anchor.Number)), 14, tipping, onAnchor)
		remark = p.say("Force: on active tooth %d, %s +; tooth %d feels the opposite. Couples: crown-mesial +.",
			int(active.Number), p.words.Sense(active, main.Component, main.Sign), int(anchor.Number))
	}
	if !hasClass(list) {
		return columns, remark
	}
	return append(columns, comparedColumn{
		sheet.Column{Head: p.say("class"), WidthMM: 11},
		func(p spring.Position) string { return effect.ClassOf(p).String() },
	}), remark
}

// hasClass tells whether the geometry class is told: it is about the couples that tip, and
// has no place beside those that turn a tooth otherwise.
func hasClass(list []effect.Compared) bool { return !list[0].Component.Couple() || len(list) == 1 }

func (p comparisonPage) table(f *flow, candidates []effect.Candidate) {
	way := p.travel()
	columns, remark := p.comparedColumns()
	const leftMM = 16.0
	table := sheet.Table{Columns: []sheet.Column{{Head: f.say("travel left\nmm"), WidthMM: leftMM, Align: sheet.Right}}}
	if way.Turns {
		table.Columns[0].Head = f.say("travel left\ndegrees")
	}
	eachMM := 0.0
	for _, c := range columns {
		eachMM += c.WidthMM
	}
	var places []spring.Position
	for _, c := range candidates {
		for _, own := range columns {
			table.Columns = append(table.Columns, own.Column)
		}
		if len(places) == 0 {
			places = c.Positions()
		}
	}
	for i, place := range places {
		row := []string{p.words.Number(way.left(place), way.decimals())}
		for _, c := range candidates {
			for _, own := range columns {
				text := "–"
				if c.Withheld == nil {
					text = own.text(c.Positions()[i])
				}
				row = append(row, text)
			}
		}
		table.Rows = append(table.Rows, row)
	}
	bold := sheet.Style{SizePt: sheet.BodyPt, Bold: true}
	for rows := table.Rows; len(rows) > 0; {
		f.need(9 + table.HeadMM() + 4.3*float64(min(len(rows), 3)))
		f.heading(f.say("Loads"), remark)
		at := f.take(bold.LineMM())
		for i, c := range candidates {
			x := at.X + leftMM + float64(i)*eachMM + 5
			f.page.Text(plane.Point{X: x, Y: at.Y - bold.CapMM()}, f.doc.Fit(f.words.Candidate(c), eachMM-5, bold), bold)
		}
		table.Rows = rows[:min(len(rows), max(1, table.RowsIn(f.leftMM())))]
		rows = rows[len(table.Rows):]
		table.Draw(f.page, f.take(table.HeightMM()+3.5))
	}
}
