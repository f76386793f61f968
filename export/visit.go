package export

import (
	"math"
	"strings"

	"springwright/design/timeline"
	"springwright/export/plane"
	"springwright/export/sheet"
	"springwright/export/words"
)

// Visit is the page of a follow-up visit: what to do, and how both teeth have come so far.
type Visit struct {
	Frame
	Report timeline.Report
}

// VisitSheets returns the page as one PDF file and as one SVG file a page. Same input, same bytes. The error
// wraps ErrJob where it cannot be drawn.
func VisitSheets(v Visit) (file []byte, pages [][]byte, err error) {
	doc, err := v.compose()
	if err != nil {
		return nil, nil, err
	}
	w := words.NewBook(v.Language)
	return v.written(doc, strings.TrimSpace(w.Say("Visit %s", v.Report.Case.Code)), w.Say("Where both teeth stand, and what to do"))
}

func (v Visit) check() error {
	var found faults
	checkTeeth(v.Report.Case.Teeth, found.add)
	v.Frame.check(found.add)
	if len(v.Report.Points) == 0 {
		found.add("there is no visit to tell of")
	}
	for _, marks := range [...][]timeline.Mark{v.Report.Planned, v.Report.Fitted} {
		for _, m := range marks {
			if math.IsNaN(m.Days+m.Closed+m.Push) || math.IsInf(m.Days+m.Closed+m.Push, 0) {
				found.add("a number is not finite")
				return found.err()
			}
		}
	}
	return found.err()
}

func (v Visit) compose() (*sheet.Document, error) {
	if err := v.check(); err != nil {
		return nil, err
	}
	f, err := v.Frame.flow()
	if err != nil {
		return nil, err
	}
	f.top.head = headOf(f.words, v.Report.Case, f.say("An estimate for the prescriber, made from what was measured."))
	v.draw(f)
	return f.finished()
}

const (
	visitChartMM, lowVisitChartMM = 50.0, 34.0
	lowVisitRowMM                 = 3.4
	visitHeadlinePt               = 13
	visitChartsApart              = 4.0
)

// draw lays out all on one page if it can be, with less room where that helps.
func (v Visit) draw(f *flow) {
	text := VisitTextOf(v.Report, v.Language)
	f.onOnePage(
		func() { visitPage{v, text, visitChartMM, 0}.draw(f) },
		func() { visitPage{v, text, lowVisitChartMM, lowVisitRowMM}.draw(f) },
	)
}

// visitPage is the page with so much room for charts and rows.
type visitPage struct {
	Visit
	text           VisitText
	chartMM, rowMM float64
}

func (v visitPage) draw(f *flow) {
	text := v.text
	f.newPage("Visit")
	body := sheet.Style{SizePt: sheet.BodyPt}
	f.heading(f.say("Visit %d, %s", v.Report.Points[len(v.Report.Points)-1].Visit.Number, isoDay(v.Report.Points[len(v.Report.Points)-1].Visit.Date)), "")
	f.block(text.Headline, sheet.Style{SizePt: visitHeadlinePt, Bold: true})
	for _, line := range append(append([]string{}, text.Todo...), text.Why...) {
		f.block(line, body)
	}
	f.take(1)
	v.table(f, f.say("Where the slots stand"), text.WhereNote, text.Where, []float64{6, 27, 34, 48, 38, 0})
	v.charts(f)
	v.table(f, f.say("What the spring gives now"), text.LoadsNote, text.Loads, []float64{27, 44, 27, 44, 0})
	if len(text.Anchor)+len(text.Doubts) > 0 {
		lines := append(append([]string{}, text.Anchor...), text.Doubts...)
		f.need(headingMM + f.blockMM(lines[0], body))
		f.heading(f.say("The anchor"), "")
		for _, line := range lines {
			f.block(line, body)
		}
		f.take(1)
	}
	v.table(f, f.say("Visits"), "", text.History, []float64{6, 20, 14, 18, 18, 34, 0})
	if len(text.Fits) > 0 {
		told, small := strings.Join(text.Fitted, " "), sheet.Style{SizePt: sheet.SmallPt}
		height := headingMM + float64(len(text.Fits)+1)*max(v.rowMM, lowVisitRowMM) + f.blockMM(text.FitsNote, small)
		if told != "" {
			height += f.blockMM(told, body)
		}
		f.need(height)
		v.table(f, f.say("What was guessed, and what the movement tells"), "", text.Fits, []float64{92, 34, 0})
		f.block(told, body)
		f.block(text.FitsNote, small)
	}
}

