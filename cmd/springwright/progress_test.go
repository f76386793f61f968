package main

import (
	"strings"
	"testing"
	"time"
)

func TestProgressIsRewrittenInPlace(t *testing.T) {
	var out strings.Builder
	now := time.Unix(0, 0)
	p := &progress{out: &out, now: func() time.Time { return now }, label: "searching"}
	for i := range 100 {
		now = now.Add(10 * time.Millisecond) // one second in all
		p.update(i+1, 100)
	}
	p.clear()
	if strings.Contains(out.String(), "\n") {
		t.Errorf("progress begins new lines: %q", out.String())
	}
	if got := strings.Count(out.String(), "searching"); got < 4 || got > 6 {
		t.Errorf("%d updates in a second, want about 5: %q", got, out.String())
	}
	blank := "\r" + strings.Repeat(" ", len("searching   1 %")) + "\r"
	if !strings.HasSuffix(out.String(), blank) {
		t.Errorf("the line is not taken off the terminal: %q", out.String())
	}
}

func TestProgressIsSilentOffTheTerminal(t *testing.T) {
	for _, c := range []struct {
		name        string
		live, quiet bool
		want        bool
	}{
		{"terminal", true, false, true},
		{"terminal, quiet", true, true, false},
		{"pipe", false, false, false},
	} {
		var stderr strings.Builder
		p := newProgress(console{stderr: &stderr, live: c.live}, "searching", c.quiet)
		p.update(1, 2)
		p.clear()
		if got := stderr.Len() > 0; got != c.want {
			t.Errorf("%s: progress shown %v, want %v", c.name, got, c.want)
		}
	}
}
