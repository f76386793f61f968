package casefile

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"springwright/design/fault"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"
)

type kind int

const (
	table kind = iota
	array
	text
	number
	boolean
	date
)

func (k kind) String() string {
	return [...]string{"a table", "an array", "a text", "a number", "true or false", "a date or time"}[k]
}

// place is a line and a column, both from 1, the column counted in characters.
type place struct{ line, column int }

// node is a value of a TOML document and where it stands.
type node struct {
	kind    kind
	at      place
	text    string         // of a text; as written, of a number
	value   float64        // of a number
	whole   bool           // the number was written without point and exponent
	entries []entry        // of a table, in the order of the file
	index   map[string]int // into entries, by the key in lower case
	items   []*node        // of an array
	opened  bool           // a [header] opened the table
}

// entry is a key of a table.
type entry struct {
	key   string
	at    place
	value *node
}

func newTable(at place) *node { return &node{kind: table, at: at, index: map[string]int{}} }

// like returns the entry whose key is key or differs from it only in case.
func (n *node) like(key string) *entry {
	if i, ok := n.index[strings.ToLower(key)]; ok {
		return &n.entries[i]
	}
	return nil
}

func (n *node) find(key string) *entry {
	if e := n.like(key); e != nil && e.key == key {
		return e
	}
	return nil
}

func (n *node) put(key string, at place, value *node) {
	n.index[strings.ToLower(key)] = len(n.entries)
	n.entries = append(n.entries, entry{key, at, value})
}

// document reads TOML into a tree that knows where everything stands.
type document struct {
	file  string
	data  []byte
	lines []int // where each line begins in data
	last  struct {
		offset int
		at     place
	}
	parser unstable.Parser
	root   *node
	faults fault.List
}

const (
	// largestFile keeps a mistaken file name (a photo, a scan) from being read as text.
	largestFile = 1 << 18
	// longestPath bounds how deep tables and arrays nest.
	longestPath = 200
)

// parse returns the tree of a TOML document. On a fault of syntax it is nil; keys that
// come twice are faults, too, but leave a tree of what came first.
func parse(file string, data []byte) (*node, fault.List) {
	start := place{1, 1}
	d := document{file: file, root: newTable(start), lines: []int{0}}
	if len(data) > largestFile {
		d.add(start, "", fmt.Sprintf("the file has %d bytes, more than the allowed %d", len(data), largestFile), "is this the right file?")
		return nil, d.faults
	}
	// Editors on Windows write a byte-order mark, which TOML does not know. The slice is
	// clipped because the parser finds places by capacity.
	d.data = slices.Clip(bytes.TrimPrefix(data, []byte("\ufeff")))
	for i, c := range d.data {
		if c == '\n' {
			d.lines = append(d.lines, i+1)
		}
	}
	if !d.build() {
		return nil, d.faults
	}
	if len(d.faults) == 0 {
		d.check()
	}
	return d.root, d.faults
}

func (d *document) add(at place, key, text, hint string) {
	d.faults = append(d.faults, fault.Fault{File: d.file, Line: at.line, Column: at.column, Key: key, Text: text, Hint: hint})
}

// check has the package's own reader look for what build does not see: it is stricter on
// how tables may be reopened and on how numbers are written.
func (d *document) check() {
	var whole map[string]any
	err := toml.Unmarshal(d.data, &whole)
	if err == nil {
		return
	}
	var decode *toml.DecodeError
	if !errors.As(err, &decode) {
		d.syntax(place{1, 1}, err.Error())
		return
	}
	line, column := decode.Position()
	d.syntax(d.characters(line, column), decode.Error())
}

