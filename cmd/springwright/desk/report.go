package desk

import (
	"context"
	"net/http"
	"sync"

	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/effect"
	"springwright/design/notice"
	"springwright/design/report"
	"springwright/design/solve"
	"springwright/design/tooth"
	"springwright/export/words"
)

// found keeps what searches know of their springs and nobody else does: which wire, kind and entry
// were chosen for the case, whether a spring keeps to the room, and what becomes of it in a hand.
type found struct {
	mu   sync.Mutex
	kept []foundSpring // the newest first
}

type foundSpring struct {
	text, spring string
	chosen       design.Case
	evaluation   *solve.Evaluation // nil: the search was stopped
}

// mostFound springs are kept: those of the last few searches, each with its alternatives.
const mostFound = 16

func (f *found) keep(text, spring string, chosen design.Case, e *solve.Evaluation) {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.kept = append([]foundSpring{{text, spring, chosen, e}}, f.kept[:min(len(f.kept), mostFound-1)]...)
}

// of is what a search knows of a spring; nil where none has found it.
func (f *found) of(text, spring string) *solve.Evaluation {
	f.mu.Lock()
	defer f.mu.Unlock()
	for _, k := range f.kept {
		if k.text == text && k.spring == spring && k.evaluation != nil {
			e := *k.evaluation
			return &e
		}
	}
	return nil
}

// caseOf is the case of a text, with what the last search for it has chosen.
func (a *api) caseOf(text string) (design.Case, error) {
	a.found.mu.Lock()
	for _, k := range a.found.kept {
		if k.text == text {
			a.found.mu.Unlock()
			return k.chosen, nil
		}
	}
	a.found.mu.Unlock()
	return a.cases.get(text)
}

// reportOf reports on a spring of a case, both as texts of their files.
func (a *api) reportOf(ctx context.Context, text, springText string) (report.Report, error) {
	c, err := a.caseOf(text)
	if err != nil {
		return report.Report{}, err
	}
	s, err := casefile.ReadSpring("", []byte(springText))
	if err != nil {
		return report.Report{}, err
	}
	return report.Of(ctx, c, c.SeatedSpring(s.Path), report.Options{Evaluation: a.found.of(text, springText)})
}

type reportRequest struct {
	Text   string `json:"text"`
	Spring string `json:"spring"`
	Lang   string `json:"lang"`
}

type reportAnswer struct {
	Sections []section         `json:"sections"`
	Beside   map[string]beside `json:"beside"` // by the key of a chart
}

// section is a heading with lines below it.
type section struct {
	Title   string   `json:"title"`
	Lines   []string `json:"lines"`
	Warning bool     `json:"warning"`
}

func (a *api) report(w http.ResponseWriter, r *http.Request) {
	q, ok := request[reportRequest](w, r)
	if !ok {
		return
	}
	made, err := a.reportOf(r.Context(), q.Text, q.Spring)
	if err != nil {
		refuse(w, http.StatusUnprocessableEntity, err, "")
		return
	}
	if err := inTheHand(r.Context(), &made); err != nil {
		refuse(w, http.StatusUnprocessableEntity, err, "")
		return
	}
	b := book(q.Lang)
	out := reportAnswer{Sections: []section{}, Beside: besideOf(made)}
	add := func(title string, warning bool, lines ...string) {
		if len(lines) > 0 {
			out.Sections = append(out.Sections, section{title, lines, warning})
		}
	}
	add(b.Say("Before it is made"), true, notices(b, made.Evaluation.Warnings)...)
	if s := made.Evaluation.Record.Spread; s != nil && s.Springs > 0 {
		add(b.Say("In the hand"), false, b.Say("Of %d springs bent in trial %s in 100 meet the target.", s.Springs, words.InHundred(s.Share())))
	}
	if relaxed := b.FirstDay(made.Evaluation.Record, made.Spring.Travel()); relaxed != "" {
		add(b.Say("After the first day"), false, words.Capital(relaxed)+".")
	}
	if text := straightWords(b, made); text != "" {
		add(b.Say("Beside a straight wire"), false, text)
	}
	if t := made.Teeth; t != nil {
		add(b.Say("At the centre of resistance"), false, append(movements(b, t.Teeth, t.Active), movements(b, t.Teeth, t.Anchor)...)...)
		var drift string
		if t.DriftFault != nil {
			drift = b.DriftFault(t.DriftFault)
		} else {
			drift = b.Drift(t.Teeth.ActiveMember(), t.Drift)
		}
		var outcomes []string
		for _, o := range t.Anchors {
			outcomes = append(outcomes, words.Capital(b.AnchorOutcome(t.Teeth, o))+".")
		}
		add(b.Say("What becomes of both teeth"), false, outcomes...)
		add(b.Say("Predicted drift of tooth %d if its anchor stayed", int(t.Active.Number)), false, drift)
	}
	answer(w, http.StatusOK, out)
}

// saidOf are notices without their hints.
func saidOf(b *words.Book, list notice.List) []string {
	lines := []string{}
	for _, n := range list {
		text, _ := b.Notice(n)
		lines = append(lines, words.Capital(text)+".")
	}
	return lines
}

func notices(b *words.Book, list notice.List) []string {
	var lines []string
	for _, n := range list {
		text, hint := b.Notice(n)
		line := words.Capital(text) + "."
		if hint != "" {
			line += " " + words.Capital(hint) + "."
		}
		lines = append(lines, line)
	}
	return lines
}

func movements(b *words.Book, teeth tooth.Pair, t effect.ToothReport) []string {
	of := tooth.Member{Pair: teeth, Number: t.Number}
	var lines []string
	for _, m := range t.Movements {
		lines = append(lines, b.Say("%d, %s: %s.", int(t.Number), b.Plane(m.Plane), b.Movement(of, t, m)))
	}
	return lines
}
