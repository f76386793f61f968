package asbent

import (
	"math"
	"testing"

	"springwright/design/report"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"
)

// A set at any bend, as a trial activation leaves it, is put back by one bend to what the eye tells of the free end,
// and never by bending back a wire that breaks so; what a trial is allowed is left alone, and what moved away from
// the slot is no set.
func TestSetIsPutBack(t *testing.T) {
	t.Parallel()
	c, s := demoSpring(t)
	e, err := solve.Evaluate(t.Context(), s, solve.Options{AllowYield: true})
	if err != nil {
		t.Fatal(err)
	}
	a, ok := report.ActivationOf(c, s, e)
	if !ok {
		t.Fatal("nothing is activated")
	}
	tried := 0
	for i, step := range s.Path.Steps() {
		if step.Kind == spring.Straight {
			continue
		}
		for _, set := range [...]float64{-3 * degree, 3 * degree, 0.1 * degree} {
			m, err := newModel(Job{Case: c, Spring: s})
			if err != nil {
				t.Fatal(err)
			}
			moved := off(m.end, freeEnd(corrected(m.drawn, []Correction{{Place: Place{Step: i, Sense: 1}, ByRad: set}})))
			for k, v := range moved {
				sd := 0.1
				if tooth.Component(k).Couple() {
					sd = 0.5 * degree
				}
				m.job.Measured.After = append(m.job.Measured.After, spring.EndReading{Along: tooth.Component(k), Off: v, SD: sd})
			}
			l := m.lost(a, m.drawn)
			switch {
			case l == nil:
				t.Fatal("nothing is told")
			case set == 0.1*degree:
				if !l.Within || l.Back != nil {
					t.Errorf("bend at step %d: %+v for a tenth of a degree", i, l)
				}
			case l.Share <= 0:
				if l.Back != nil {
					t.Errorf("step %d: moved away from the slot, and put back", i)
				}
			default:
				tried++
				if l.Back == nil {
					t.Errorf("step %d: not put back", i)
					continue
				}
				if one := l.Back.Corrections[0]; one.Opens() {
					t.Errorf("step %d: bent back at step %d, where beta-titanium breaks", i, one.Step)
				}
				// What is left is known by the same arithmetic: the end of the wire with the set and the bend.
				both := corrected(m.drawn, []Correction{{Place: Place{Step: i, Sense: 1}, ByRad: set}, l.Back.Corrections[0]})
				for k, v := range off(m.end, freeEnd(both)) {
					// A turn of 3° about a place 20 mm off shifts the end by a millimetre, which turns by the other 3°.
					if math.Abs(v-l.Left[k]) > 0.06 {
						t.Errorf("step %d, along %d: %v left, told %v", i, k, v, l.Left[k])
					}
				}
				shift := math.Hypot(math.Hypot(l.Left[0], l.Left[1]), l.Left[2])
				was := math.Hypot(math.Hypot(moved[0], moved[1]), moved[2])
				if shift > max(2*a.AllowedMM, was/2) {
					t.Errorf("step %d: %v mm left of %v", i, shift, was)
				}
			}
		}
	}
	if tried < 4 {
		t.Errorf("only %d sets towards the slot", tried)
	}
}
