package export

import (
	"fmt"
	"math"

	"springwright/export/label"
	"springwright/export/plane"
	"springwright/export/sheet"
	"springwright/export/words"
)

const stripRowMM = 16.0

// strip is the straight wire at true size, with a mark where each bend begins.
type strip struct{ *subject }

// rows is how many rows the straight wire takes at true size.
func (t strip) rows(f *flow) int {
	return max(1, int(math.Ceil(t.bends.CutMM()/t.widthMM(f))))
}

// widthMM is how much wire fits on a row.
func (t strip) widthMM(f *flow) float64 { return (f.area.Width() - 2) / f.scale.X }

// draw draws the wire, in as many rows as it takes.
func (t strip) draw(f *flow) {
	f.heading(f.say("Straight wire, 1:1"), f.say("Mark where each bend begins. Above: step; below: mm from the exit of the anchor slot. Hatched: wire that the bends take up."))
	rows := t.rows(f)
	f.take(0.5)
	from := t.bends.CutStartMM()
	perRow := t.widthMM(f)
	for range rows {
		to := math.Min(from+perRow, t.bends.CutEndMM())
		at := f.take(stripRowMM)
		t.row(f, plane.Point{X: at.X + 1, Y: at.Y - stripRowMM/2}, from, to)
		from = to
	}
	f.take(gapMM - 2)
}

// row draws the wire between two marks, the first one at at.
func (t strip) row(f *flow, at plane.Point, from, to float64) {
	half := f.scale.Y * t.job.Spring.Wire.HeightMM() / 2
	on := func(markMM, up float64) plane.Point {
		return at.Add(plane.Point{X: f.scale.X * (markMM - from), Y: up})
	}

	for _, r := range t.bends.Rows {
		a, b := math.Max(r.MarkMM, from), math.Min(r.MarkMM+r.ArcMM, to)
		if a < b {
			f.page.Hatch([]plane.Point{on(a, -half), on(b, -half), on(b, half), on(a, half)})
		}
	}
	f.page.Rectangle(sheet.Outline, plane.Box{Min: on(from, -half), Max: on(to, half)})

	stops := []stop{
		{t.bends.CutStartMM(), f.say("cut"), false},
		{0, f.say("slot %d", int(t.job.Case.Teeth.Anchor)), false},
	}
	for _, r := range t.bends.Rows {
		stops = append(stops, stop{r.MarkMM, fmt.Sprint(r.Step), true})
	}
	free := words.Phrase("slot %d")
	if t.bends.Hooked {
		free = "hook %d"
	}
	stops = append(stops,
		stop{t.bends.DevelopedMM, endMark + ", " + f.say(free, int(t.job.Case.Teeth.Active)), false},
		stop{t.bends.CutEndMM(), f.say("cut"), false})
	var here []stop
	for _, s := range stops {
		if s.markMM >= from-1e-9 && s.markMM <= to+1e-9 {
			here = append(here, s)
		}
	}
	t.stops(f, at, from, here)
}

// stop is a mark on the straight wire.
type stop struct {
	markMM float64
	text   string
	bold   bool
}

// stops draws marks across a wire whose mark from is at at: what they are above it, how
// far along they are below it.
func (t strip) stops(f *flow, at plane.Point, from float64, stops []stop) {
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
	set(-1, func(s stop) string { return t.words.Number(s.markMM, 1) })
}
