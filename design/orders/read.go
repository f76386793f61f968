package orders

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/fault"
	"springwright/design/spelling"
	"springwright/design/tooth"
)

// Starts are what rows may start from.
type Starts struct {
	// Presets are the names of the cases that come with the program, Preset is the text of one.
	Presets []string
	Preset  func(name string) ([]byte, error)
	// CaseFile is the text of a case file that a row names.
	CaseFile func(name string) ([]byte, error)
}

// ReadTable reads a list of orders. The error is a fault.List about the whole of it, such as an unknown column;
// what is wrong with one row is kept in its Faults, and the other rows stand. Check finds what is wrong with
// the case that a row makes.
func ReadTable(file string, data []byte, from Starts) ([]Order, error) {
	text, err := decoded(file, data)
	if err != nil {
		return nil, err
	}
	t, err := readCells(file, text)
	if err != nil {
		return nil, err
	}
	r := tableReader{file: file, from: from, starts: map[string]*start{}, semicolon: t.semicolon}
	var list []Order
	for _, row := range t.rows {
		switch {
		case row.remark():
		case r.heads == nil:
			if err := r.header(row); err != nil {
				return nil, err
			}
		default:
			list = append(list, r.row(row)...)
		}
	}
	if len(list) == 0 {
		return nil, fault.List{{File: file, Line: 1, Column: 1, Text: errNoOrders.Error(), Hint: "\"springwright batch --new FILE\" writes a list with an example"}}
	}
	oneCodeEach(list)
	oneClock(list)
	nameAll(list)
	return list, nil
}

// tableReader reads rows.
type tableReader struct {
	file      string
	from      Starts
	starts    map[string]*start
	semicolon bool
	heads     []column // by column; those without a name are empty
	written   []string // the heads as they stand in the list
}

func (r *tableReader) header(row tableRow) error {
	all := columns()
	var faults fault.List
	seen := map[string]int{}
	r.heads = []column{}
	for i, head := range row.cells {
		at := func(text, hint string) {
			faults = append(faults, fault.Fault{File: r.file, Line: row.number, Column: i + 1, Key: fmt.Sprintf("%q (cell %s%d)", head, letters(i+1), row.number), Text: text, Hint: hint})
		}
		c := column{}
		if head != "" {
			var text, hint string
			if c, text, hint = findColumn(all, head); text != "" {
				at(text, hint)
			} else if first, twice := seen[c.name]; twice {
				at("is the column "+letters(first)+" again", "keep one of them")
			} else {
				seen[c.name] = i + 1
			}
		}
		r.heads, r.written = append(r.heads, c), append(r.written, head)
	}
	if _, has := seen[orderColumn]; !has && len(faults) == 0 {
		faults = append(faults, fault.Fault{
			File: r.file, Line: row.number, Column: 1, Text: fmt.Sprintf("row %d has no column %q, by which each order goes", row.number, orderColumn),
			Hint: "the first row names the columns; \"springwright batch --new FILE\" writes a list with every column explained",
		})
	}
	return faults.Err()
}

// row reads an order, with its twin where both sides are wanted.
func (r *tableReader) row(row tableRow) []Order {
	o := Order{File: r.file, Row: row.number, cells: []cell{}}
	own := map[string]cell{} // of the list's own columns
	value := map[string]string{}
	blame := func(c cell, text, hint string) {
		o.Faults = append(o.Faults, fault.Fault{File: r.file, Line: row.number, Column: c.column, Key: c.named(row.number), Text: text, Hint: hint})
	}
	given := map[string]bool{}
	for i, text := range row.cells {
		if text == "" {
			continue
		}
		at := cell{column: i + 1}
		switch {
		case i >= len(r.heads) || r.heads[i].name == "":
			at.head = "column " + letters(i+1)
			blame(at, fmt.Sprintf("%q stands in a column without a name", shorten(text)), "is a separator too many in this row?")
			continue
		case utf8.RuneCountInString(text) > longestCell:
			at.head = r.written[i]
			blame(at, fmt.Sprintf("has more than the allowed %d characters", longestCell), "")
			continue
		}
		c := r.heads[i]
		at.key, at.head = c.name, r.written[i]
		if !strings.Contains(c.name, ".") && c.name != "spring" {
			own[c.name], value[c.name] = at, text
			continue
		}
		written, err := c.toml(text, r.semicolon)
		if err != nil {
			what, hint, _ := strings.Cut(err.Error(), "\n")
			blame(at, fmt.Sprintf("%q %s", shorten(text), what), hint)
			continue
		}
		given[c.name] = true
		o.cells = append(o.cells, at)
		o.entries = append(o.entries, casefile.Entry{Key: c.name, Value: written})
	}
	o.code(value[orderColumn], own[orderColumn], blame)
	var err error
	if o.Due, err = parseDue(value[dueColumn]); err != nil {
		blame(own[dueColumn], fmt.Sprintf("%q %v", shorten(value[dueColumn]), err), "write 2026-11-27 or 2026-11-27 14:00")
	}
	o.start = r.startOf(value, own, blame)
	r.dropOpposites(&o, given)
	o.wire(value[wireColumn], own[wireColumn])
	both := o.teeth(value, own, blame)
	if !both {
		return []Order{o}
	}
	twin := o
	twin.Twin = true
	return []Order{o, twin}
}

