package desk

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"math"
	"net/http"
	"slices"
	"strings"
	"sync"

	"springwright/design"
	"springwright/design/bent"
	"springwright/design/casefile"
	"springwright/design/fault"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/export/words"
	"springwright/optimize/asbent"
	"springwright/optimize/hand"
)

// reading is what was typed or seen of a spring that was bent.
type reading struct {
	Text     string            `json:"text"`
	Spring   string            `json:"spring"`
	Lang     string            `json:"lang"`
	Measured map[string]string `json:"measured"` // by the keys of a file of readings; "": not measured
	Seen     []seenStep        `json:"seen"`     // as a picture told
	SoFar    bool              `json:"so_far"`   // it is bent as far as the last thing measured
}

// adjusted is what is told of a spring as bent.
type adjusted struct {
	c        design.Case
	drawn    spring.Spring
	report   bent.Report // or
	soFar    *bent.SoFar
	measured []byte // the typed readings as a file; nil: none
	// origin are the bytes that all of it was made from, as the command "adjust" sees them.
	origin []byte
}

// adjustments keep the last one: its sheet and its files are asked for soon after.
type adjustments struct {
	mu   sync.Mutex
	key  [sha256.Size]byte
	last *adjusted
}

// errBusy means that a search or another spring is being reckoned.
var errBusy = errors.New("another search is under way")

// errToldAs carries what is to be said to the user instead of an error's own text.
type errToldAs struct{ text, hint string }

func (e errToldAs) Error() string { return e.text }

// table are typed readings as a file, in the order of the wire, divided as by programs that have a decimal
// comma.
func (q reading) table(made spring.Spring) []byte {
	left := maps.Clone(q.Measured)
	maps.DeleteFunc(left, func(_, v string) bool { return strings.TrimSpace(v) == "" })
	if len(left) == 0 {
		return nil
	}
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	w.Comma = ';'
	write := func(cells ...string) { _ = w.Write(cells) } // a buffer takes everything
	write("name", "measured")
	for _, key := range slices.Concat(casefile.StepKeys(made.Path), slices.Sorted(maps.Keys(left))) {
		if v, found := left[key]; found {
			write(key, strings.Join(strings.Fields(v), " "))
			delete(left, key)
		}
	}
	w.Flush()
	return out.Bytes()
}

// measured reads what was typed and seen.
func (q reading) measured(b *words.Book, c design.Case, made spring.Spring, table []byte, g solve.GaugeCheck) (m spring.Measured, err error) {
	if table != nil {
		if m, err = casefile.ReadMeasured("readings.csv", table, made, c.Bender, casefile.GaugeWayOf(g)); err != nil {
			return m, err
		}
	}
	steps := len(made.Path.Steps())
	for _, s := range q.Seen {
		if s.Step < 0 || s.Step >= steps || math.Abs(s.Value) > 1000 || !(s.SD > 0 && s.SD < 10) {
			return m, fault.List{{Text: fmt.Sprintf("step %d of a picture's readings is none of this spring", s.Step), Hint: "read the picture again"}}
		}
		m.Steps = append(m.Steps, spring.StepReading{Step: s.Step, Value: s.Value, SD: s.SD})
	}
	last := 0
	for _, s := range m.Steps {
		last = max(last, s.Step+1)
	}
	switch {
	case m.None():
		return m, errToldAs{b.Say("Nothing was measured yet."), b.Say("Type at least one number, or read a picture.")}
	case !q.SoFar:
	case m.Whole():
		return m, errToldAs{b.Say("The free end and the gauge tell nothing before all is bent."), b.Say("Leave them empty, or take away the tick.")}
	case last == 0:
		return m, errToldAs{b.Say("Nothing was measured yet."), b.Say("Type at least one number, or read a picture.")}
	case last == steps:
		return m, errToldAs{b.Say("Nothing is left to be bent."), b.Say("Take away the tick: the whole spring is measured.")}
	}
	return m, nil
}

