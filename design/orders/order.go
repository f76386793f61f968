package orders

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/fault"
	"springwright/design/tooth"
)

// Order is one spring that is to be made. What it takes to make it is read anew each time, so that a long list
// takes little room.
type Order struct {
	Code string // as it was written
	Name string // of its folder, and the case code of its sheets
	Twin bool   // the mirrored spring of the order before it
	File string // the list, or the case file
	Row  int    // of the list, from 1; of a folder, the number of the file
	Due  Due
	// Faults are all that is wrong with it as far as it is known before it is read.
	Faults fault.List

	start   *start
	entries []casefile.Entry
	cells   []cell
}

// start is the case that a row starts from: a preset, a case file, or an empty one.
type start struct {
	name string // as a fault names it
	file string // "" for none
	text []byte
	c    design.Case // of Read; the zero case of an empty one
	read bool
	err  error
}

// cell says where a key of the case file stands in the list.
type cell struct {
	key, head string
	column    int
}

// Case reads the order: its text as a case file, and the case. The error is a fault.List, and names the cells of
// the list that it is about.
func (o Order) Case() (text []byte, c design.Case, err error) {
	if len(o.Faults) > 0 {
		return nil, design.Case{}, o.allFaults()
	}
	entries := o.entries
	if o.cells == nil { // a case file as it is, but for the code of a twin
		entries = nil
	}
	if o.cells != nil || o.Twin || o.Name != o.start.c.Code {
		entries = append(slices.Clone(entries), casefile.Entry{Key: "case", Value: casefile.Quoted(o.Name)})
	}
	if text, err = casefile.Edit(o.start.text, entries...); err != nil {
		return nil, design.Case{}, o.placed(err)
	}
	if c, err = casefile.ReadCase(o.File, text); err != nil {
		return nil, design.Case{}, o.placed(err)
	}
	if !o.Twin {
		return text, c, nil
	}
	if c.SpringFile != "" {
		return nil, design.Case{}, fault.List{{File: o.File, Line: o.Row, Column: 1, Text: "a case with spring_file has no twin", Hint: "draw the mirrored spring in a file of its own"}}
	}
	if text, err = casefile.Edit(text, mirrored(c.Teeth, c.Anchorage.Joined)...); err != nil {
		return nil, design.Case{}, o.placed(err)
	}
	if c.Title != "" { // which may name the other side
		if text, err = casefile.Edit(text, casefile.Entry{Key: "title"}); err != nil {
			return nil, design.Case{}, o.placed(err)
		}
	}
	c, err = casefile.ReadCase(o.File, text)
	return text, c, err
}

// allFaults are those of the row, and what is wrong with its other cells as far as the case can be read.
func (o Order) allFaults() error {
	all := slices.Clone(o.Faults)
	if o.start == nil || !o.start.read || o.cells == nil {
		return all.Err()
	}
	rest := o
	rest.Faults = nil
	_, _, err := rest.Case()
	more, _ := err.(fault.List)
	for _, f := range more {
		// What is wrong with the whole may come of the faults that are known.
		if f.Column > 1 && !slices.ContainsFunc(all, func(known fault.Fault) bool { return known.Line == f.Line && known.Column == f.Column }) {
			all = append(all, f)
		}
	}
	return all.Err()
}

// mirrored sets the teeth of a case to those of the other side.
func mirrored(teeth tooth.Pair, joined []tooth.Number) []casefile.Entry {
	teeth = teeth.Mirrored()
	entries := []casefile.Entry{
		{Key: "teeth.active", Value: fmt.Sprint(int(teeth.Active))}, {Key: "teeth.anchor", Value: fmt.Sprint(int(teeth.Anchor))},
	}
	return append(entries, joinedMirrored(joined)...)
}

func joinedMirrored(joined []tooth.Number) []casefile.Entry {
	if len(joined) == 0 {
		return nil
	}
	var numbers []string
	for _, n := range joined {
		numbers = append(numbers, fmt.Sprint(int(n.Mirrored())))
	}
	return []casefile.Entry{{Key: "anchor.joined", Value: "[" + strings.Join(numbers, ", ") + "]"}}
}

// placed turns faults of the case that a row makes into faults of the row.
func (o Order) placed(err error) error {
	list, ok := err.(fault.List)
	if !ok {
		list = fault.List{{Text: err.Error()}}
	}
	if o.cells == nil {
		return list
	}
	var out fault.List
	var missing []string
	for _, f := range list {
		one := o.cellFault(f)
		if o.start.name == "" && one.Column == 1 && f.Text == missingText {
			missing = append(missing, f.Key)
			continue
		}
		out = append(out, one)
	}
	if len(missing) > 0 {
		out = append(out, fault.Fault{
			File: o.File, Line: o.Row, Column: 1, Key: fmt.Sprintf("row %d", o.Row),
			Text: "starts from no preset or case file, and leaves out what a case needs: " + strings.Join(missing, ", "),
			Hint: "name one in the column " + presetColumn + " or " + caseColumn + ", or fill in what is missing",
		})
	}
	return out.Err()
}

// missingText is what a case file's reader says of a key that it needs.
const missingText = "is missing"

func (o Order) cellFault(f fault.Fault) fault.Fault {
	best := cell{}
	for _, c := range o.cells {
		if within := f.Key == c.key || strings.HasPrefix(f.Key, c.key+".") || strings.HasPrefix(f.Key, c.key+"["); within && len(c.key) > len(best.key) {
			best = c
		}
	}
	if best.key == "" {
		where := f.Key
		if o.start.name != "" {
			where = strings.TrimSpace(o.start.name + ": " + where)
		}
		return fault.Fault{File: o.File, Line: o.Row, Column: 1, Key: fmt.Sprintf("row %d", o.Row), Text: strings.TrimPrefix(where+": "+f.Text, ": "), Hint: f.Hint}
	}
	return fault.Fault{File: o.File, Line: o.Row, Column: best.column, Key: best.named(o.Row), Text: f.Text, Hint: f.Hint}
}

// named is such as "now.along_mm (cell F12)".
func (c cell) named(row int) string {
	return fmt.Sprintf("%s (cell %s%d)", c.head, letters(c.column), row)
}

// OfTheDay puts orders in the order of the day: what is due first, what is not said last, and otherwise as they
// stand in the list, a twin behind its spring.
func OfTheDay(list []Order) []Order {
	sorted := slices.Clone(list)
	slices.SortStableFunc(sorted, func(a, b Order) int {
		twin := func(o Order) int {
			if o.Twin {
				return 1
			}
			return 0
		}
		return cmp.Or(a.Due.compare(b.Due), cmp.Compare(a.Row, b.Row), cmp.Compare(twin(a), twin(b)))
	})
	return sorted
}

// CaseFile is the case file that the order is or starts from, as its reader was told; "" for none.
func (o Order) CaseFile() string {
	if o.cells == nil {
		return o.File
	}
	return o.start.file
}

// FromTable tells that the order is a row of a list.
func (o Order) FromTable() bool { return o.cells != nil }
