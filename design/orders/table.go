package orders

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"springwright/design/fault"
)

// What a list may be at most. Ten thousand orders of thirty columns are some 3 MB.
const (
	largestTable = 1 << 26 // bytes
	mostRows     = 100_000
	mostColumns  = 200
	longestCell  = 2000 // characters; none of the columns needs more than a hundred
)

// table is a table as a spreadsheet saved it: rows of cells, the first row that is neither blank nor a
// comment being the header.
type table struct {
	rows      []tableRow
	semicolon bool // or a tab: cells are not divided by commas, so that a number may have a decimal comma
}

type tableRow struct {
	number int // from 1
	cells  []string
}

// decoded is the text of a file: UTF-8 or, where its first bytes say so, UTF-16.
func decoded(file string, data []byte) (string, error) {
	refuse := func(row, column int, text, hint string) error {
		return fault.List{{File: file, Line: row, Column: column, Text: text, Hint: hint}}
	}
	if len(data) > largestTable {
		return "", refuse(1, 1, fmt.Sprintf("the file has %d bytes, more than the allowed %d", len(data), largestTable), "is this the right file?")
	}
	const saveAs = "save the table as \"CSV UTF-8\""
	switch {
	case bytes.HasPrefix(data, []byte("\xff\xfe")), bytes.HasPrefix(data, []byte("\xfe\xff")):
		if len(data)%2 != 0 {
			return "", refuse(1, 1, "ends in the middle of a character of UTF-16", saveAs)
		}
		little := data[0] == 0xff
		var units []uint16
		for i := 2; i < len(data); i += 2 {
			if little {
				units = append(units, uint16(data[i])|uint16(data[i+1])<<8)
			} else {
				units = append(units, uint16(data[i])<<8|uint16(data[i+1]))
			}
		}
		return string(utf16.Decode(units)), nil
	case bytes.HasPrefix(data, []byte("PK\x03\x04")), bytes.HasPrefix(data, []byte("\xd0\xcf\x11\xe0")):
		return "", refuse(1, 1, "is a spreadsheet's own file, not CSV", saveAs+" from the spreadsheet")
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	for at := 0; at < len(data); {
		r, size := utf8.DecodeRune(data[at:])
		if r == 0 || r == utf8.RuneError && size == 1 {
			row := 1 + bytes.Count(data[:at], []byte("\n"))
			line := data[bytes.LastIndexByte(data[:at], '\n')+1 : at]
			column := 1 + bytes.Count(line, []byte{divider(string(data))})
			return "", refuse(row, column, fmt.Sprintf("row %d, column %s: the byte %02x is no text in UTF-8", row, letters(column), data[at]), saveAs)
		}
		at += size
	}
	return string(data), nil
}

// divider is what divides the cells: that of the usual ones which the header has most of.
func divider(text string) byte {
	best, most := byte(','), 0
	for line := range strings.Lines(text) {
		line = strings.TrimSpace(line)
		if rest, told := strings.CutPrefix(strings.ToLower(strings.Trim(line, `"`)), "sep="); told && len(rest) == 1 {
			return rest[0]
		}
		if strings.Trim(line, ",;\t \"") == "" || strings.HasPrefix(strings.TrimLeft(line, `" `), "#") {
			continue
		}
		for _, c := range []byte{',', ';', '\t'} {
			if n := strings.Count(line, string(c)); n > most {
				best, most = c, n
			}
		}
		break
	}
	return best
}

// letters is the name that a spreadsheet gives a column, from 1: A, B … Z, AA.
func letters(column int) string {
	name := ""
	for ; column > 0; column = (column - 1) / 26 {
		name = string(rune('A'+(column-1)%26)) + name
	}
	return name
}

// CellName is the name of a cell as spreadsheets have it, such as "F12"; columns and rows count from 1.
func CellName(column, row int) string { return fmt.Sprintf("%s%d", letters(column), row) }

// readCells takes a text apart as RFC 4180 says, whatever ends its lines. The error is a fault.List: a quote
// that is never closed, or one in the middle of a cell, would shift every cell behind it.
//
// In one piece: a machine with one state, which would have to be handed on.
func readCells(file, text string) (table, error) {
	comma := divider(text)
	t := table{semicolon: comma != ','}
	row := tableRow{number: 1}
	var cell strings.Builder
	quoted, wasQuoted := false, false
	opened := [2]int{}
	refuse := func(row, column int, text, hint string) (table, error) {
		return table{}, fault.List{{File: file, Line: row, Column: column, Text: fmt.Sprintf("row %d, column %s: %s", row, letters(column), text), Hint: hint}}
	}
	endCell := func() {
		row.cells = append(row.cells, strings.TrimSpace(cell.String()))
		cell.Reset()
		wasQuoted = false
	}
	endRow := func() {
		endCell()
		t.rows = append(t.rows, row)
		row = tableRow{number: row.number + 1}
	}
	for i := 0; i < len(text); i++ {
		c := text[i]
		switch {
		case quoted && c == '"' && i+1 < len(text) && text[i+1] == '"':
			cell.WriteByte('"')
			i++
		case quoted && c == '"':
			quoted, wasQuoted = false, true
		case quoted:
			cell.WriteByte(c)
		case c == '"' && strings.TrimSpace(cell.String()) == "" && !wasQuoted:
			cell.Reset()
			quoted, opened = true, [2]int{row.number, len(row.cells) + 1}
		case c == '"' && !strings.HasPrefix(firstCell(row, cell.String()), "#"):
			return refuse(row.number, len(row.cells)+1, "a quote stands in the middle of the cell", "put the whole cell in quotes, and write a quote in it twice")
		case c == comma:
			endCell()
		case c == '\r' && i+1 < len(text) && text[i+1] == '\n':
		case c == '\n' || c == '\r':
			endRow()
		case wasQuoted && c != ' ' && c != '\t':
			return refuse(row.number, len(row.cells)+1, "has text behind the closing quote", "put the whole cell in quotes, and write a quote in it twice")
		default:
			cell.WriteByte(c)
		}
		if cell.Len() > 4*longestCell && !strings.HasPrefix(firstCell(row, cell.String()), "#") {
			if quoted {
				return refuse(opened[0], opened[1], "a quote is opened and not closed for long", "close it, or take it out")
			}
			return refuse(row.number, len(row.cells)+1, fmt.Sprintf("has more than the allowed %d characters", longestCell), "is this the right file?")
		}
		if len(t.rows) > mostRows {
			return refuse(row.number, 1, fmt.Sprintf("the list has more than the allowed %d rows", mostRows), "divide it into several lists")
		}
		if len(row.cells) > mostColumns {
			return refuse(row.number, mostColumns+1, fmt.Sprintf("has more than the allowed %d columns", mostColumns), "is this the right file?")
		}
	}
	if quoted {
		return refuse(opened[0], opened[1], "a quote is opened and never closed", "close it, or take it out")
	}
	if cell.Len() > 0 || len(row.cells) > 0 {
		endRow()
	}
	return t, nil
}

// firstCell is the first cell of a row whose current cell is still being read.
func firstCell(row tableRow, current string) string {
	if len(row.cells) > 0 {
		return row.cells[0]
	}
	return strings.TrimSpace(current)
}

// remark tells a row that is blank, a comment, or says what divides the cells.
func (r tableRow) remark() bool {
	for i, c := range r.cells {
		switch {
		case c == "":
		case strings.HasPrefix(c, "#"):
			return true
		default:
			return i == 0 && strings.HasPrefix(strings.ToLower(c), "sep=") && len(c) <= len("sep=;")
		}
	}
	return true
}
