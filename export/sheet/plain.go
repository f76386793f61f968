package sheet

import (
	"strings"
	"unicode/utf8"
)

// Plain collects paragraphs and tables as text for a terminal, in the words and digits of
// the pages.
type Plain struct {
	Columns int // characters in a line

	text strings.Builder
}

const (
	plainApart = "  " // in front of a table and between its columns
	plainLeast = 12   // characters that the last column is wrapped to at the narrowest
)

// String is the text so far.
func (p *Plain) String() string { return p.text.String() }

// Paragraph writes a text in lines. An empty one leaves a line blank.
func (p *Plain) Paragraph(text string) {
	for _, line := range wrapped(text, p.Columns) {
		p.text.WriteString(line + "\n")
	}
}

// Table writes a table, but for columns without a word. A last column to the left is wrapped.
func (p *Plain) Table(t Table) {
	heads, headLines := make([][]string, len(t.Columns)), 0
	for i, c := range t.Columns {
		heads[i] = strings.Split(c.Head, "\n")
		headLines = max(headLines, len(heads[i]))
	}
	var rows [][]string
	for k := range headLines {
		cells := make([]string, len(t.Columns))
		for i, head := range heads {
			if from := headLines - len(head); k >= from {
				cells[i] = head[k-from]
			}
		}
		rows = append(rows, cells)
	}
	for _, row := range t.Rows {
		cells := make([]string, len(t.Columns))
		copy(cells, row)
		rows = append(rows, cells)
	}

	widths, last := widthsOf(rows)
	if t.Columns[last].Align == Left {
		room := p.Columns - len(plainApart)
		for _, width := range widths[:last] {
			if width > 0 {
				room -= width + len(plainApart)
			}
		}
		rows = wrapLast(rows, last, max(plainLeast, room))
		widths, _ = widthsOf(rows)
	}
	for _, cells := range rows {
		line := ""
		for i, width := range widths {
			if width == 0 {
				continue
			}
			blanks := strings.Repeat(" ", width-utf8.RuneCountInString(cells[i]))
			if t.Columns[i].Align == Right {
				line += plainApart + blanks + cells[i]
			} else {
				line += plainApart + cells[i] + blanks
			}
		}
		p.text.WriteString(strings.TrimRight(line, " ") + "\n")
	}
}

// widthsOf is how many characters each column takes, and which is the last with any.
func widthsOf(rows [][]string) (widths []int, last int) {
	for _, cells := range rows {
		if widths == nil {
			widths = make([]int, len(cells))
		}
		for i, cell := range cells {
			widths[i] = max(widths[i], utf8.RuneCountInString(cell))
		}
	}
	for i, width := range widths {
		if width > 0 {
			last = i
		}
	}
	return widths, last
}

// wrapLast continues what is too long for the last column in rows that are empty but for it.
func wrapLast(rows [][]string, last, columns int) [][]string {
	var out [][]string
	for _, cells := range rows {
		for _, line := range wrapped(cells[last], columns) {
			cells[last] = line
			out = append(out, cells)
			cells = make([]string, len(cells))
		}
	}
	return out
}

// wrapped breaks a text into lines of at most so many characters, but not between a number
// and its unit. There is at least one line; a word that is longer has one of its own.
func wrapped(text string, columns int) []string {
	var lines []string
	line := ""
	for _, word := range unbroken(strings.Fields(text)) {
		if line != "" && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > columns {
			lines = append(lines, line)
			line = ""
		}
		line = strings.TrimLeft(line+" "+word, " ")
	}
	return append(lines, line)
}
