package classroom

import (
	"context"
	"errors"
	"math"
	"slices"

	"springwright/design"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/optimize/asbent"
)

// springsMarked is how many springs tell a chance to 5 in 100, one standard deviation: a class is marked in a
// minute or two (choice).
const springsMarked = 96

// Work is what a student handed in.
type Work struct {
	Number   int
	Code     string
	Source   string // the picture or table that it was read from
	Case     design.Case
	Spring   spring.Spring // as drawn
	Measured spring.Measured
}

// Off is a step that was measured: mm or rad in size, Off above 0 for more than drawn. Measured is below 0 where the
// wire is bent the other way.
type Off struct {
	Step                 int
	Number               int // of the bend or twist; 0 of a straight
	Drawn, Measured, Off float64
}

// Mark is what is to be said of a student's spring.
type Mark struct {
	Work
	Steps []Off // in the order of the wire
	// WorstBend and WorstStraight are in Steps; −1: none was measured.
	WorstBend, WorstStraight int
	Unread                   []int // numbers of bends that were not measured
	// Grade is "" where a bend was not measured: nobody passes by what was not looked at.
	Grade string
	// Drawn and Bent are the loads on the active tooth and on the anchor at the start. NotReckoned is why nothing is
	// told of the spring as it came out; Report is what is, else.
	Drawn, Bent [2]tooth.Load
	HasBent     bool
	NotReckoned error
	Report      asbent.Report
}

// MarkOf marks a spring; answer holds its loads as drawn. The error is that of ctx, or of bands that Check refuses.
func MarkOf(ctx context.Context, w Work, bands Bands, seed uint64) (Mark, error) {
	if err := bands.Check(); err != nil {
		return Mark{}, err
	}
	m := Mark{Work: w, WorstBend: -1, WorstStraight: -1}
	m.measure()
	m.Report, m.NotReckoned = asbent.Read(ctx, asbent.Job{Case: w.Case, Spring: w.Spring, Measured: w.Measured, Springs: springsMarked, Seed: seed})
	if err := ctx.Err(); err != nil {
		return m, err
	}
	met := false
	if m.NotReckoned == nil {
		met, _ = m.Report.Usable()
		if positions := m.Report.AsBent.Evaluation.Record.Positions; m.Report.AsBent.NoRest == nil && len(positions) > 0 {
			m.Bent, m.HasBent = [2]tooth.Load{positions[0].Active, positions[0].Anchor}, true
		} else {
			m.NotReckoned = m.Report.AsBent.NoRest
			if m.NotReckoned == nil {
				m.NotReckoned = errNoLoads
			}
		}
	}
	if len(m.Unread) == 0 {
		m.Grade = bands.Grade(m.worst(m.WorstBend), m.worst(m.WorstStraight), met)
	}
	return m, nil
}

var errNoLoads = errors.New("its loads were not found")

// measure holds what was measured against the drawing. Where a step was measured twice the last reading holds.
func (m *Mark) measure() {
	steps, numbers := m.Spring.Path.Steps(), m.Spring.Path.BendNumbers()
	for i, s := range steps {
		at := -1
		for k, r := range m.Measured.Steps {
			if r.Step == i {
				at = k
			}
		}
		if at < 0 {
			if s.Kind != spring.Straight {
				m.Unread = append(m.Unread, numbers[i])
			}
			continue
		}
		one := Off{Step: i, Number: numbers[i], Drawn: s.LengthMM, Measured: m.Measured.Steps[at].Value}
		if s.Kind != spring.Straight {
			one.Drawn, one.Measured = math.Abs(s.AngleRad), math.Copysign(1, s.AngleRad)*one.Measured
		}
		one.Off = one.Measured - one.Drawn
		worst := &m.WorstStraight
		if one.Number > 0 {
			worst = &m.WorstBend
		}
		m.Steps = append(m.Steps, one)
		if *worst < 0 || math.Abs(one.Off) > math.Abs(m.Steps[*worst].Off) {
			*worst = len(m.Steps) - 1
		}
	}
}

func (m *Mark) worst(at int) float64 {
	if at < 0 {
		return 0
	}
	return math.Abs(m.Steps[at].Off)
}

// Tally is how a class did at one step of the wire.
type Tally struct {
	Step, Number int // as of Off
	Measured     int // students
	MeanOff      float64
	ByGrade      []int // students within the band of each grade and not of a better one, and last those beyond all
	Worst        int   // students of whose spring it is the worst bend or the worst straight
}

// TallyOf counts over a class, in the order of the wire; steps that nobody measured are left out.
func TallyOf(marks []Mark, bands Bands) []Tally {
	var all []Tally
	for _, m := range marks {
		for i, o := range m.Steps {
			at := slices.IndexFunc(all, func(t Tally) bool { return t.Step == o.Step && t.Number == o.Number })
			if at < 0 {
				at = len(all)
				all = append(all, Tally{Step: o.Step, Number: o.Number, ByGrade: make([]int, len(bands.List)+1)})
			}
			t := &all[at]
			t.Measured++
			t.MeanOff += o.Off
			if i == m.WorstBend || i == m.WorstStraight {
				t.Worst++
			}
			t.ByGrade[bands.band(o)]++
		}
	}
	for i := range all {
		all[i].MeanOff /= float64(all[i].Measured)
	}
	slices.SortStableFunc(all, func(a, b Tally) int { return a.Step - b.Step })
	return all
}

// band is the best band that a step is within; the number of bands where it is beyond all.
func (b Bands) band(o Off) int {
	for i, g := range b.List {
		limit := g.LengthMM + lengthSlackMM
		if o.Number > 0 {
			limit = g.AngleRad + angleSlackRad
		}
		if math.Abs(o.Off) <= limit {
			return i
		}
	}
	return len(b.List)
}

// WorstStep is the bend or twist that was the worst of most students, of several the one with most students beyond
// the best band; ok is false where no bend was measured.
func WorstStep(all []Tally) (t Tally, ok bool) {
	for _, one := range all {
		beyond := func(t Tally) int { return t.Measured - t.ByGrade[0] }
		if one.Number > 0 && (!ok || one.Worst > t.Worst || one.Worst == t.Worst && beyond(one) > beyond(t)) {
			t, ok = one, true
		}
	}
	return t, ok
}
