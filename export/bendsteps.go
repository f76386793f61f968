package export

import (
	"fmt"
	"math"

	"springwright/export/bend"
	"springwright/export/label"
	"springwright/export/plane"
	"springwright/export/sheet"
)

const (
	stripRowMM     = 17.0
	stripHeadingMM = 6.5
)

// bendSteps lays out the bend table and the straight wire at true size.
func (f *flow) bendSteps() {
	t := f.bendTable()
	rows := t.Rows
	head := stripHeadingMM
	// All of it on one page where that can be, else the table over several.
	whole := head + t.HeightMM() + 6 + gapMM + f.stripHeightMM()
	if f.leftMM() < whole {
		f.newPage("Bend steps")
	}
	for len(rows) > 0 {
		f.heading("Bend steps", "Turn: about the wire's axis, from the apical side at the first bend. Left and right: seen from the cheek, following the wire from the anchor slot.")
		t.Rows = rows[:min(len(rows), t.RowsIn(f.leftMM()))]
		rows = rows[len(t.Rows):]
		height := t.HeightMM()
		t.Draw(f.page, f.take(height))
		if len(rows) > 0 {
			f.newPage("Bend steps, continued")
		}
	}
	f.need(6 + gapMM + f.stripHeightMM())
	at := f.take(2)
	at.Y -= 1.8
	f.take(f.page.Paragraph(at, f.area.Width(), lengthsText(f.bends), sheet.Style{SizePt: sheet.BodyPt, Bold: true}) + gapMM - 2)
	f.strip()
}

func (f *flow) bendTable() sheet.Table {
	t := sheet.Table{Columns: []sheet.Column{
		{Head: "step", WidthMM: 10, Align: sheet.Right},
		{Head: "mark\nmm", WidthMM: 15, Align: sheet.Right},
		{Head: "feed\nmm", WidthMM: 14, Align: sheet.Right},
		{Head: "turn", WidthMM: 13, Align: sheet.Right},
		{Head: "bend", WidthMM: 14, Align: sheet.Right},
		{Head: "seen from\nthe cheek", WidthMM: 23, Align: sheet.Right},
		{Head: "radius\nmm", WidthMM: 13, Align: sheet.Right},
		{Head: "arc\nmm", WidthMM: 13, Align: sheet.Right},
		{Head: "note", Align: sheet.Left},
	}}
	used := 0.0
	for _, c := range t.Columns {
		used += c.WidthMM
	}
	t.Columns[len(t.Columns)-1].WidthMM = f.area.Width() - used
	for _, r := range f.bends.Rows {
		t.Rows = append(t.Rows, []string{
			fmt.Sprint(r.Step), sheet.Number(r.MarkMM, 2), sheet.Number(r.FeedMM, 2), turnText(r), bendText(r), seenText(r),
			radiusText(r), sheet.Number(r.ArcMM, 2), f.noteText(r),
		})
	}
	t.Rows = append(t.Rows, []string{
		"end", sheet.Number(f.bends.DevelopedMM, 2), sheet.Number(f.bends.EndFeedMM, 2),
		"", "", "", "", "", "enters the active slot",
	})
	return t
}

// noteText is the note of a row, with a warning where the straight before it is too short
// for pliers.
func (f *flow) noteText(r bend.Row) string {
	note := r.Note()
	if shortest := f.job.Case.Limits.ShortestStraightMM; r.Step > 1 && r.FeedMM < shortest-1e-9 {
		note += "; short straight"
	}
	return note
}

func (f *flow) stripHeightMM() float64 { return stripHeadingMM + float64(f.stripRows())*stripRowMM }

// stripRows is how many rows the straight wire takes at true size.
func (f *flow) stripRows() int {
	return max(1, int(math.Ceil(f.bends.CutMM()/(f.area.Width()-2))))
}