// table lays out rows under a heading, the last column as wide as what is left; none where there are no rows.
func (v visitPage) table(f *flow, title, remark string, rows [][]string, widths []float64) {
	if len(rows) < 2 {
		return
	}
	t := sheet.Table{Rows: rows[1:], RowMM: v.rowMM}
	for i, head := range rows[0] {
		t.Columns = append(t.Columns, sheet.Column{Head: head, WidthMM: widths[i]})
	}
	t.Fill(len(widths)-1, f.area.Width())
	f.need(headingMM + t.HeightMM() + 2)
	f.heading(title, remark)
	t.Draw(f.page, f.take(t.HeightMM()+3))
}

// charts draw the way that is done, and what drives it, over the weeks.
func (v visitPage) charts(f *flow) {
	r := v.Report
	week := func(days float64) float64 { return days / 7 }
	unit, inUnit := "mm", 1.0
	push := "N"
	if r.Turns {
		unit, inUnit, push = f.say("degrees"), 1/degree, "N·mm"
	}
	until := 0.0
	last := r.Points[len(r.Points)-1]
	until = float64(last.Days) + min(r.Ahead.Days, 84)
	until = max(until, float64(last.Days+42))
	curve := func(marks []timeline.Mark, label string, dashMM float64, value func(timeline.Mark) float64) sheet.Series {
		s := sheet.Series{Label: label, Plain: true, Dashed: dashMM > 0, DashMM: dashMM}
		for _, m := range marks {
			if m.Days <= until+0.5 {
				s.Points = append(s.Points, plane.Point{X: week(m.Days), Y: value(m)})
			}
		}
		return s
	}
	closed := func(m timeline.Mark) float64 { return inUnit * m.Closed }
	pushes := func(m timeline.Mark) float64 { return m.Push }
	seen := sheet.Series{Label: f.say("measured"), Marks: true}
	for _, p := range r.Points {
		seen.Points = append(seen.Points, plane.Point{X: week(float64(p.Days)), Y: inUnit * p.Closed})
	}
	way := sheet.Chart{
		Title: f.say("Way done towards the goal"), XTitle: f.say("weeks since the spring was seated"), YTitle: unit, LabelMM: 19,
		Series: []sheet.Series{curve(r.Planned, f.say("planned"), 2, closed), curve(r.Fitted, f.say("as it moves"), 0.7, closed)},
		ToX:    []float64{week(until)},
	}
	if len(seen.Points) > 1 {
		way.Series = append(way.Series, seen)
	}
	goal := sheet.Series{Label: f.say("goal"), Plain: true, Points: []plane.Point{{X: 0, Y: inUnit * r.Way}, {X: week(until), Y: inUnit * r.Way}}}
	way.Series = append(way.Series, goal)
	title := f.say("Force towards the goal")
	if r.Turns {
		title = f.say("Couple towards the goal")
	}
	load := sheet.Chart{
		Title: title, XTitle: f.say("weeks since the spring was seated"), YTitle: push, LabelMM: 19,
		Series: []sheet.Series{curve(r.Planned, f.say("planned"), 2, pushes), curve(r.Fitted, f.say("as it moves"), 0.7, pushes)},
		ToX:    []float64{week(until)},
	}
	f.need(v.chartMM + 8)
	top := f.take(v.chartMM + 2)
	width := (f.area.Width() - visitChartsApart) / 2
	for i, c := range [...]sheet.Chart{way, load} {
		x := top.X + float64(i)*(width+visitChartsApart)
		c.Draw(f.page, plane.Box{Min: plane.Point{X: x, Y: top.Y - v.chartMM}, Max: plane.Point{X: x + width, Y: top.Y}})
	}
	f.paragraph(f.say("Planned: before anything was seen. As it moves: fitted to what was measured, and onwards."), sheet.Style{SizePt: sheet.SmallPt}, 3)
}
