package sheet

import (
	"math"
	"strings"

	"springwright/export/pdf"
	"springwright/export/plane"
)

// Column is a column of a table.
type Column struct {
	Head    string // may be several lines, parted by \n
	WidthMM float64
	Align   Align // Left or Right
	Ruled   bool  // with a line at its left, as cells to write in have
}

// Table is rows of text under heads.
type Table struct {
	Columns []Column
	Rows    [][]string
	RowMM   float64 // height of a row; 0: close, for print alone
	NoHead  bool    // the heads stand elsewhere
}

func (t Table) rowMM() float64 {
	if t.RowMM > 0 {
		return t.RowMM
	}
	return tableRowMM
}

const (
	tableRowMM    = 4.1
	tableInsetMM  = 0.8 // between a text and its column's edge
	tableHeadLine = 3.0
)

// Fill gives a column what the others leave of a width.
func (t *Table) Fill(column int, widthMM float64) {
	used := 0.0
	for _, c := range t.Columns {
		used += c.WidthMM
	}
	t.Columns[column].WidthMM += widthMM - used
}

// HeightMM is the height that the table takes.
func (t Table) HeightMM() float64 { return t.HeadMM() + float64(len(t.Rows))*t.rowMM() }

// HeadMM is the height of the heads.
func (t Table) HeadMM() float64 {
	if t.NoHead {
		return 0
	}
	lines := 1
	for _, c := range t.Columns {
		lines = max(lines, 1+strings.Count(c.Head, "\n"))
	}
	return float64(lines)*tableHeadLine + 1.6
}

// RowsIn is how many rows fit into a height.
func (t Table) RowsIn(heightMM float64) int {
	return max(0, int((heightMM-t.HeadMM())/t.rowMM()))
}

// Draw draws the table with its top left corner at at.
func (t Table) Draw(p *Page, at plane.Point) {
	p.part(pdf.Element{Role: pdf.Table}, func() { t.draw(p, at) })
}

func (t Table) draw(p *Page, at plane.Point) {
	head := Style{SizePt: SmallPt}
	body := Style{SizePt: BodyPt}
	x, width := at.X, 0.0
	p.part(pdf.Element{Role: pdf.Row}, func() {
		for _, c := range t.Columns {
			if !t.NoHead {
				lines := strings.Split(c.Head, "\n")
				p.part(pdf.Element{Role: pdf.HeadCell, Reads: strings.Join(lines, " ")}, func() {
					for i, line := range lines {
						t.cell(p, c, x, at.Y-t.HeadMM()+1.6+float64(len(lines)-1-i)*tableHeadLine, line, head)
					}
				})
			}
			x += c.WidthMM
			width += c.WidthMM
		}
	})
	y := at.Y - t.HeadMM()
	p.Line(Mark, plane.Point{X: at.X, Y: y}, plane.Point{X: at.X + width, Y: y})
	for _, row := range t.Rows {
		y -= t.rowMM()
		x = at.X
		p.part(pdf.Element{Role: pdf.Row}, func() {
			for i, c := range t.Columns {
				p.part(pdf.Element{Role: pdf.Cell}, func() {
					if i < len(row) {
						t.cell(p, c, x, y+math.Min(1.2, (t.rowMM()-body.CapMM())/2), p.document.Fit(row[i], c.WidthMM-tableInsetMM, body), body)
					}
				})
				x += c.WidthMM
			}
		})
		p.Line(Construction, plane.Point{X: at.X, Y: y}, plane.Point{X: at.X + width, Y: y})
	}
	x = at.X
	for _, c := range t.Columns {
		if c.Ruled {
			p.Line(Construction, plane.Point{X: x, Y: at.Y - t.HeadMM()}, plane.Point{X: x, Y: y})
		}
		x += c.WidthMM
	}
}

func (t Table) cell(p *Page, c Column, x, y float64, text string, s Style) {
	s.Align = c.Align
	at := plane.Point{X: x + tableInsetMM, Y: y}
	if c.Align == Right {
		at.X = x + c.WidthMM - tableInsetMM
	}
	p.Text(at, text, s)
}
