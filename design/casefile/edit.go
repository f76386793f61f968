package casefile

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// Entry is a key of a file with its value.
type Entry struct {
	Key   string // dotted, such as "now.along_mm"
	Value string // as TOML: a text in quotes, a number as written; "" takes the key out
}

// Edit sets keys of a TOML file and leaves every other character of it as it is: comments, blank
// lines, the order. A new key stands at the end of its table, a new table at the end of the file.
// Keys are plain words; tables of the file that are written inline or as arrays are not edited.
// The error says what is wrong with the text, or with an entry.
func Edit(data []byte, entries ...Entry) ([]byte, error) {
	for _, e := range entries {
		var err error
		if data, err = edit(data, e); err != nil {
			return nil, err
		}
	}
	return data, nil
}

// stretch is a part of a text by its first and its next offset.
type stretch struct{ from, to int }

func edit(data []byte, e Entry) ([]byte, error) {
	tree, faults := parse("", data)
	if tree == nil || len(faults) > 0 {
		return nil, faults.Err()
	}
	words := strings.Split(e.Key, ".")
	for _, w := range words {
		if w == "" || join("", w) != w {
			return nil, fmt.Errorf("%q is no key that can be edited", shorten(e.Key))
		}
	}
	if e.Value != "" {
		if err := oneValue(e.Value); err != nil {
			return nil, fmt.Errorf("%s: %w", shorten(e.Key), err)
		}
	}
	table := strings.Join(words[:len(words)-1], ".")
	name := words[len(words)-1]

	clean := bytes.TrimPrefix(data, []byte("\ufeff"))
	mark := data[:len(data)-len(clean)]
	found, end, opened := locate(clean, table, name)
	line := name + " = " + e.Value
	var edited []byte
	switch {
	case found != nil && e.Value == "":
		edited = slices.Delete(slices.Clone(clean), found.line.from, found.line.to)
	case found != nil:
		edited = slices.Concat(clean[:found.value.from], []byte(e.Value), clean[found.value.to:])
	case e.Value == "":
		return data, nil
	case opened:
		edited = slices.Concat(clean[:end], []byte(newline(clean[:end])+line+"\n"), clean[end:])
	default:
		edited = slices.Concat(clean, []byte(newline(clean)+"\n["+table+"]\n"+line+"\n"))
	}
	// What cannot be parsed, such as a key that is a table elsewhere, is not handed out.
	if tree, faults := parse("", edited); tree == nil || len(faults) > 0 {
		return nil, fmt.Errorf("%s cannot be set to %s: %w", shorten(e.Key), shorten(e.Value), faults.Err())
	}
	return slices.Concat(mark, edited), nil
}

// newline ends a last line that has no end.
func newline(text []byte) string {
	if len(text) == 0 || text[len(text)-1] == '\n' {
		return ""
	}
	return "\n"
}

// oneValue checks that a text is one value of one line.
func oneValue(value string) error {
	if strings.ContainsAny(value, "\r\n") {
		return errors.New("a value is one line")
	}
	tree, faults := parse("", []byte("value = "+value))
	if tree == nil || len(faults) > 0 {
		return faults.Err()
	}
	// A comment behind it would swallow what follows in the file.
	if at := valueEnd([]byte(value), 0); strings.TrimSpace(value[at:]) != "" {
		return errors.New("a value has nothing behind it")
	}
	return nil
}

// located is where a key stands: all its lines, and its value.
type located struct{ line, value stretch }

