package casefile

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"

	"springwright/design/fault"
	"springwright/design/quantity"
	"springwright/design/spelling"

	"golang.org/x/text/unicode/norm"
)

// reader takes fields out of a document and collects what is wrong with them. A value
// that is faulty is NaN (or the zero of its type) inside the reader, so that checks
// between values, written as "a > b", stay silent about it; nothing of a document with a
// fault leaves the package.
type reader struct {
	file   string
	faults fault.List
	blamed map[subject]bool
	// open takes the numbers of a path that are left open; nil: none may be.
	open *openNumbers
	// named tells that a size written in inches is a name, and stands for what wires and slots of that
	// name measure.
	named bool
}

// subject is what a fault is about.
type subject struct {
	at  place
	key string
}

// section is a table of the document that is being read.
type section struct {
	*reader
	path  string
	at    place // of the table's key; of the enclosing table where it is missing
	node  *node // nil: the table is missing or faulty
	asked []string
	// opposite lists, for a known key that says which way, those that say the other way.
	opposite map[string][]string
}

func open(file string, data []byte) (*reader, *section) {
	root, faults := parse(file, data)
	r := &reader{file: file, faults: faults, blamed: map[subject]bool{}}
	for _, f := range faults {
		r.blamed[subject{place{f.Line, f.Column}, f.Key}] = true
	}
	return r, &section{reader: r, at: place{1, 1}, node: root}
}

func (r *reader) report(at place, key, text, hint string) {
	// One fault of a key in one place is enough: the first is the reason for the others.
	if r.blamed[subject{at, key}] {
		return
	}
	r.blamed[subject{at, key}] = true
	r.faults = append(r.faults, fault.Fault{File: r.file, Line: at.line, Column: at.column, Key: key, Text: text, Hint: hint})
}

// blame records a fault of the value at key, or of the table where the key is missing.
func (s *section) blame(key, text, hint string) {
	at := s.at
	if e := s.peek(key); e != nil {
		at = e.value.at
	}
	s.report(at, join(s.path, key), text, hint)
}

// missing records that key must be given.
func (s *section) missing(key, hint string) {
	if s.node != nil {
		s.report(s.at, join(s.path, key), "is missing", hint)
	}
}

func (s *section) peek(key string) *entry {
	if s.node == nil {
		return nil
	}
	return s.node.find(key)
}

// ask returns the entry at key, nil where it is left out, and remembers that the key is a
// known one.
func (s *section) ask(key string) *entry {
	if !slices.Contains(s.asked, key) {
		s.asked = append(s.asked, key)
	}
	return s.peek(key)
}

func (s *section) has(key string) bool { return s.ask(key) != nil }

// wrongKind records that a value is no want.
func (r *reader) wrongKind(n *node, key, want, hint string) {
	r.report(n.at, key, fmt.Sprintf("is %s, not %s", n.kind, want), hint)
}

// table opens the table at key. It is never nil; where the table is missing or is none,
// its fields are silently missing.
func (s *section) table(key string) *section {
	sub := &section{reader: s.reader, path: join(s.path, key), at: s.at}
	e := s.ask(key)
	if e == nil {
		return sub
	}
	sub.at = e.at
	if e.value.kind != table {
		s.wrongKind(e.value, sub.path, "a table", fmt.Sprintf("write [%s] and its keys below it, or %s = { … }", sub.path, key))
		return sub
	}
	sub.node = e.value
	return sub
}

// required opens the table at key and records a fault where it is missing.
func (s *section) required(key, hint string) *section {
	if !s.has(key) {
		s.missing(key, hint)
	}
	return s.table(key)
}

// unknown are the entries that nobody has asked for so far.
func (s *section) unknown() []entry {
	if s.node == nil {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(s.node.entries), func(e entry) bool { return slices.Contains(s.asked, e.key) })
}

// close records every key that nobody asked for.
func (s *section) close() {
	if s.node == nil {
		return
	}
	for _, e := range s.unknown() {
		hint := "remove it"
		if len(s.asked) > 0 {
			hint = "known here: " + strings.Join(s.asked, ", ")
		}
		if near := s.meant(e.key); near != "" {
			hint = "did you mean " + near + "?"
		}
		s.report(e.at, join(s.path, shorten(e.key)), "is not a known key", hint)
	}
}

// meant is the known key that a misspelt one most likely stands for; "" where none is near,
// or where it could as well stand for one that means the opposite.
func (s *section) meant(misspelt string) string {
	near := spelling.Nearest(misspelt, s.asked)
	if others := s.opposite[near]; len(others) > 0 && !spelling.Clearly(misspelt, near, others) {
		return ""
	}
	return near
}

// text reads a text of one line; left out it is "".
func (s *section) text(key string, longest int) string {
	e := s.ask(key)
	if e == nil {
		return ""
	}
	n := e.value
	switch length := len([]rune(n.text)); {
	case n.kind != text:
		s.wrongKind(n, join(s.path, key), "a text", "put it in quotes")
		return ""
	case length > longest:
		s.blame(key, fmt.Sprintf("has %d characters, more than the allowed %d", length, longest), "shorten it")
	case strings.ContainsFunc(n.text, func(r rune) bool { return !unicode.IsPrint(r) }):
		s.blame(key, "holds a character that cannot be printed", "write one line of plain text")
	}
	return n.text
}

