package export

import (
	"springwright/export/plane"
	"springwright/export/sheet"
)

// fieldRowMM leaves room to write by hand between two lines.
const fieldRowMM = 6.4

// field is a label with its value, or with a line to write on.
type field struct {
	label, value string
}

// drawFields lays out fields under each other, their top left corner at at, and returns the
// height they take. Values and lines begin labelMM behind the labels' beginning.
func drawFields(f *flow, at plane.Point, widthMM, labelMM float64, fields []field) float64 {
	small, body := sheet.Style{SizePt: sheet.SmallPt}, sheet.Style{SizePt: sheet.BodyPt}
	for i, row := range fields {
		y := at.Y - float64(i+1)*fieldRowMM + 1.6
		f.page.Text(plane.Point{X: at.X, Y: y}, f.doc.Fit(row.label, labelMM-1, small), small)
		x := at.X + labelMM
		if row.value != "" {
			body := body
			f.page.Text(plane.Point{X: x, Y: y}, f.doc.Fit(row.value, widthMM-labelMM, body), body)
			continue
		}
		f.page.Line(sheet.Construction, plane.Point{X: x, Y: y - 0.8}, plane.Point{X: at.X + widthMM, Y: y - 0.8})
	}
	return float64(len(fields)) * fieldRowMM
}

// choice is one box to tick, with its words.
type choice struct {
	text   string
	ticked bool
}

// drawChoices lays out a label and boxes to tick in a row as drawFields does, in row number row.
func drawChoices(f *flow, at plane.Point, labelMM float64, row int, label string, all []choice) {
	const boxMM = 2.6
	small, body := sheet.Style{SizePt: sheet.SmallPt}, sheet.Style{SizePt: sheet.BodyPt}
	y := at.Y - float64(row+1)*fieldRowMM + 1.6
	f.page.Text(plane.Point{X: at.X, Y: y}, label, small)
	x := at.X + labelMM
	for _, c := range all {
		box := plane.Box{Min: plane.Point{X: x, Y: y - 0.3}, Max: plane.Point{X: x + boxMM, Y: y - 0.3 + boxMM}}
		f.page.Rectangle(sheet.Mark, box)
		if c.ticked {
			f.page.Line(sheet.Bar, box.Min, box.Max)
			f.page.Line(sheet.Bar, plane.Point{X: box.Min.X, Y: box.Max.Y}, plane.Point{X: box.Max.X, Y: box.Min.Y})
		}
		x += boxMM + 1.2
		x += f.page.Text(plane.Point{X: x, Y: y}, c.text, body) + 4
	}
}
