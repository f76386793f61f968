package export

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"springwright/design/solve"
	"springwright/design/wire"
	"springwright/export/bend"
	"springwright/export/label"
	"springwright/export/plane"
	"springwright/export/sheet"
)

const stripRowMM = 16.0

// bendSteps lays out the straight wire at true size, the bend table, what to mind, and
// where the free end must come to lie.
func (f *flow) bendSteps() {
	f.strip()
	t := f.bendTable()
	rows := t.Rows
	for len(rows) > 0 {
		f.need(headingMM + t.HeadMM() + 20)
		f.heading(f.say("Bend steps"), f.columnsText())
		t.Rows = rows[:min(len(rows), t.RowsIn(f.leftMM()))]
		rows = rows[len(t.Rows):]
		t.Draw(f.page, f.take(t.HeightMM()))
	}
	f.take(2.5)
	bold, body := sheet.Style{SizePt: sheet.BodyPt, Bold: true}, sheet.Style{SizePt: sheet.BodyPt}
	f.block(lengthsText(f.words, f.bends), bold)
	for _, text := range f.bendCautions() {
		f.block(text, bold)
	}
	f.block(f.waysText(), body)
	f.block(f.orderText(), body)
	for _, text := range f.instructions(solve.Bending) {
		f.block(text, body)
	}
	f.take(1.5)
	if !f.planar() {
		f.handSteps()
	}
	f.need(f.freeEndHeightMM())
	f.freeEndCheck()
}

// block writes a text over the whole width, on the next page where there is no room.
func (f *flow) block(text string, style sheet.Style) {
	if text == "" {
		return
	}
	height := f.blockMM(text, style)
	f.need(height - blockApartMM)
	f.page.Paragraph(f.take(height), f.area.Width(), text, style)
}

const blockApartMM = 1.2

// blockMM is what a block takes with the room under it.
func (f *flow) blockMM(text string, style sheet.Style) float64 {
	return float64(len(f.doc.Wrap(text, f.area.Width(), style)))*style.LineMM() + blockApartMM
}

// columnsText explains the columns.
func (f *flow) columnsText() string {
	return f.say("Over: wire that the bend takes up. Bend to: held, before it springs back. Pliers: inside radius.")
}

// waysText explains the words of the columns.
func (f *flow) waysText() string {
	if len(f.bends.Rows) == 0 {
		return f.say("No bends: the spring is the straight wire.")
	}
	text := f.say("Left and right: seen from the cheek, following the wire from the anchor slot.")
	if slices.ContainsFunc(f.bends.Rows, func(r bend.Row) bool { return !r.Twist && !r.InView }) {
		text += " " + f.say("To a side: where the bend goes in the finished spring.")
	}
	if f.twists() {
		text += " " + f.say("Twists: clockwise for somebody who looks along the wire from the anchor slot; without allowance for springing back.")
	}
	if !f.planar() {
		text += " " + f.say("Line: where the pen line on the wire's top faces while the rest is bent up.")
	}
	return text + " " + f.say("Bend to is for a wire that yields all at once: try it on a piece of the same wire.")
}

// twists tells whether the wire is twisted anywhere.
func (f *flow) twists() bool {
	return slices.ContainsFunc(f.bends.Rows, func(r bend.Row) bool { return r.Twist })
}

// bendCautions names bends that are hard to set and straights that pliers hardly hold.
func (f *flow) bendCautions() []string {
	var shallow, short []string
	for _, r := range f.bends.Rows {
		if r.Shallow() {
			shallow = append(shallow, fmt.Sprint(r.Step))
		}
		if f.short(r) {
			short = append(short, fmt.Sprint(r.Step))
		}
	}
	var texts []string
	if len(shallow) > 0 {
		texts = append(texts, f.say("Below %s: bend %s. Set by laying the wire on the template, not by the angle.", degrees(bend.ShallowRad), strings.Join(shallow, ", ")))
	}
	if len(short) > 0 {
		texts = append(texts, f.say("Less than %s mm of straight in front, little for pliers to hold: bend %s.", millimetres(f.job.Case.Limits.ShortestStraightMM), strings.Join(short, ", ")))
	}
	return texts
}

// short tells whether the straight in front of a bend is too short for pliers.
func (f *flow) short(r bend.Row) bool {
	return r.Step > 1 && r.FeedMM < f.job.Case.Limits.ShortestStraightMM-1e-9
}

// lineColumn is the column of the bend table that a flat spring does without.
const lineColumn = 4