// locate finds a key of a table, the offset behind the table's last line that is not blank or a
// comment, and whether the table is opened at all; the one without a name always is.
func locate(data []byte, table, name string) (found *located, end int, opened bool) {
	var parser unstable.Parser
	parser.Reset(slices.Clip(data))
	current := ""
	opened = table == ""
	for parser.NextExpression() {
		e := parser.Expression()
		var path []string
		var first, last unstable.Range
		for it := e.Key(); it.Next(); {
			k := it.Node()
			if path == nil {
				first = k.Raw
			}
			last = k.Raw
			path = append(path, string(k.Data))
		}
		switch e.Kind {
		case unstable.Table, unstable.ArrayTable:
			current = strings.Join(path, ".")
			if e.Kind == unstable.ArrayTable {
				current += "[]"
			}
			if current == table {
				opened, end = true, lineEnd(data, int(last.Offset+last.Length))
			}
		case unstable.KeyValue:
			full := strings.Join(path, ".")
			if current != "" {
				full = current + "." + full
			}
			from := int(last.Offset + last.Length)
			for from < len(data) && strings.IndexByte(" \t=", data[from]) >= 0 {
				from++
			}
			to := valueEnd(data, from)
			if current == table {
				end = lineEnd(data, to)
			}
			wanted := name
			if table != "" {
				wanted = table + "." + name
			}
			if full == wanted {
				found = &located{line: stretch{lineStart(data, int(first.Offset)), lineEnd(data, to)}, value: stretch{from, to}}
			}
		}
	}
	return found, end, opened
}

// lineStart is where the line of an offset begins.
func lineStart(data []byte, at int) int { return bytes.LastIndexByte(data[:at], '\n') + 1 }

// lineEnd is where the next line begins.
func lineEnd(data []byte, at int) int {
	if n := bytes.IndexByte(data[at:], '\n'); n >= 0 {
		return at + n + 1
	}
	return len(data)
}

// valueEnd is the offset behind the value that begins at an offset of a text that parses.
func valueEnd(data []byte, at int) int {
	depth := 0
	for at < len(data) {
		switch c := data[at]; {
		case c == '"' || c == '\'':
			at = quotedEnd(data, at)
			if depth == 0 {
				return at
			}
			continue
		case c == '[' || c == '{':
			depth++
		case c == ']' || c == '}':
			depth--
			if depth == 0 {
				return at + 1
			}
		case c == '#' && depth > 0: // in an array of several lines
			at = lineEnd(data, at)
			continue
		case depth == 0 && strings.IndexByte(" \t\r\n#,", c) >= 0:
			// A date and its time may stand apart by one blank.
			if c == ' ' && at+1 < len(data) && data[at+1] >= '0' && data[at+1] <= '9' {
				break
			}
			return at
		}
		at++
	}
	return at
}

// quotedEnd is the offset behind a text in quotes.
func quotedEnd(data []byte, at int) int {
	quote := data[at : at+1]
	if triple := bytes.Repeat(quote, 3); bytes.HasPrefix(data[at:], triple) {
		quote = triple
	}
	for i := at + len(quote); i < len(data); i++ {
		if data[at] == '"' && data[i] == '\\' {
			i++
			continue
		}
		if bytes.HasPrefix(data[i:], quote) {
			end := i + len(quote)
			for len(quote) == 3 && end < len(data) && data[end] == data[at] { // a quote may stand before the last three
				end++
			}
			return end
		}
	}
	return len(data)
}

// Quoted is a text as TOML.
func Quoted(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteString(`\` + string(r))
		case r < ' ' || r == 0x7f:
			b.WriteString(`\u` + fmt.Sprintf("%04X", r))
		default:
			b.WriteRune(r)
		}
	}
	return b.String() + `"`
}

// Values lists the keys of a TOML file with their values as TOML, in the order of the file; of
// inline tables the keys in them. Empty on a fault of syntax.
func Values(data []byte) []Entry {
	tree, faults := parse("", data)
	if tree == nil || len(faults) > 0 {
		return nil
	}
	var list []Entry
	var walk func(path string, n *node)
	walk = func(path string, n *node) {
		for _, e := range n.entries {
			full := join(path, e.key)
			switch e.value.kind {
			case table:
				walk(full, e.value)
			case text:
				list = append(list, Entry{full, Quoted(e.value.text)})
			case array:
			default:
				list = append(list, Entry{full, e.value.text})
			}
		}
	}
	walk("", tree)
	return list
}
