package desk

import (
	"context"
	"encoding/json"
	"errors"
	"net/http"
	"sync"
	"time"

	"springwright/design/casefile"
	"springwright/export/words"
	"springwright/optimize"
)

type searchRequest struct {
	Text string `json:"text"`
	Lang string `json:"lang"`
}

// progressLine is how far a search is.
type progressLine struct {
	Share float64 `json:"share"`
	Text  string  `json:"text"`
}

// foundLine is its end.
type foundLine struct {
	Spring       string        `json:"spring"`
	Met          bool          `json:"met"`
	Alternatives []alternative `json:"alternatives"`
}

type alternative struct {
	Label  string `json:"label"`
	Spring string `json:"spring"`
}

// between is how often a page is told how far its search is.
const between = 100 * time.Millisecond

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
	if !a.searches.TryLock() {
		refuse(w, http.StatusConflict, errors.New("another search is under way"), "wait for it, or stop it")
		return
	}
	defer a.searches.Unlock()
	b := book(q.Lang)
	lines := &lineWriter{w: w, out: http.NewResponseController(w)}
	w.Header().Set("Content-Type", "application/x-ndjson")

	// The request's context ends when the page stops it or is closed, the server's when it ends.
	ctx, cancel := context.WithCancel(r.Context())
	defer cancel()
	defer context.AfterFunc(a.ctx, cancel)()
	begun, told := time.Now(), time.Now()
	chosen, err := optimize.SearchChoices(ctx, c, optimize.Options{Progress: func(done, total int) {
		if total == 0 || time.Since(told) < between {
			return
		}
		told = time.Now()
		share := float64(done) / float64(total)
		left := time.Duration(float64(time.Since(begun)) * (1 - share) / share)
		lines.write(progressLine{share, b.Say("about %s s left", b.Number(left.Seconds(), 0))})
	}})
	switch {
	case ctx.Err() != nil:
		return
	case err != nil:
		lines.write(failed{Error: err.Error()})
		return
	}
	result := chosen.Result
	a.found.keep(q.Text, string(casefile.WriteSpring(result.Spring)), chosen.Case, result.Evaluation)
	found := foundLine{Spring: string(casefile.WriteSpring(result.Spring)), Met: result.Met(), Alternatives: []alternative{}}
	for _, other := range result.Alternatives {
		found.Alternatives = append(found.Alternatives, alternative{b.Say(meritNames[other.Merit]), string(casefile.WriteSpring(other.Spring))})
	}
	lines.write(found)
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

// meritNames say what an alternative is better at.
var meritNames = map[optimize.Merit]words.Phrase{
	optimize.Softest:      "the softest",
	optimize.FewestBends:  "the fewest bends",
	optimize.MostTolerant: "the most tolerant of the hand",
}
