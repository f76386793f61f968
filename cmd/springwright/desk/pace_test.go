package desk

import (
	"testing"
	"time"
)

// TestPace: what is shown only grows, ends with the search, and is right in the end for one that
// takes as long as the demo.
func TestPace(t *testing.T) {
	begun := time.Unix(0, 0)
	at := func(ms int) time.Time { return begun.Add(time.Duration(ms) * time.Millisecond) }
	p := newPace(begun)
	if share, left := p.now(at(50)); share != 0 || left != 0 {
		t.Errorf("before the first step: got %v, %v", share, left)
	}
	last := 0.0
	for ms := 10; ms < 20000; ms += 10 {
		switch {
		case ms <= 280: // the demo, as measured: 18 quick steps, 8 slow ones, and a part that counts none
			p.count(min(18, 18*ms/280), 26, at(ms))
		case ms <= 1300:
			p.count(18+min(8, 8*(ms-280)/1020), 26, at(ms))
		case ms == 3000:
			p.count(27, 52, at(ms)) // another pass doubles the steps
		}
		share, left := p.now(at(ms))
		if share < last || share >= 1 || left < 0 {
			t.Fatalf("at %d ms: share %v after %v, %v left", ms, share, last, left)
		}
		last = share
		if ms == 1300 && (left < 800*time.Millisecond || left > 1500*time.Millisecond) {
			t.Errorf("at 1.3 s of 2.4 s %v are said to be left", left)
		}
	}
}