// adjustedOf tells what comes of readings; what it told last it does not reckon again.
func (a *api) adjustedOf(ctx context.Context, b *words.Book, q reading) (*adjusted, error) {
	q.Lang = ""
	text, err := json.Marshal(q)
	if err != nil {
		return nil, err
	}
	key := sha256.Sum256(text)
	a.adjusted.mu.Lock()
	last, same := a.adjusted.last, a.adjusted.key == key
	a.adjusted.mu.Unlock()
	if last != nil && same {
		return last, nil
	}
	c, made, err := a.madeFor(q.Text, q.Spring)
	if err != nil {
		return nil, err
	}
	drawn, err := solve.Evaluate(ctx, made, solve.Options{AllowYield: true})
	if err != nil && !errors.Is(err, solve.ErrYield) {
		return nil, toldAs(b, err)
	}
	out := &adjusted{c: c, drawn: made, measured: q.table(made)}
	m, err := q.measured(b, c, made, out.measured, drawn.Gauge)
	if err != nil {
		return nil, err
	}
	out.origin = append([]byte(q.Spring), out.measured...)
	if len(q.Seen) > 0 {
		out.origin = fmt.Appendf(out.origin, "%v", m.Steps[len(m.Steps)-len(q.Seen):])
	}
	// It uses every core, as a search does.
	if !a.begin(ctx) {
		return nil, errBusy
	}
	defer a.searches.Unlock()
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	defer context.AfterFunc(a.ctx, stop)()
	a.running.set(ctx, stop)
	defer a.running.clear()
	job := asbent.Job{Case: c, Spring: made, Measured: m, Seed: 1}
	if q.SoFar {
		soFar, err := asbent.Continue(ctx, job)
		if err != nil {
			return nil, toldAs(b, err)
		}
		out.soFar = &soFar
	} else if out.report, err = asbent.Read(ctx, job); err != nil {
		return nil, toldAs(b, err)
	}
	a.adjusted.mu.Lock()
	a.adjusted.key, a.adjusted.last = key, out
	a.adjusted.mu.Unlock()
	return out, nil
}

// toldAs says why nothing can be told of a spring as bent.
func toldAs(b *words.Book, err error) error {
	switch {
	case errors.Is(err, context.Canceled):
		return errToldAs{b.Say("Stopped."), ""}
	case errors.Is(err, asbent.ErrReadings):
		return errToldAs{b.Say("No spring fits what was measured."), b.Say("Measure again what is farthest from the drawing.")}
	case errors.Is(err, hand.ErrSuperelastic):
		return errToldAs{b.Say("A spring of superelastic wire is not followed as bent."), b.Say("Its loads hang on what it has been through: bend it again over the sheet.")}
	}
	reason, _, _ := strings.Cut(b.Reason(err), "\n")
	if errors.Is(err, hand.ErrNothingSolved) {
		reason = b.Say("it finds no rest in its slots")
	}
	return errToldAs{
		b.Say("The spring as bent cannot be seated: %s.", reason),
		b.Say("Lay it over the drawing and put right what is farthest off, then measure it again; or bend a new one."),
	}
}

// cannotTell answers that nothing was told.
func cannotTell(w http.ResponseWriter, err error) {
	var told errToldAs
	switch {
	case errors.Is(err, errBusy):
		refuse(w, http.StatusConflict, err, "wait for it, or stop it")
	case errors.As(err, &told):
		refuse(w, http.StatusUnprocessableEntity, told, told.hint)
	default:
		refuse(w, http.StatusUnprocessableEntity, err, "")
	}
}

type adjustAnswer struct {
	Told   *words.BentTold  `json:"told,omitempty"`
	SoFar  *words.SoFarTold `json:"soFar,omitempty"`
	Misses []string         `json:"misses"` // of the spring to go on with
	Doubts []doubtText      `json:"doubts"`
	Usable bool             `json:"usable"`           // as bent, or as it goes on
	Mended bool             `json:"mended"`           // after a correction
	Spring string           `json:"spring,omitempty"` // to go on with, as a spring file
	Views  []bentView       `json:"views"`
}

type doubtText struct {
	Text string `json:"text"`
	Hint string `json:"hint"`
}

func (a *api) adjust(w http.ResponseWriter, r *http.Request) {
	q, ok := request[reading](w, r)
	if !ok {
		return
	}
	b := book(q.Lang)
	made, err := a.adjustedOf(r.Context(), b, q)
	if err != nil {
		cannotTell(w, err)
		return
	}
	out := adjustAnswer{Doubts: []doubtText{}, Misses: []string{}}
	doubts := made.report.Doubts
	if s := made.soFar; s != nil {
		told := b.SoFar(made.drawn, *s)
		out.SoFar, out.Misses, doubts = &told, append(out.Misses, b.BentMisses(s.After)...), s.Doubts
		out.Usable, out.Spring = s.After.Met(), string(casefile.WriteSpring(s.Spring))
		out.Views = []bentView{viewOf(b, made, b.Say("to go on with"), s.After, s.Spring.Path, nil)}
	} else {
		told := b.Bent(made.c, made.drawn, made.report)
		out.Told = &told
		out.Usable, out.Mended = made.report.Usable()
		out.Views = viewsOf(b, made)
	}
	names := b.StepNames(made.drawn)
	for _, d := range doubts {
		text, hint := b.Doubt(d, names)
		out.Doubts = append(out.Doubts, doubtText{words.Capital(text) + ".", words.Capital(hint) + "."})
	}
	answer(w, http.StatusOK, out)
}
