package casefile

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"springwright/design/fault"
)

// The columns of a table of readings that are read; others are for the reader of the form.
const (
	nameColumn     = "name"
	measuredColumn = "measured"
)

// openRows opens comma-separated values (RFC 4180) as if they were the keys of a TOML file: a header with
// the columns name and measured, a row a key. Rows without a reading are left out. Where the header is
// divided by semicolons, as programs write that have a decimal comma, numbers may have one.
func openRows(file string, data []byte) (*reader, *section) {
	r := &reader{file: file, blamed: map[subject]bool{}}
	root := &section{reader: r, at: place{1, 1}}
	rows := r.rows(root.at, data)
	if rows == nil {
		return r, root
	}
	tree := newTable(root.at)
	name, measured := -1, -1
	for line := 0; ; line++ {
		cells, err := rows.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			r.faults = append(r.faults, rowFault(file, err))
			return r, root
		}
		if line == 0 {
			for i, c := range cells {
				switch strings.ToLower(strings.TrimSpace(c)) {
				case nameColumn:
					name = i
				case measuredColumn:
					measured = i
				}
			}
			if name < 0 || measured < 0 {
				break
			}
			continue
		}
		if line > mostMeasuredRows {
			r.report(root.at, "", fmt.Sprintf("has more than the allowed %d rows", mostMeasuredRows), "is this the right file?")
			return r, root
		}
		if len(cells) <= max(name, measured) || strings.TrimSpace(cells[measured]) == "" {
			continue
		}
		at := func(i int) place {
			line, column := rows.FieldPos(i)
			return place{line, column}
		}
		key, written := strings.TrimSpace(cells[name]), writtenNumber(rows, cells[measured])
		if tree.like(key) != nil {
			r.report(at(name), shorten(key), "comes twice", "keep the row that holds")
			continue
		}
		tree.put(key, at(name), &node{kind: text, at: at(measured), text: written})
	}
	if name < 0 || measured < 0 {
		r.report(root.at, "", "has no header with the columns name and measured", "\"springwright adjust SPRING.toml --form measured.csv\" writes the blank form")
		return r, root
	}
	root.node = tree
	return r, root
}

// rowFault is what is wrong with the text of a table.
func rowFault(file string, err error) fault.Fault {
	f := fault.Fault{File: file, Line: 1, Column: 1, Text: "is no table of comma-separated values", Hint: "save it as CSV again"}
	var parse *csv.ParseError
	if errors.As(err, &parse) {
		f.Line, f.Column = max(1, parse.Line), max(1, parse.Column)
		f.Text = "is no table of comma-separated values: " + parse.Err.Error()
	}
	return f
}

// rows are the rows of a table of comma-separated values, semicolons where its header has more of those; nil where
// it is no such table, which is reported.
func (r *reader) rows(at place, data []byte) *csv.Reader {
	if len(data) > largestFile {
		r.report(at, "", fmt.Sprintf("the file has %d bytes, more than the allowed %d", len(data), largestFile), "is this the right file?")
		return nil
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if !utf8.Valid(data) {
		r.report(at, "", "is no text in UTF-8", "save the table as CSV in UTF-8")
		return nil
	}
	header, _, _ := bytes.Cut(data, []byte("\n"))
	rows := csv.NewReader(bytes.NewReader(data))
	rows.FieldsPerRecord, rows.LazyQuotes, rows.TrimLeadingSpace = -1, false, true
	if bytes.Count(header, []byte(";")) > bytes.Count(header, []byte(",")) {
		rows.Comma = ';'
	}
	return rows
}

// writtenNumber is a cell as it would stand in a TOML file: where semicolons part the cells numbers may have a
// decimal comma.
func writtenNumber(rows *csv.Reader, cell string) string {
	cell = strings.TrimSpace(cell)
	if rows.Comma == ';' && strings.Count(cell, ",") == 1 {
		cell = strings.Replace(cell, ",", ".", 1)
	}
	return cell
}
