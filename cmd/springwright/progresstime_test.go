package main

import (
	"strings"
	"testing"
	"time"
)

// The line tells how long it will still take once enough is done to say so, and only what is left of that.
func TestProgressTellsTheTimeLeft(t *testing.T) {
	t.Parallel()
	var out strings.Builder
	now := time.Unix(0, 0)
	p := &progress{out: &out, now: func() time.Time { return now }, label: "searching", begun: now}
	for _, step := range []struct {
		seconds float64
		done    int
		want    string
	}{
		{0.3, 1, "searching   1 %"},
		{2, 10, "searching  10 %, about 18 s left"},
		{4, 40, "searching  40 %, about 6 s left"},
		{400, 50, "searching  50 %, about 7 min left"},
		{799.9, 99, "searching  99 %, about 9 s left"},
	} {
		now = time.Unix(0, int64(step.seconds*1e9))
		out.Reset()
		p.update(step.done, 100)
		if got := strings.TrimSpace(out.String()); got != step.want {
			t.Errorf("after %v s: %q, want %q", step.seconds, got, step.want)
		}
	}
}
