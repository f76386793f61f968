package optimize

import (
	"testing"

	"springwright/design"
)

// checkShortfall holds the numbers of what is missed against the words of it.
func checkShortfall(t *testing.T, c design.Case, r Result) {
	t.Helper()
	s := r.Shortfall()
	if s.None() != r.Met() || s.Untold {
		t.Errorf("%+v stands for misses %v and limits %v", s, r.Misses, r.Exceeded)
		return
	}
	judged := c.JudgedRecord(r.Evaluation.Record)
	for _, m := range s.Misses {
		at := -1
		for k, p := range r.Evaluation.Record.Positions {
			if p.TravelLeftMM == m.TravelLeftMM {
				at = k
			}
		}
		if at < 0 || c.Target.Value(m.Quantity, judged[at]) != m.Value || c.Target.WindowAt(m.Quantity, m.TravelLeftMM, m.AtStart) != m.Window {
			t.Errorf("%+v is not what the record and the target say", m)
		}
		if m.Window.Misses(m.Value) <= 0 {
			t.Errorf("%+v is no miss", m)
		}
	}
}