// strip draws the straight wire at true size, with a mark where each bend begins.
func (f *flow) strip() {
	f.heading("Straight wire, 1:1", "Lay the cut wire on it and mark where each bend begins. Upper numbers: steps. Lower numbers: mm from the exit of the anchor slot. Grey: wire used up by bends.")
	rows := f.stripRows()
	from := f.bends.CutStartMM()
	perRow := f.area.Width() - 2
	for range rows {
		to := math.Min(from+perRow, f.bends.CutEndMM())
		at := f.take(stripRowMM)
		f.stripRow(plane.Point{X: at.X + 1, Y: at.Y - stripRowMM/2}, from, to)
		from = to
	}
}

// stripRow draws the wire between two marks, the first one at at.
func (f *flow) stripRow(at plane.Point, from, to float64) {
	half := f.job.Spring.Wire.HeightMM() / 2
	on := func(markMM, up float64) plane.Point { return at.Add(plane.Point{X: markMM - from, Y: up}) }
	inRow := func(markMM float64) bool { return markMM >= from-1e-9 && markMM <= to+1e-9 }

	room := plane.Box{
		Min: plane.Point{X: f.area.Min.X, Y: at.Y - stripRowMM/2 + 0.3},
		Max: plane.Point{X: f.area.Max.X, Y: at.Y + stripRowMM/2 - 0.3},
	}
	board := &label.Board{Bounds: room, ClearMM: 0.3}
	board.Block([]plane.Point{on(from, 0), on(to, 0)}, half+0.3)

	for _, r := range f.bends.Rows {
		a, b := math.Max(r.MarkMM, from), math.Min(r.MarkMM+r.ArcMM, to)
		if a < b {
			f.page.Hatch([]plane.Point{on(a, -half), on(b, -half), on(b, half), on(a, half)})
		}
	}
	f.page.Rectangle(sheet.Outline, plane.Box{Min: on(from, -half), Max: on(to, half)})

	const tickMM = 1.6
	small := sheet.Style{SizePt: sheet.SmallPt, Align: sheet.Centre}
	bold := small
	bold.Bold = true
	above := func(markMM float64, text string, style sheet.Style) {
		f.put(board, on(markMM, tickMM), plane.Point{Y: 1}, 0.4, f.doc.WidthOf(text, style), style.CapMM(), func(box plane.Box) {
			f.page.Text(plane.Point{X: box.Centre().X, Y: box.Min.Y}, text, style)
		})
	}
	below := func(markMM float64, text string) {
		f.put(board, on(markMM, -tickMM), plane.Point{Y: -1}, 0.4, f.doc.WidthOf(text, small), small.CapMM(), func(box plane.Box) {
			f.page.Text(plane.Point{X: box.Centre().X, Y: box.Min.Y}, text, small)
		})
	}
	tick := func(markMM float64) {
		f.page.Line(sheet.Mark, on(markMM, -tickMM), on(markMM, tickMM))
		board.Block([]plane.Point{on(markMM, -tickMM), on(markMM, tickMM)}, 0.1)
	}
	type stop struct {
		markMM float64
		text   string
		style  sheet.Style
	}
	stops := []stop{{0, "slot " + fmtTooth(f.job.Case.Teeth.Anchor), small}}
	for _, r := range f.bends.Rows {
		stops = append(stops, stop{r.MarkMM, fmt.Sprint(r.Step), bold})
	}
	stops = append(stops, stop{f.bends.DevelopedMM, "slot " + fmtTooth(f.job.Case.Teeth.Active), small})
	ends := [...]stop{{f.bends.CutStartMM(), "cut", small}, {f.bends.CutEndMM(), "cut", small}}
	all := append(append([]stop(nil), ends[:]...), stops...)
	for _, s := range all {
		if inRow(s.markMM) {
			tick(s.markMM)
		}
	}
	for _, s := range all {
		if inRow(s.markMM) {
			above(s.markMM, s.text, s.style)
			below(s.markMM, sheet.Number(s.markMM, 1))
		}
	}
}