// build makes the tree and tells whether the syntax allows one.
func (d *document) build() bool {
	d.parser.Reset(d.data)
	current, name := d.root, ""
	for d.parser.NextExpression() {
		e := d.parser.Expression()
		switch e.Kind {
		case unstable.KeyValue:
			d.assign(current, name, e)
		case unstable.Table, unstable.ArrayTable:
			current, name = d.open(e)
		}
	}
	err := d.parser.Error()
	if err == nil {
		return true
	}
	var wrong *unstable.ParserError
	if !errors.As(err, &wrong) {
		d.syntax(place{1, 1}, err.Error())
		return false
	}
	d.syntax(d.place(d.parser.Range(wrong.Highlight)), wrong.Message)
	return false
}

// syntax records a fault of TOML itself, in the words of its parser.
func (d *document) syntax(at place, message string) {
	message = strings.TrimPrefix(message, "toml: ")
	hint := "look for a missing quote, bracket or equals sign"
	switch {
	case !utf8.Valid(d.data) || bytes.IndexByte(d.data, 0) >= 0:
		hint = "this is no text in UTF-8: give the file itself, or save it as UTF-8"
	case strings.Contains(message, "expected '='") && at.line == 1:
		hint = "lines of these files are such as case = \"a-code\": is it another kind of file?"
	case strings.Contains(message, "','") || decimalComma.Match(d.line(at.line)):
		hint = "write a decimal point in numbers; a comma only separates values inside brackets"
	case strings.Contains(message, "already"):
		hint = "keep one of the two"
	case strings.Contains(message, "too large"), strings.Contains(message, "out of range"):
		message, hint = "the number is too large", "write a smaller one"
	case strings.Contains(message, "leading zero"):
		hint = "write 7 instead of 07"
	case strings.Contains(message, "UTF-8"):
		hint = "save the file as UTF-8"
	}
	d.add(at, "", message, hint)
}

// decimalComma is a number that is written with a comma, such as 0,3.
var decimalComma = regexp.MustCompile(`=\s*[-+]?\d+,\d`)

// line is that of a number, from 1; nil beyond the last.
func (d *document) line(number int) []byte {
	for at := range bytes.Lines(d.data) {
		if number--; number == 0 {
			return at
		}
	}
	return nil
}

// open finds or makes the table that a [header] opens.
func (d *document) open(e *unstable.Node) (*node, string) {
	in, path := d.root, ""
	for it := e.Key(); it.Next(); {
		k := it.Node()
		key, at := string(k.Data), d.place(k.Raw)
		path = join(path, key)
		next := d.table(in, path, key, at, it.IsLast() && e.Kind == unstable.ArrayTable)
		if next == nil {
			return newTable(at), path
		}
		in = next
		if it.IsLast() && in.opened {
			d.twice(path, at, &entry{key: path, at: in.at})
			return newTable(at), path
		}
	}
	in.opened = true
	return in, path
}

// table returns the table at key, making it where it is missing; with another, it makes
// another table of an array of tables. It is nil, and a fault recorded, where key already
// has a value of another kind.
func (d *document) table(in *node, path, key string, at place, another bool) *node {
	if len(path) > longestPath {
		d.add(at, shorten(path), "tables are nested too deeply", "remove the table")
		return nil
	}
	found := in.like(key)
	switch {
	case found == nil && another:
		list := &node{kind: array, at: at, items: []*node{newTable(at)}}
		in.put(key, at, list)
		return list.items[0]
	case found == nil:
		next := newTable(at)
		in.put(key, at, next)
		return next
	case found.key != key:
	case found.value.kind == table && !another:
		return found.value
	case found.value.kind == array && another:
		next := newTable(at)
		found.value.items = append(found.value.items, next)
		return next
	case found.value.kind == array && len(found.value.items) > 0:
		if last := found.value.items[len(found.value.items)-1]; last.kind == table {
			return last
		}
	}
	d.twice(path, at, found)
	return nil
}

// twice records a key that came before. Keys that differ only in case count as one: TOML
// takes them for two, and whoever reads the file would not.
func (d *document) twice(path string, at place, first *entry) {
	if len(path) > longestPath {
		path = shorten(path)
	}
	d.add(at, path, fmt.Sprintf("already given as %s in line %d", shorten(first.key), first.at.line), "keep one of the two")
}

