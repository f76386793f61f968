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
	stripRowMM     = 16.0
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
		{WidthMM: 2},
		{Head: "note"},
	}}
	used := 0.0
	for _, c := range t.Columns {
		used += c.WidthMM
	}
	t.Columns[len(t.Columns)-1].WidthMM = f.area.Width() - used
	for _, r := range f.bends.Rows {
		t.Rows = append(t.Rows, []string{
			fmt.Sprint(r.Step), sheet.Number(r.MarkMM, 2), sheet.Number(r.FeedMM, 2), turnText(r), bendText(r), seenText(r),
			radiusText(r), sheet.Number(r.ArcMM, 2), "", f.noteText(r),
		})
	}
	t.Rows = append(t.Rows, []string{
		"end", sheet.Number(f.bends.DevelopedMM, 2), sheet.Number(f.bends.EndFeedMM, 2),
		"", "", "", "", "", "", "enters the active slot",
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
	return max(1, int(math.Ceil(f.bends.CutMM()/f.stripWidthMM())))
}

// stripWidthMM is how much wire fits on a row.
func (f *flow) stripWidthMM() float64 { return (f.area.Width() - 2) / f.scale.X }

// strip draws the straight wire at true size, with a mark where each bend begins.
func (f *flow) strip() {
	f.heading("Straight wire, 1:1", "Mark where each bend begins. Above: step; below: mm from the exit of the anchor slot. Hatched: wire that the bends take up.")
	rows := f.stripRows()
	from := f.bends.CutStartMM()
	perRow := f.stripWidthMM()
	for range rows {
		to := math.Min(from+perRow, f.bends.CutEndMM())
		at := f.take(stripRowMM)
		f.stripRow(plane.Point{X: at.X + 1, Y: at.Y - stripRowMM/2}, from, to)
		from = to
	}
	f.take(gapMM - 2)
}

// stripRow draws the wire between two marks, the first one at at.
func (f *flow) stripRow(at plane.Point, from, to float64) {
	half := f.scale.Y * f.job.Spring.Wire.HeightMM() / 2
	on := func(markMM, up float64) plane.Point {
		return at.Add(plane.Point{X: f.scale.X * (markMM - from), Y: up})
	}

	for _, r := range f.bends.Rows {
		a, b := math.Max(r.MarkMM, from), math.Min(r.MarkMM+r.ArcMM, to)
		if a < b {
			f.page.Hatch([]plane.Point{on(a, -half), on(b, -half), on(b, half), on(a, half)})
		}
	}
	f.page.Rectangle(sheet.Outline, plane.Box{Min: on(from, -half), Max: on(to, half)})

	stops := []stop{
		{f.bends.CutStartMM(), "cut", false},
		{0, "slot " + fmtTooth(f.job.Case.Teeth.Anchor), false},
	}
	for _, r := range f.bends.Rows {
		stops = append(stops, stop{r.MarkMM, fmt.Sprint(r.Step), true})
	}
	stops = append(stops,
		stop{f.bends.DevelopedMM, "slot " + fmtTooth(f.job.Case.Teeth.Active), false},
		stop{f.bends.CutEndMM(), "cut", false})
	var here []stop
	for _, s := range stops {
		if s.markMM >= from-1e-9 && s.markMM <= to+1e-9 {
			here = append(here, s)
		}
	}
	f.stops(at, from, here)
}

// stop is a mark on the straight wire.
type stop struct {
	markMM float64
	text   string
	bold   bool
}

// stops draws marks across a wire whose mark from is at at: what they are above it, how
// far along they are below it.
func (f *flow) stops(at plane.Point, from float64, stops []stop) {
	const (
		tickMM   = 1.5
		leaderMM = 2.5 // for leaders to labels that had to move
		apartMM  = 1.2 // between labels
	)
	set := func(side float64, text func(stop) string) {
		var wanted, sizes []float64
		style := func(s stop) sheet.Style {
			return sheet.Style{SizePt: sheet.SmallPt, Bold: s.bold && side > 0, Align: sheet.Centre}
		}
		for _, s := range stops {
			wanted = append(wanted, at.X+f.scale.X*(s.markMM-from))
			sizes = append(sizes, f.doc.WidthOf(text(s), style(s))+apartMM)
		}
		for i, x := range label.Spread(wanted, sizes, f.area.Min.X-apartMM/2, f.area.Max.X+apartMM/2) {
			tip := plane.Point{X: wanted[i], Y: at.Y + side*tickMM}
			f.page.Line(sheet.Mark, plane.Point{X: wanted[i], Y: at.Y}, tip)
			end := plane.Point{X: x, Y: tip.Y + side*leaderMM}
			f.page.Line(sheet.Centreline, tip, end)
			s := style(stops[i])
			base := end.Y + 0.5
			if side < 0 {
				base = end.Y - 0.5 - s.CapMM()
			}
			f.page.Text(plane.Point{X: x, Y: base}, text(stops[i]), s)
		}
	}
	set(1, func(s stop) string { return s.text })
	set(-1, func(s stop) string { return sheet.Number(s.markMM, 1) })
}