// code reads the order's code.
func (o *Order) code(code string, at cell, blame func(cell, string, string)) {
	const longest = 64 // characters; a folder's name keeps 27 of them
	if at.column == 0 {
		at = cell{head: orderColumn, column: 1}
	}
	hidden := func(r rune) bool {
		return unicode.IsControl(r) || r == utf8.RuneError || r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069 || r == 0x200e || r == 0x200f
	}
	switch {
	case code == "":
		blame(at, "is missing", "each order goes by a code, never a patient's name")
	case utf8.RuneCountInString(code) > longest:
		blame(at, fmt.Sprintf("has %d characters, more than the allowed %d", utf8.RuneCountInString(code), longest), "shorten the code")
	case strings.ContainsFunc(code, hidden):
		blame(at, fmt.Sprintf("%q has a line break or a character that is not seen", shorten(code)), "type the code anew")
	case strings.ContainsAny(code[:1], "=+-@"):
		blame(at, fmt.Sprintf("%q begins with %s, which a spreadsheet takes for a formula", shorten(code), code[:1]), "begin the code with a letter or a digit")
	}
	o.Code = code
}

// startOf is the case that a row starts from.
func (r *tableReader) startOf(value map[string]string, own map[string]cell, blame func(cell, string, string)) *start {
	preset, file := value[presetColumn], value[caseColumn]
	key := "p" + preset
	switch {
	case preset != "" && file != "":
		blame(own[caseColumn], "stands beside a preset", "a row starts from one of them")
		return &start{}
	case file != "":
		key = "c" + file
	}
	s := r.starts[key]
	if s == nil {
		s = &start{}
		switch {
		case file != "":
			s.name, s.file = "case file "+file, file
			s.text, s.err = r.from.CaseFile(file)
		case preset != "":
			s.name = "preset " + preset
			s.text, s.err = r.from.Preset(preset)
		}
		if s.err == nil && s.name != "" {
			s.c, s.err = casefile.ReadCase(file, s.text)
			s.read = s.err == nil
		}
		r.starts[key] = s
	}
	switch {
	case s.err == nil:
	case file != "":
		lines := strings.Split(s.err.Error(), "\n")
		blame(own[caseColumn], lines[0], "")
	default:
		hint := "\"springwright presets\" lists them"
		if near := spelling.Nearest(preset, r.from.Presets); near != "" {
			hint = fmt.Sprintf("did you mean %q", near)
		}
		blame(own[presetColumn], fmt.Sprintf("there is no preset %q", shorten(preset)), hint)
	}
	return s
}

// dropOpposites takes out of the case that a row starts from what says the opposite of a cell, and a title that
// is about other teeth.
func (r *tableReader) dropOpposites(o *Order, given map[string]bool) {
	if !o.start.read {
		return
	}
	for _, h := range r.heads {
		if !given[h.name] {
			continue
		}
		for _, other := range h.others {
			if !given[other] {
				o.entries = append(o.entries, casefile.Entry{Key: other})
			}
		}
		if h.name == "spring" {
			o.entries = append(o.entries, casefile.Entry{Key: "spring_file"})
		}
	}
}

// wire puts the wires of a cell in place of those of the case.
func (o *Order) wire(text string, at cell) {
	if text == "" {
		return
	}
	for _, key := range [...]string{"alloy", "thickness_mm", "width_mm", "diameter_mm", "corner_radius_mm", "e_gpa", "poisson", "yield_mpa", "tangent_mpa"} {
		o.entries = append(o.entries, casefile.Entry{Key: "wire." + key})
	}
	value := casefile.Quoted(text)
	if text != "usual" {
		var list []string
		for w := range strings.SplitSeq(text, "|") {
			list = append(list, casefile.Quoted(strings.TrimSpace(w)))
		}
		value = "[" + strings.Join(list, ", ") + "]"
	}
	at.key = "wire"
	o.entries, o.cells = append(o.entries, casefile.Entry{Key: "wire.choose", Value: value}), append(o.cells, at)
}

