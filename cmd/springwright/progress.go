package main

import (
	"fmt"
	"io"
	"math"
	"strings"
	"time"
	"unicode/utf8"
)

// progressInterval keeps the line readable and the terminal idle.
const progressInterval = 200 * time.Millisecond

// progress is a line on a terminal that is rewritten in place. The zero value is silent.
type progress struct {
	out   io.Writer
	now   func() time.Time
	label string
	begun time.Time // zero: nothing is said of the time left
	last  time.Time
	width int // of the line that stands on the terminal
}

// newProgress returns a line of progress on a terminal, and a silent one elsewhere.
func newProgress(c console, label string, quiet bool) *progress {
	if quiet || !c.live {
		return &progress{}
	}
	return &progress{out: c.stderr, now: time.Now, label: label, begun: time.Now()}
}

// update shows done of total, at most once every progressInterval. It must not be called
// from two goroutines at a time.
func (p *progress) update(done, total int) {
	if p.out == nil || total <= 0 {
		return
	}
	now := p.now()
	if now.Sub(p.last) < progressInterval {
		return
	}
	p.last = now
	p.show(fmt.Sprintf("%s %3d %%", p.label, 100*done/total) + p.timeLeft(now, done, total))
}

// timeLeft is how long it will take at the pace so far; nothing before enough is done to tell.
func (p *progress) timeLeft(now time.Time, done, total int) string {
	const leastTime, leastShare = time.Second, 20 // of the whole: a twentieth (choice)
	passed := now.Sub(p.begun)
	if p.begun.IsZero() || passed < leastTime || done*leastShare < total || done >= total {
		return ""
	}
	left := time.Duration(float64(passed) * float64(total-done) / float64(done))
	if left > 90*time.Second {
		return fmt.Sprintf(", about %d min left", int(math.Ceil(left.Minutes())))
	}
	return fmt.Sprintf(", about %d s left", int(math.Ceil(left.Seconds())))
}

// clear takes the line off the terminal.
func (p *progress) clear() {
	if p.width > 0 {
		p.show("")
		_, _ = io.WriteString(p.out, "\r")
	}
	p.width = 0
}

func (p *progress) show(text string) {
	width := utf8.RuneCountInString(text)
	blank := strings.Repeat(" ", max(0, p.width-width))
	// A lost line of progress is no reason to stop.
	_, _ = io.WriteString(p.out, "\r"+text+blank)
	p.width = width
}
