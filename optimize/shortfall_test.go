package optimize

import (
	"testing"

	"springwright/design"
	"springwright/presets"
)

// Every limit that a search judges is known by its name to what is said of a spring that goes
// beyond it.
func TestEveryLimitHasAName(t *testing.T) {
	t.Parallel()
	for _, name := range presets.Names() {
		c := presetCase(t, name)
		c.Limits.BitingReachMM, c.Limits.CheekBulgeMM = 3, 3
		pattern, err := design.PatternFor(c)
		if err != nil {
			t.Fatal(err)
		}
		names := []string{gapName}
		for _, term := range reachTerms(c, pattern, c.SpringFor(pattern.Path)) {
			names = append(names, term.name)
		}
		for _, limit := range names {
			if l, known := design.ParseLimit(limit); !known || l == design.OtherLimit {
				t.Errorf("%s: the limit %q is not known", name, limit)
			}
		}
	}
}

// checkShortfall holds the numbers of what is missed against the words of it.
func checkShortfall(t *testing.T, c design.Case, r Result) {
	t.Helper()
	s := r.Shortfall()
	if s.None() != r.Met() || s.Untold || len(s.Misses) != len(r.Misses) || len(s.Exceeded) != len(r.Exceeded) {
		t.Errorf("%+v stands for misses %v and limits %q", s, r.Misses, r.Exceeded)
		return
	}
	judged := c.JudgedRecord(r.Evaluation.Record)
	for i, m := range s.Misses {
		at := -1
		for k, p := range r.Evaluation.Record.Positions {
			if p.TravelLeftMM == m.TravelLeftMM {
				at = k
			}
		}
		if at < 0 || c.Target.Value(m.Quantity, judged[at]) != m.Value || c.Target.WindowAt(m.Quantity, m.TravelLeftMM, m.AtStart) != m.Window {
			t.Errorf("%+v is not what the record and the target say", m)
		}
		if m.Quantity != r.Misses[i].Quantity || m.Window.Misses(m.Value) <= 0 {
			t.Errorf("%+v stands for %v", m, r.Misses[i])
		}
	}
}
