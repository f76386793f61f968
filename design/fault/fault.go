// Package fault says what is wrong with a file or a value from the command line, where,
// what would be allowed and what to do about it. All faults of a file travel together.
package fault

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Fault is one thing that is wrong.
type Fault struct {
	File   string // name as the user gave it; "" for a value from the command line
	Line   int    // from 1; 0 where the place is not known
	Column int    // from 1, counted in characters; 0 where the place is not known
	Key    string // such as "wire.thickness_mm" or "--height"; "" for the whole file
	Text   string // what is wrong: value, unit, allowed range; lower case, no full stop
	Hint   string // what to do; "" for none
}

// Error returns "file:line:column: key: text" and, on a line of its own, the hint.
func (f Fault) Error() string {
	var b strings.Builder
	if f.File != "" {
		b.WriteString(f.File)
		if f.Line > 0 {
			fmt.Fprintf(&b, ":%d:%d", f.Line, f.Column)
		}
		b.WriteString(": ")
	}
	if f.Key != "" {
		b.WriteString(f.Key + ": ")
	}
	b.WriteString(f.Text)
	if f.Hint != "" {
		b.WriteString("\n  hint: " + f.Hint)
	}
	return b.String()
}

// List is all faults of a file. It is an error; errors.As finds it.
type List []Fault

// mostShown faults are a screenful; whoever has more will rather mend these and look again
// (choice).
const mostShown = 20

// Shown returns the first faults, as many as anybody reads at once, and says how many more
// there are; "" where these are all.
func (l List) Shown() (first List, more string) {
	if len(l) <= mostShown {
		return l, ""
	}
	more = fmt.Sprintf("and %d more faults", len(l)-mostShown)
	if len(l) == mostShown+1 {
		more = "and one more fault"
	}
	if file := l[0].File; file != "" {
		more = file + ": " + more
	}
	return l[:mostShown], more
}

// Error returns the faults that are Shown, each on lines of its own.
func (l List) Error() string {
	shown, more := l.Shown()
	var lines []string
	for _, f := range shown {
		lines = append(lines, f.Error())
	}
	if more != "" {
		lines = append(lines, more)
	}
	return strings.Join(lines, "\n")
}

// Err returns nil for an empty list, and otherwise a copy of the list sorted by file,
// line and column; faults of one place stay in the order in which they were found.
func (l List) Err() error {
	if len(l) == 0 {
		return nil
	}
	sorted := slices.Clone(l)
	slices.SortStableFunc(sorted, func(a, b Fault) int {
		return cmp.Or(
			cmp.Compare(a.File, b.File),
			cmp.Compare(a.Line, b.Line),
			cmp.Compare(a.Column, b.Column),
		)
	})
	return sorted
}