// title reads the title. Some systems write an accent as a mark of its own behind its letter;
// typefaces, and people who count characters, know the two as one.
func (s *section) title() string {
	if e := s.peek("title"); e != nil && e.value.kind == text {
		e.value.text = norm.NFC.String(e.value.text)
	}
	return s.text("title", longestTitle)
}

// word reads one of a few words; ok is false where it is missing or another.
func (s *section) word(key string, words ...string) (word string, ok bool) {
	e := s.ask(key)
	choice := fmt.Sprintf("write %q", words[0])
	for _, w := range words[1:] {
		choice += fmt.Sprintf(" or %q", w)
	}
	switch {
	case e == nil:
		s.missing(key, choice)
	case e.value.kind != text:
		s.wrongKind(e.value, join(s.path, key), "a text", choice)
	case slices.Contains(words, e.value.text):
		return e.value.text, true
	default:
		s.blame(key, fmt.Sprintf("%q is not a known word here", shorten(e.value.text)), choice)
	}
	return "", false
}

// whole reads a whole number from lo to hi; left out it is fallback.
func (s *section) whole(key string, lo, hi, fallback int) int {
	e := s.ask(key)
	if e == nil {
		return fallback
	}
	n := e.value
	allowed := fmt.Sprintf("a whole number from %d to %d", lo, hi)
	switch {
	case n.kind != number:
		s.wrongKind(n, join(s.path, key), allowed, "check the value")
	case math.IsNaN(n.value): // the document has already said so
	case !n.whole:
		s.blame(key, n.text+" is not "+allowed, "write it without a point and an exponent")
	case n.value < float64(lo) || n.value > float64(hi):
		s.blame(key, n.text+" is not "+allowed, "check the value")
	default:
		return int(n.value)
	}
	return fallback
}

// span is what a quantity may be: from Low to High in the unit of its key, both allowed
// unless Above.
type span struct {
	unit      quantity.Unit
	low, high float64
	above     bool // low itself is not allowed
}

func (a span) String() string {
	low := quantity.Format(a.low)
	if a.above {
		low = "above " + low
	}
	return strings.TrimSpace(low + " to " + quantity.Format(a.high) + " " + a.unit.Symbol)
}

// holds allows for the rounding of a conversion there and back at the ends of the span.
func (a span) holds(value float64) bool {
	slack := 1e-13 * max(math.Abs(a.low), math.Abs(a.high))
	if a.above && value <= a.low {
		return false
	}
	return value >= a.low-slack && value <= a.high+slack
}

// optional reads a quantity in the program's own unit; left out it is fallback, given in
// the unit of the key.
func (s *section) optional(key string, a span, fallback float64) float64 {
	if e := s.ask(key); e != nil {
		return s.quantity(e.value, join(s.path, key), a)
	}
	return a.unit.Inside(fallback)
}

// needed reads a quantity that must be given.
func (s *section) needed(key string, a span, hint string) float64 {
	if e := s.ask(key); e != nil {
		return s.quantity(e.value, join(s.path, key), a)
	}
	s.missing(key, hint)
	return math.NaN()
}

// quantity reads a number in the unit of a, or a text with a unit of its own.
func (r *reader) quantity(n *node, key string, a span) float64 {
	inside := math.NaN()
	written := n.text
	switch {
	case n.kind == number:
		inside = a.unit.Inside(n.value)
		written = strings.TrimSpace(written + " " + a.unit.Symbol)
	case n.kind == text && a.unit != plain:
		value, err := quantity.ParseBare(n.text, a.unit)
		if err != nil {
			r.reportParse(n, key, err)
			return inside
		}
		inside = value
		written = fmt.Sprintf("%q", shorten(n.text))
		if own := quantity.Format(a.unit.Outside(inside)) + " " + a.unit.Symbol; strings.ReplaceAll(own, " ", "") != strings.ReplaceAll(n.text, " ", "") {
			written += " (" + own + ")"
		}
	default:
		r.wrongKind(n, key, "a number", "write a number, allowed is "+a.String())
		return inside
	}
	if math.IsNaN(inside) { // the document has already said so
		return inside
	}
	if !a.holds(a.unit.Outside(inside)) {
		hint := "check the value"
		if a.unit.Symbol != "" {
			hint += "; a number without a unit is in " + a.unit.Symbol + " here"
		}
		r.report(n.at, key, written+" is out of range, allowed is "+a.String(), hint)
		return math.NaN()
	}
	return inside
}

func (r *reader) reportParse(n *node, key string, err error) {
	var parse *quantity.ParseError
	if errors.As(err, &parse) {
		r.report(n.at, key, parse.Summary(), parse.Advice)
		return
	}
	r.report(n.at, key, err.Error(), "")
}
