package spelling_test

import (
	"testing"

	"springwright/design/spelling"
)

func TestNearest(t *testing.T) {
	words := []string{"design", "evaluate", "help", "version", "heading"}
	for _, c := range []struct{ misspelt, want string }{
		{"desing", "design"},    // neighbours swapped: one fault, not two
		{"evalute", "evaluate"}, // one left out
		{"Version", "version"},  // capitals do not count
		{"hlp", "help"},         // a third of three is one
		{"head", ""},            // three to add are too many for four
		{"bend", ""},
		{"", ""},
	} {
		if got := spelling.Nearest(c.misspelt, words); got != c.want {
			t.Errorf("Nearest(%q) = %q, want %q", c.misspelt, got, c.want)
		}
	}
}
