package desk

import (
	"sync"
	"time"
)

// presence counts the open pages and tells when nobody has been there for a while.
type presence struct {
	mu    sync.Mutex
	pages int
	timer *time.Timer
	after time.Duration
}

// newPresence calls gone once no page has been open for after; it starts to count at once.
func newPresence(after time.Duration, gone func()) *presence {
	return &presence{after: after, timer: time.AfterFunc(after, gone)}
}

// enter counts a page until leave is called.
func (p *presence) enter() (leave func()) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.pages++
	p.timer.Stop()
	return sync.OnceFunc(func() {
		p.mu.Lock()
		defer p.mu.Unlock()
		if p.pages--; p.pages == 0 {
			p.timer.Reset(p.after)
		}
	})
}