// assign puts key = value into a table; dotted keys open tables on the way.
func (d *document) assign(in *node, path string, e *unstable.Node) {
	value := e.Value()
	for it := e.Key(); it.Next(); {
		k := it.Node()
		key, at := string(k.Data), d.place(k.Raw)
		path = join(path, key)
		if !it.IsLast() {
			if in = d.table(in, path, key, at, false); in == nil {
				return
			}
			continue
		}
		if found := in.like(key); found != nil {
			d.twice(path, at, found)
			return
		}
		start := d.offsetPlace(d.valueStart(int(k.Raw.Offset + k.Raw.Length)))
		in.put(key, at, d.node(value, path, start))
	}
}

// valueStart skips the equals sign and blanks behind a key.
func (d *document) valueStart(offset int) int {
	for offset < len(d.data) && strings.IndexByte(" \t=", d.data[offset]) >= 0 {
		offset++
	}
	return offset
}

// node turns a value into a node. fallback is its place where the parser tells none: it
// does not for arrays.
func (d *document) node(v *unstable.Node, path string, fallback place) *node {
	n := &node{at: fallback}
	if v.Raw.Length > 0 {
		n.at = d.place(v.Raw)
	}
	if len(path) > longestPath {
		d.add(n.at, shorten(path), "values are nested too deeply", "remove brackets")
		return n
	}
	switch v.Kind {
	case unstable.InlineTable:
		n = newTable(n.at)
		for it := v.Children(); it.Next(); {
			d.assign(n, path, it.Node())
		}
	case unstable.Array:
		n.kind = array
		for it := v.Children(); it.Next(); {
			n.items = append(n.items, d.node(it.Node(), fmt.Sprintf("%s[%d]", path, len(n.items)+1), n.at))
		}
	case unstable.String:
		n.kind, n.text = text, string(v.Data)
	case unstable.Bool:
		n.kind, n.text = boolean, string(v.Data)
	case unstable.Float, unstable.Integer:
		d.number(n, v, path)
	default:
		n.kind, n.text = date, string(v.Data)
	}
	return n
}

func (d *document) number(n *node, v *unstable.Node, path string) {
	n.kind, n.text, n.whole = number, string(v.Data), v.Kind == unstable.Integer
	if n.whole {
		i, err := strconv.ParseInt(n.text, 0, 64)
		n.value = float64(i)
		if err != nil {
			n.value = math.Inf(1)
		}
	} else {
		n.value, _ = strconv.ParseFloat(strings.ReplaceAll(n.text, "_", ""), 64)
	}
	if math.IsNaN(n.value) || math.IsInf(n.value, 0) {
		problem := " is not a finite number"
		if strings.ContainsAny(n.text, "0123456789") {
			problem = " is too large a number"
		}
		d.add(n.at, path, shorten(n.text)+problem, "write a plain decimal number")
		n.value = math.NaN()
	}
	n.text = shorten(n.text) // it is only shown from here on
}

func (d *document) place(r unstable.Range) place { return d.offsetPlace(int(r.Offset)) }

// offsetPlace counts characters from the last place it was asked for, where that is
// nearer than the start of the line: a long line would else be counted for each value.
func (d *document) offsetPlace(offset int) place {
	offset = min(offset, len(d.data))
	line, found := slices.BinarySearch(d.lines, offset)
	if !found {
		line--
	}
	start, column := d.lines[line], 1
	if d.last.at.line == line+1 && d.last.offset <= offset {
		start, column = d.last.offset, d.last.at.column
	}
	d.last.offset = offset
	d.last.at = place{line + 1, column + utf8.RuneCount(d.data[start:offset])}
	return d.last.at
}

// characters turns a column counted in bytes into one counted in characters.
func (d *document) characters(line, column int) place {
	if line < 1 || line > len(d.lines) {
		return place{max(line, 1), max(column, 1)}
	}
	return d.offsetPlace(min(d.lines[line-1]+max(column-1, 0), len(d.data)))
}
