package casefile

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"springwright/design"
	"springwright/design/fault"
	"springwright/design/spring"
)

// ClassSheet is what a student of a class was to bend.
type ClassSheet struct {
	Code   string
	Spring spring.Spring
	Bender design.Bender
	Gauge  *GaugeWay
}

// ClassReading is what was measured of one student's spring, or what is wrong with it.
type ClassReading struct {
	Code     string // as written, where it is nobody's
	Sheet    int    // of the class, from 0; −1: of nobody
	Measured spring.Measured
	Faults   fault.List // then nothing of it is to be used
}

const (
	studentColumn     = "student"
	mostClassReadings = 1000 // rows of a table: five of the largest class (choice)
)

// ReadClassMeasured reads what was measured of the springs of a class: comma-separated values where the name ends
// in .csv, a row for each student with his code in the column student and a column for each key of ReadMeasured;
// else TOML, with a table for each student, [code]. Faults of one student's numbers are told with them and stop no
// other; those of the whole file are the error, a fault.List.
func ReadClassMeasured(name string, data []byte, class []ClassSheet) ([]ClassReading, error) {
	var r *reader
	var students []entry
	if strings.HasSuffix(strings.ToLower(name), ".csv") {
		r = &reader{file: name, blamed: map[subject]bool{}}
		students = r.classRows(data)
	} else {
		var root *section
		if r, root = open(name, data); root.node != nil {
			students = root.node.entries
		}
	}
	if err := r.faults.Err(); err != nil {
		return nil, err
	}
	if len(students) == 0 {
		r.report(place{1, 1}, "", "holds no student", "write a row for each student, as in the blank table that \"handout\" writes")
		return nil, r.faults.Err()
	}
	var all []ClassReading
	seen := map[int]int{} // sheet: reading
	for _, e := range students {
		one := readingOf(name, e, class)
		if first, twice := seen[one.Sheet]; twice && one.Sheet >= 0 {
			one.Faults = fault.List{{File: name, Line: e.at.line, Column: e.at.column, Key: shorten(e.key), Text: fmt.Sprintf("comes twice: first in line %d", students[first].at.line), Hint: "keep the row that holds"}}
		} else {
			seen[one.Sheet] = len(all)
		}
		all = append(all, one)
	}
	return all, nil
}

// readingOf reads one student's table.
func readingOf(file string, e entry, class []ClassSheet) ClassReading {
	r := &reader{file: file, blamed: map[subject]bool{}}
	one := ClassReading{Code: shorten(e.key)}
	one.Sheet = slices.IndexFunc(class, func(s ClassSheet) bool { return strings.EqualFold(s.Code, e.key) })
	switch {
	case one.Sheet < 0:
		r.report(e.at, shorten(e.key), "is the code of no student of this class", "the codes are those of the sheets, such as "+Quoted(class[0].Code))
	case e.value.kind != table:
		r.wrongKind(e.value, shorten(e.key), "a table", "write ["+shorten(e.key)+"] and what was measured below it")
	default:
		s := class[one.Sheet]
		root := &section{reader: r, path: shorten(e.key), at: e.at, node: e.value}
		one.Measured = root.readings(s.Spring, s.Bender, s.Gauge)
		root.close()
		if one.Measured.None() && len(r.faults) == 0 {
			r.report(e.at, shorten(e.key), "holds no reading", "write what was measured")
		}
	}
	if one.Sheet >= 0 {
		one.Code = class[one.Sheet].Code
	}
	if len(r.faults) > 0 {
		one.Measured, one.Faults = spring.Measured{}, r.faults
	}
	return one
}

// classRows are the rows of a table as the tables of a TOML file; what is wrong with the whole is reported. Rows
// in which nothing was filled in are left out.
//
// In one piece: each row is refused or taken where it stands.
func (r *reader) classRows(data []byte) []entry {
	start := place{1, 1}
	rows := r.rows(start, data)
	if rows == nil {
		return nil
	}
	header, err := rows.Read()
	if err != nil && !errors.Is(err, io.EOF) {
		r.faults = append(r.faults, rowFault(r.file, err))
		return nil
	}
	student := -1
	for i := range header {
		header[i] = strings.TrimSpace(header[i])
		if strings.EqualFold(header[i], studentColumn) && student < 0 {
			student = i
		}
	}
	if student < 0 {
		r.report(start, "", "has no header with the column student", "\"springwright handout\" writes the blank table")
		return nil
	}
	var all []entry
	for {
		cells, err := rows.Read()
		if errors.Is(err, io.EOF) {
			return all
		}
		if err != nil {
			r.faults = append(r.faults, rowFault(r.file, err))
			return nil
		}
		if len(all) == mostClassReadings {
			r.report(start, "", fmt.Sprintf("has more than the allowed %d rows", mostClassReadings), "is this the right file?")
			return nil
		}
		at := func(i int) place {
			line, column := rows.FieldPos(i)
			return place{line, column}
		}
		row := newTable(at(0))
		for i, cell := range cells {
			switch {
			case i == student || strings.TrimSpace(cell) == "":
			case i >= len(header) || header[i] == "":
				r.report(at(i), "", fmt.Sprintf("%q stands in a column without a name", shorten(strings.TrimSpace(cell))), "is there a comma too many in this row?")
				return nil
			case row.like(header[i]) != nil:
				r.report(start, shorten(header[i]), "is the name of two columns", "keep the one that holds")
				return nil
			default:
				row.put(header[i], at(i), &node{kind: text, at: at(i), text: writtenNumber(rows, cell)})
			}
		}
		if len(row.entries) == 0 {
			continue
		}
		if len(cells) <= student || strings.TrimSpace(cells[student]) == "" {
			r.report(row.at, "", "a row has readings and no student", "write the student's code in the column student")
			return nil
		}
		all = append(all, entry{strings.TrimSpace(cells[student]), at(student), row})
	}
}

// ClassTable is the blank table of ReadClassMeasured as comma-separated values.
func ClassTable(class []ClassSheet) []byte {
	columns := []string{studentColumn}
	for _, s := range class {
		for _, key := range StepKeys(s.Spring.Path) {
			if !slices.Contains(columns, key) {
				columns = append(columns, key)
			}
		}
	}
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	// A buffer takes everything: the only errors a csv.Writer passes on are its own.
	_ = w.Write(columns)
	for _, s := range class {
		row := make([]string, len(columns))
		row[0] = s.Code
		_ = w.Write(row)
	}
	w.Flush()
	return b.Bytes()
}
