package casefile

import "bytes"

// levelsOverLines says how many levels of the values of some keys stand on lines of their own: 1 a
// list or an object, 2 its items, too. All else stands within a line.
var levelsOverLines = map[string]int{"axes": 1, "wire": 1, "files": 1, "candidates": 2, "positions": 2, "bent_springs": 1, "misses": 1, "exceeded": 1}

// layOut writes JSON without white space, whose strings it leaves as they are, such that a person can
// read it: indented by 2, small objects and lists within a line.
func layOut(compact []byte) []byte {
	l := layout{in: compact}
	l.value("\n", 1)
	l.out.WriteByte('\n')
	return l.out.Bytes()
}

type layout struct {
	in  []byte
	at  int
	out bytes.Buffer
}

// value writes the next value; begin is the beginning of the line that it stands on.
func (l *layout) value(begin string, levels int) {
	switch open := l.in[l.at]; open {
	case '{', '[':
		l.items(open == '{', begin, levels)
	case '"':
		l.out.WriteString(l.text())
	default:
		length := bytes.IndexAny(l.in[l.at:], ",]}")
		l.out.Write(l.in[l.at : l.at+length])
		l.at += length
	}
}

// text is the next string with its quotation marks.
func (l *layout) text() string {
	from := l.at
	for l.at++; l.in[l.at] != '"'; l.at++ {
		if l.in[l.at] == '\\' {
			l.at++
		}
	}
	l.at++
	return string(l.in[from:l.at])
}

// items writes an object or a list.
func (l *layout) items(object bool, begin string, levels int) {
	first, between, last := "", ", ", ""
	if levels > 0 {
		first, between, last = begin+"  ", ","+begin+"  ", begin
	} else if object {
		first, last = " ", " "
	}
	l.out.WriteByte(l.in[l.at])
	l.at++
	for some := false; ; some = true {
		switch l.in[l.at] {
		case '}', ']':
			if some {
				l.out.WriteString(last)
			}
			l.out.WriteByte(l.in[l.at])
			l.at++
			return
		case ',':
			l.at++
			l.out.WriteString(between)
		default:
			l.out.WriteString(first)
		}
		inner := levels - 1
		if object {
			key := l.text()
			l.at++ // the colon
			l.out.WriteString(key + ": ")
			inner = levelsOverLines[key[1:len(key)-1]]
		}
		l.value(begin+"  ", inner)
	}
}