// teeth reads which teeth the spring is for, and tells whether its twin is wanted. In one piece: the ways to write teeth, in the order in which they are tried.
func (o *Order) teeth(value map[string]string, own map[string]cell, blame func(cell, string, string)) (both bool) {
	read := func(name string) (n tooth.Number) {
		text := value[name]
		if text == "" {
			return 0
		}
		if _, err := fmt.Sscanf(text+" ", "%d ", (*int)(&n)); err != nil || fmt.Sprint(int(n)) != text || !n.Valid() {
			blame(own[name], fmt.Sprintf("%q is no tooth of ISO 3950", shorten(text)), "write such as 37: 11 to 18, 21 to 28, 31 to 38, 41 to 48")
			return 0
		}
		return n
	}
	active, anchor := read(toothColumn), read(anchorColumn)
	side := strings.ToLower(value[sideColumn])
	switch side {
	case "", "right", "left", "both":
	default:
		blame(own[sideColumn], fmt.Sprintf("%q is no side", shorten(value[sideColumn])), "write right, left or both: the patient's")
		side = ""
	}
	before := o.start.c.Teeth
	mirror := false
	switch {
	case active == 0 && side != "" && side != "both" && o.start.read:
		mirror = before.Active.PatientRight() != (side == "right")
	case active != 0 && side != "" && side != "both" && active.PatientRight() != (side == "right"):
		blame(own[sideColumn], fmt.Sprintf("%s, but tooth %d is on the patient's other side", side, int(active)), "which of the two is right? springs of both sides are not the same")
	case active != 0 && o.start.read:
		mirror = active.Quadrant() == before.Active.Mirrored().Quadrant()
	}
	set := func(key, name string, n tooth.Number) {
		o.entries = append(o.entries, casefile.Entry{Key: key, Value: fmt.Sprint(int(n))})
		if at, has := own[name]; has {
			at.key = key
			o.cells = append(o.cells, at)
		}
	}
	if mirror {
		before = before.Mirrored()
		if o.start.c.SpringFile != "" {
			blame(own[sideColumn], "the case has a spring_file, which is for the other side", "draw the mirrored spring in a file of its own")
		}
		o.entries = append(o.entries, joinedMirrored(o.start.c.Anchorage.Joined)...)
	}
	if active == 0 {
		active = before.Active
	}
	if anchor == 0 {
		anchor = before.Anchor
	}
	teeth := tooth.Pair{Anchor: anchor, Active: active}
	if teeth != o.start.c.Teeth {
		if active != 0 {
			set("teeth.active", toothColumn, active)
		}
		if anchor != 0 {
			set("teeth.anchor", anchorColumn, anchor)
		}
		if o.start.c.Title != "" { // which is about other teeth
			o.entries = append(o.entries, casefile.Entry{Key: "title"})
		}
	}
	return side == "both"
}

// oneCodeEach blames codes that come twice.
func oneCodeEach(list []Order) {
	rows := map[string]int{}
	for i := range list {
		o := &list[i]
		if o.Twin || o.Code == "" || o.cells == nil && len(o.Faults) > 0 { // of a file that cannot be read, only its name is known
			continue
		}
		first, twice := rows[o.Code]
		if !twice {
			rows[o.Code] = o.Row
			continue
		}
		o.Faults = append(o.Faults, fault.Fault{
			File: o.File, Line: o.Row, Column: 1, Key: fmt.Sprintf("row %d", o.Row),
			Text: fmt.Sprintf("the code %q is that of row %d already", shorten(o.Code), first), Hint: "give each order a code of its own",
		})
		if i+1 < len(list) && list[i+1].Twin && list[i+1].Row == o.Row {
			list[i+1].Faults = o.Faults
		}
	}
}

// oneClock blames a time without a day in a list that has days: nobody can tell which comes first.
func oneClock(list []Order) {
	days := false
	for _, o := range list {
		days = days || o.Due.Day != ""
	}
	for i := range list {
		if o := &list[i]; days && o.Due.Day == "" && o.Due.Time != "" {
			o.Faults = append(o.Faults, fault.Fault{
				File: o.File, Line: o.Row, Column: 1, Key: fmt.Sprintf("row %d", o.Row),
				Text: fmt.Sprintf("due %s without a day, in a list where others have one", o.Due), Hint: "write the day, too",
			})
		}
	}
}

// OfFile is an order that is a case file of its own, the number-th of its folder.
func OfFile(file string, number int, text []byte) Order {
	o := Order{File: file, Row: number, start: &start{name: "case file " + file, text: text}}
	var err error
	if o.start.c, err = casefile.ReadCase(file, text); err != nil {
		o.Faults, _ = err.(fault.List)
		o.Code = strings.TrimSuffix(lastPart(file), ".toml")
		return o
	}
	o.start.read = true
	o.Code = o.start.c.Code
	o.start.c = design.Case{Code: o.Code} // the rest is read anew
	return o
}

// OfFiles gives the orders of a folder their names.
func OfFiles(list []Order) []Order {
	oneCodeEach(list)
	nameAll(list)
	return list
}

func lastPart(file string) string { return file[strings.LastIndexAny(file, `/\`)+1:] }

// shorten cuts a text that is quoted in a message.
func shorten(s string) string {
	const longest = 40
	if r := []rune(s); len(r) > longest {
		return string(r[:longest-1]) + "…"
	}
	return s
}
