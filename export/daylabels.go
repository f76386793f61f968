package export

import (
	"fmt"

	"springwright/design/orders"
	"springwright/export/plane"
	"springwright/export/sheet"
)

// Labels are as large as a small bag for a spring takes (choice).
const (
	labelWideMM = 56.0
	labelHighMM = 24.0
)

// labels lays out a label for every spring that there is to bend, from one of them to another.
func (d Day) labels(from, to int) (*sheet.Document, error) {
	all := d.toBend()
	some := all[from:to]
	f, err := d.flow(from, to, len(all))
	if err != nil {
		return nil, err
	}
	f.top.head.lines[2] = f.say("Cut along the dashed lines. Put each label to its spring before the next one is bent.")
	columns, rows := int(f.area.Width()/labelWideMM), int(f.area.Height()/labelHighMM)
	if columns < 1 || rows < 1 {
		return nil, fmt.Errorf("%w: %w", ErrJob, errTooNarrow)
	}
	corner := plane.Point{X: f.area.Centre().X - float64(columns)*labelWideMM/2, Y: f.area.Max.Y}
	for i, o := range some {
		place := i % (columns * rows)
		if place == 0 {
			f.newPage("Labels")
			onPage := min(columns*rows, len(some)-i)
			cutLines(f.page, corner, columns, (onPage+columns-1)/columns)
		}
		top := plane.Point{X: corner.X + float64(place%columns)*labelWideMM, Y: corner.Y - float64(place/columns)*labelHighMM}
		o.label(f, top)
	}
	return f.finished()
}

// cutLines are dashed lines between labels, right through.
func cutLines(p *sheet.Page, corner plane.Point, columns, rows int) {
	const on, off = 2.0, 1.4
	wide, high := float64(columns)*labelWideMM, float64(rows)*labelHighMM
	for c := range columns + 1 {
		x := corner.X + float64(c)*labelWideMM
		p.Dashed(sheet.Mark, []plane.Point{{X: x, Y: corner.Y}, {X: x, Y: corner.Y - high}}, on, off)
	}
	for r := range rows + 1 {
		y := corner.Y - float64(r)*labelHighMM
		p.Dashed(sheet.Mark, []plane.Point{{X: corner.X, Y: y}, {X: corner.X + wide, Y: y}}, on, off)
	}
}

// label writes one label, its top left corner at top.
func (o DayOrder) label(f *flow, top plane.Point) {
	const inset = 2.5
	head, body, small := sheet.Style{SizePt: sheet.HeadPt, Bold: true}, sheet.Style{SizePt: sheet.BodyPt}, sheet.Style{SizePt: sheet.SmallPt}
	wide := labelWideMM - 2*inset
	y := top.Y - inset - head.CapMM()
	write := func(text string, s sheet.Style, apart float64) {
		f.page.Text(plane.Point{X: top.X + inset, Y: y}, f.doc.Fit(text, wide, s), s)
		y -= apart
	}
	write(o.code(f), head, 4.4)
	side := f.say("patient's left")
	if o.Teeth.Active.PatientRight() {
		side = f.say("patient's right")
	}
	teeth := f.say("%d from %d", int(o.Teeth.Active), int(o.Teeth.Anchor)) + ", " + side
	if o.State == orders.Missed {
		write(f.say("NOT MET: misses its target"), sheet.Style{SizePt: sheet.BodyPt, Bold: true}, 3.7)
	}
	write(teeth, body, 3.7)
	write(o.Wire, body, 3.7)
	last := f.say("cut %s mm", f.words.Number(o.CutMM, 1))
	if o.Due != "" {
		last += " · " + o.Due
	}
	write(last, body, 3.4)
	write(o.Name+" · "+o.Fingerprint, small, 0)
}