func (f *flow) bendTable() sheet.Table {
	t := sheet.Table{Columns: f.headed([]sheet.Column{
		{Head: "step", WidthMM: 8, Align: sheet.Right},
		{Head: "mark\nmm", WidthMM: 12, Align: sheet.Right},
		{Head: "feed\nmm", WidthMM: 11, Align: sheet.Right},
		{Head: "over\nmm", WidthMM: 10, Align: sheet.Right},
		{Head: "line", WidthMM: 13, Align: sheet.Right},
		{Head: "angle", WidthMM: 12, Align: sheet.Right},
		{Head: "bend to", WidthMM: 14, Align: sheet.Right},
		{Head: "way", WidthMM: 20, Align: sheet.Right},
		{Head: "radius\nmm", WidthMM: 10, Align: sheet.Right},
		{Head: "pliers\nmm", WidthMM: 10, Align: sheet.Right},
		{WidthMM: 1.5},
		{Head: "note"},
	})}
	flat := f.planar()
	cells := func(row ...string) []string {
		if flat {
			row = slices.Delete(row, lineColumn, lineColumn+1)
		}
		return row
	}
	if flat {
		t.Columns = slices.Delete(t.Columns, lineColumn, lineColumn+1)
	}
	used := 0.0
	for _, c := range t.Columns {
		used += c.WidthMM
	}
	t.Columns[len(t.Columns)-1].WidthMM = f.area.Width() - used
	steps := f.steps()
	for _, r := range f.bends.Rows {
		to, note := f.bendTo(r, steps[r.PathStep].Order)
		t.Rows = append(t.Rows, cells(
			fmt.Sprint(r.Step), sheet.Number(r.MarkMM, 2), sheet.Number(r.FeedMM, 2), sheet.Number(r.ArcMM, 2),
			f.facingText(r.Line), bendText(r), to, wayText(f.words, r),
			radiusText(r), f.pliersText(r, steps[r.PathStep].Order), "", note,
		))
	}
	end := f.say("enters the active slot")
	if f.bends.Hooked {
		end = f.say("hook here, at tooth %d", int(f.job.Case.Teeth.Active))
	}
	t.Rows = append(t.Rows, cells(
		endMark, sheet.Number(f.bends.DevelopedMM, 2), sheet.Number(f.bends.EndFeedMM, 2),
		"", "", "", "", "", "", "", "", end,
	))
	return t
}

// bendTo is the angle that a bend is held at before it springs back, and the row's note; a
// twist, which is not held back for, is named in its place.
func (f *flow) bendTo(r bend.Row, order int) (angle, note string) {
	note, _, _ = strings.Cut(r.Note(), "; shallow") // said under the table
	note = f.words.Recognised(note)
	if r.Twist {
		return f.say("twist"), note
	}
	rad, err := f.job.Spring.Wire.OverbendRad(r.BendRad, r.RadiusMM, order)
	switch {
	case errors.Is(err, wire.ErrElasticBend):
		return "–", f.say("springs back straight at this radius")
	case err != nil:
		return "–", note
	}
	return sheet.Number(rad/degree, 0) + "°", note
}

// pliersText is the inside radius of a bend.
func (f *flow) pliersText(r bend.Row, order int) string {
	if r.Twist {
		return "–"
	}
	across := f.job.Spring.Wire.HeightMM()
	if order == 1 {
		across = f.job.Spring.Wire.DepthMM()
	}
	inside := r.RadiusMM - across/2
	if inside <= 0 {
		return f.say("sharp")
	}
	return sheet.Number(inside, 2)
}

// stripRows is how many rows the straight wire takes at true size.
func (f *flow) stripRows() int {
	return max(1, int(math.Ceil(f.bends.CutMM()/f.stripWidthMM())))
}

// stripWidthMM is how much wire fits on a row.
func (f *flow) stripWidthMM() float64 { return (f.area.Width() - 2) / f.scale.X }

// strip draws the straight wire at true size, with a mark where each bend begins.
func (f *flow) strip() {
	f.heading(f.say("Straight wire, 1:1"), f.say("Mark where each bend begins. Above: step; below: mm from the exit of the anchor slot. Hatched: wire that the bends take up."))
	rows := f.stripRows()
	f.take(0.5)
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
		{f.bends.CutStartMM(), f.say("cut"), false},
		{0, f.say("slot %d", int(f.job.Case.Teeth.Anchor)), false},
	}
	for _, r := range f.bends.Rows {
		stops = append(stops, stop{r.MarkMM, fmt.Sprint(r.Step), true})
	}
	free := "slot %d"
	if f.bends.Hooked {
		free = "hook %d"
	}
	stops = append(stops,
		stop{f.bends.DevelopedMM, endMark + ", " + f.say(free, int(f.job.Case.Teeth.Active)), false},
		stop{f.bends.CutEndMM(), f.say("cut"), false})
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
