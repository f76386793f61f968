package desk

import (
	"context"
	"math"
	"net/http"
	"sync"
	"time"

	"springwright/export/words"
)

// alone does what uses every core and takes its time: one at a time, and stopped as a search is. Its answer is lines of
// JSON, the last one what do returns; ctx ends when it is stopped, or nobody is left to answer.
func (a *api) alone(w http.ResponseWriter, r *http.Request, do func(ctx context.Context, lines *lineWriter) any) {
	if !a.begin(r.Context()) {
		refuse(w, http.StatusConflict, errBusy, "wait for it, or stop it")
		return
	}
	defer a.searches.Unlock()
	ctx, stop := context.WithCancel(r.Context())
	defer stop()
	defer context.AfterFunc(a.ctx, stop)()
	a.running.set(ctx, stop)
	defer a.running.clear()
	lines := &lineWriter{w: w, out: http.NewResponseController(w)}
	w.Header().Set("Content-Type", "application/x-ndjson")
	if last := do(ctx, lines); r.Context().Err() == nil {
		lines.write(last)
	}
}

// stepLine is how far something is that is done step by step.
type stepLine struct {
	Done  int    `json:"done"`
	Total int    `json:"total"`
	Text  string `json:"text"`
}

// steps tells a page how far something is, not more often than it is looked at.
type steps struct {
	lines *lineWriter
	b     *words.Book
	begun time.Time

	mu   sync.Mutex
	last time.Time
}

func newSteps(lines *lineWriter, b *words.Book) *steps {
	return &steps{lines: lines, b: b, begun: time.Now()}
}

// tell is told of so many steps of all.
func (s *steps) tell(done, total int) {
	s.mu.Lock()
	defer s.mu.Unlock()
	now := time.Now()
	if now.Sub(s.last) < between && done < total {
		return
	}
	s.last = now
	var left time.Duration
	if done > 0 {
		left = now.Sub(s.begun) * time.Duration(total-done) / time.Duration(done)
	}
	s.lines.write(stepLine{done, total, leftSaid(s.b, left)})
}

// leftSaid is a time to wait, as nobody needs to know it better; "" for none.
func leftSaid(b *words.Book, left time.Duration) string {
	switch {
	case left <= 0:
		return ""
	case left < 90*time.Second:
		return b.Say("about %s s left", b.Number(math.Ceil(left.Seconds()), 0))
	}
	return b.Say("about %s min left", b.Number(math.Ceil(left.Minutes()), 0))
}
