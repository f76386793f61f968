package desk

import (
	"context"
	"encoding/json"
	"errors"
	"math"
	"net/http"
	"sync"
	"time"

	"springwright/design/casefile"
	"springwright/design/solve"
	"springwright/export/words"
	"springwright/optimize"
)

type searchRequest struct {
	Text string `json:"text"`
	Lang string `json:"lang"`
}

// progressLine is how far a search is, and the best spring so far where it is a new one.
type progressLine struct {
	Share float64  `json:"share"`
	Text  string   `json:"text"`
	Best  *picture `json:"best,omitempty"`
}

// foundLine is what a search came to. A search that is stopped gives the best that it had, which
// may be none: then the spring is "".
type foundLine struct {
	Spring       string        `json:"spring"`
	Met          bool          `json:"met"`
	Stopped      bool          `json:"stopped"`
	Chosen       []string      `json:"chosen"`   // which kind and wire was taken, and why
	InTheWay     []string      `json:"inTheWay"` // where the target is missed
	Alternatives []alternative `json:"alternatives"`
}

// waysLine comes behind foundLine where the target is missed: what would do.
type waysLine struct {
	Ways []wayOut `json:"ways"`
}

// between is how often a page is told how far its search is.
const between = 100 * time.Millisecond

// running is the search under way, for who wants to stop it.
type running struct {
	mu   sync.Mutex
	done func() error // of the search's context; nil: none is under way
	stop context.CancelFunc
}

func (r *running) set(ctx context.Context, stop context.CancelFunc) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.done, r.stop = ctx.Err, stop
}

func (r *running) clear() {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.done, r.stop = nil, nil
}

// stopped tells whether the search under way, if there is one, is about to end.
func (r *running) stopped() bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.done == nil || r.done() != nil
}

// leaving is how long a search that was stopped may take to end: it looks at its context after each
// point, which is solved within a second (choice).
const leaving = 3 * time.Second

// noticing is how long it may take on a busy machine until the server sees that a page was closed or
// loaded anew, whose search it still runs (choice: the next page asks for a search some tens of
// milliseconds later).
const noticing = 2 * time.Second

// begin takes the place of a search that is just ending, or whose page was left; false where one goes on.
func (a *api) begin(ctx context.Context) bool {
	for from := time.Now(); ; time.Sleep(20 * time.Millisecond) {
		if a.searches.TryLock() {
			return true
		}
		patience := noticing
		if a.running.stopped() {
			patience = leaving
		}
		if ctx.Err() != nil || time.Since(from) > patience {
			return false
		}
	}
}

// stopSearch ends the search under way, which then answers with the best that it had.
func (a *api) stopSearch(w http.ResponseWriter, _ *http.Request) {
	a.running.mu.Lock()
	defer a.running.mu.Unlock()
	if a.running.stop != nil {
		a.running.stop()
	}
	answer(w, http.StatusOK, struct{}{})
}

// In one piece: a request, step by step, each with its refusal.
func (a *api) search(w http.ResponseWriter, r *http.Request) {
	q, ok := request[searchRequest](w, r)
	if !ok {
		return
	}
	c, err := a.cases.get(q.Text)
	if err != nil {
		refuse(w, http.StatusUnprocessableEntity, err, "")
		return
	}
	if !a.begin(r.Context()) {
		refuse(w, http.StatusConflict, errors.New("another search is under way"), "wait for it, or stop it")
		return
	}
	defer a.searches.Unlock()
	b := book(q.Lang)
	lines := &lineWriter{w: w, out: http.NewResponseController(w)}
	w.Header().Set("Content-Type", "application/x-ndjson")

	// The request's context ends when the page is closed, the server's when it ends; either leaves
	// nobody to answer. Stopped, the search alone ends.
	gone, cancel := context.WithCancel(r.Context())
	defer cancel()
	defer context.AfterFunc(a.ctx, cancel)()
	ctx, stop := context.WithCancel(gone)
	defer stop()
	a.running.set(ctx, stop)
	defer a.running.clear()

	best := &bestSoFar{}
	pace := newPace(time.Now())
	told := tell(ctx, lines, b, pace, best)
	chosen, err := optimize.SearchChoices(ctx, c, optimize.Options{
		Progress: func(done, total int) { pace.count(done, total, time.Now()) },
		Better:   best.keep,
	})
	stopped := ctx.Err() != nil
	stop()
	<-told
	switch {
	case gone.Err() != nil:
		return
	case stopped:
		lines.write(a.stoppedWith(gone, q.Text, best))
		return
	case errors.Is(err, optimize.ErrNothingSolved), errors.Is(err, solve.ErrYield):
		lines.write(failed{Error: b.Reason(err)})
	case err != nil:
		lines.write(failed{Error: err.Error()})
		return
	default:
		lines.write(a.foundWith(b, q.Text, chosen))
		if chosen.Met() {
			return
		}
	}
	ways, err := waysOut(gone, lines, b, chosen)
	if err == nil {
		lines.write(waysLine{ways})
	}
}

// foundWith is what a search came to, and keeps what it alone knows.
func (a *api) foundWith(b *words.Book, text string, chosen optimize.Chosen) foundLine {
	result := chosen.Result
	spring := string(casefile.WriteSpring(result.Spring))
	line := foundLine{Spring: spring, Met: result.Met(), Chosen: saidOf(b, result.Evaluation.Record.Chosen), InTheWay: []string{}, Alternatives: []alternative{}}
	if !line.Met {
		line.InTheWay = saidOf(b, result.Binding)
	}
	for _, other := range result.Alternatives {
		line.Alternatives = append(line.Alternatives, a.alternative(b, text, chosen.Case, other))
	}
	if len(line.Alternatives) > 0 {
		own := traitsOf(b, result.Traits)
		own.Label, own.Spring = b.Say("as searched"), spring
		line.Alternatives = append([]alternative{own}, line.Alternatives...)
	}
	a.found.keep(text, spring, chosen.Case, &result.Evaluation)
	return line
}

// stoppedWith is the best that a stopped search had.
func (a *api) stoppedWith(ctx context.Context, text string, best *bestSoFar) foundLine {
	line := foundLine{Stopped: true, Chosen: []string{}, InTheWay: []string{}, Alternatives: []alternative{}}
	if c, s, ok := best.ofAll(ctx); ok {
		line.Spring = string(casefile.WriteSpring(s))
		a.found.keep(text, line.Spring, c, nil)
	}
	return line
}

// tell writes how far a search is, until ctx ends; then the channel is closed.
func tell(ctx context.Context, lines *lineWriter, b *words.Book, pace *pace, best *bestSoFar) <-chan struct{} {
	done := make(chan struct{})
	go func() {
		defer close(done)
		beat := time.NewTicker(between)
		defer beat.Stop()
		for {
			select {
			case <-ctx.Done():
				return
			case now := <-beat.C:
				share, left := pace.now(now)
				line := progressLine{Share: share, Best: best.picture(ctx, b)}
				if share > 0 {
					line.Text = b.Say("about %s s left", b.Number(math.Ceil(left.Seconds()), 0))
				}
				if ctx.Err() == nil {
					lines.write(line)
				}
			}
		}
	}()
	return done
}

// lineWriter writes JSON, a value a line, as it comes.
type lineWriter struct {
	mu  sync.Mutex
	w   http.ResponseWriter
	out *http.ResponseController
}

func (l *lineWriter) write(v any) {
	l.mu.Lock()
	defer l.mu.Unlock()
	text, err := json.Marshal(v)
	if err != nil {
		return
	}
	l.w.Write(append(text, '\n')) // whether anybody still reads, the request's context tells
	l.out.Flush()
}
