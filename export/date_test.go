package export

import (
	"testing"
	"time"
)

func TestDate(t *testing.T) {
	today := time.Date(2026, 3, 4, 23, 30, 0, 0, time.UTC)
	for _, c := range []struct {
		epoch string
		set   bool
		want  string // "" for an error
	}{
		{"", false, "2026-03-04"},
		{"0", true, "1970-01-01"},
		{"1767225600", true, "2026-01-01"},
		{"", true, ""},
		{"yesterday", true, ""},
		{"12 March", true, ""},
		{"-1", true, ""},
		{"253402300799", true, "9999-12-31"},
		{"253402300800", true, ""},
		{"9223372036854775807", true, ""},
	} {
		lookup := func(string) (string, bool) { return c.epoch, c.set }
		got, err := Date(lookup, func() time.Time { return today })
		if (err != nil) != (c.want == "") || got != c.want {
			t.Errorf("SOURCE_DATE_EPOCH %q (set %v): %v, %v, want %q", c.epoch, c.set, got, err, c.want)
		}
	}
}
