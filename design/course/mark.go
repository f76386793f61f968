package course

import (
	"math"
	"slices"

	"springwright/design/bent"
	"springwright/design/spring"
	"springwright/design/tooth"
)

// Off is a step that was measured: mm or rad in size, Off above 0 for more than drawn. Measured is below 0 where the
// wire is bent the other way.
type Off struct {
	Step                 int
	Number               int // of the bend or twist; 0 of a straight
	Drawn, Measured, Off float64
}

// Mark is what is to be said of a student's spring.
type Mark struct {
	Student Student
	Source  string // the picture or table that it was read from
	Steps   []Off  // in the order of the wire
	// WorstBend and WorstStraight are in Steps; −1: none was measured.
	WorstBend, WorstStraight int
	Unread                   []int // numbers of bends that were not measured
	// Grade is "" where a bend was not measured: nobody passes by what was not looked at.
	Grade string
	// Report is what is told of the spring as it came out; nil where NotReckoned says why nothing is.
	Report      *bent.Report
	NotReckoned error
}

// Marks are those of a class.
type Marks struct {
	Class   Class
	Bands   Bands
	Marks   []Mark // in the order of the students
	NotRead []NotRead
	Missing []string // codes of those of whom nothing was handed in
}

// NotRead is what was handed in and could not be read.
type NotRead struct {
	Source string
	Code   string // "" where nobody knows whose it is
	Err    error
}

// Measure holds readings against a student's drawing, without a grade. Where a step was measured twice the last reading
// holds.
func Measure(student Student, source string, readings []spring.StepReading) Mark {
	m := Mark{Student: student, Source: source, WorstBend: -1, WorstStraight: -1}
	steps, numbers := student.Spring.Path.Steps(), student.Spring.Path.BendNumbers()
	for i, s := range steps {
		at := -1
		for k, r := range readings {
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
		one := Off{Step: i, Number: numbers[i], Drawn: s.LengthMM, Measured: readings[at].Value}
		if s.Kind != spring.Straight {
			one.Number = numbers[i]
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
	return m
}

// Worst is what the worst bend and the worst straight are off by, rad and mm without a sign.
func (m Mark) Worst() (rad, mm float64) {
	if m.WorstBend >= 0 {
		rad = math.Abs(m.Steps[m.WorstBend].Off)
	}
	if m.WorstStraight >= 0 {
		mm = math.Abs(m.Steps[m.WorstStraight].Off)
	}
	return rad, mm
}

// Graded is the mark with its grade.
func (m Mark) Graded(bands Bands) Mark {
	m.Grade = ""
	if len(m.Unread) == 0 {
		rad, mm := m.Worst()
		m.Grade = bands.Grade(rad, mm, m.Met())
	}
	return m
}

// Met tells whether the spring as bent meets its target.
func (m Mark) Met() bool {
	if m.Report == nil {
		return false
	}
	met, _ := m.Report.Usable()
	return met
}

// Bent are the loads on the active tooth and on the anchor at the start, of the spring most likely bent; ok is false
// where they are not known.
func (m Mark) Bent() (loads [2]tooth.Load, ok bool) {
	if m.Report == nil || m.Report.AsBent.NoRest != nil || len(m.Report.AsBent.Evaluation.Record.Positions) == 0 {
		return loads, false
	}
	first := m.Report.AsBent.Evaluation.Record.Positions[0]
	return [2]tooth.Load{first.Active, first.Anchor}, true
}

// Tally is how a class did at one step of the wire.
type Tally struct {
	Step, Number int // as of Off
	Measured     int // students
	MeanOff      float64
	ByGrade      []int // students within the band of each grade and not of a better one, and last those beyond all
	Worst        int   // students of whose spring it is the worst bend or the worst straight
}

// Tallies count over a class, in the order of the wire; steps that nobody measured are left out.
func (k Marks) Tallies() []Tally {
	var all []Tally
	for _, m := range k.Marks {
		for i, o := range m.Steps {
			at := slices.IndexFunc(all, func(t Tally) bool { return t.Step == o.Step && t.Number == o.Number })
			if at < 0 {
				at = len(all)
				all = append(all, Tally{Step: o.Step, Number: o.Number, ByGrade: make([]int, len(k.Bands.List)+1)})
			}
			t := &all[at]
			t.Measured++
			t.MeanOff += o.Off
			if i == m.WorstBend || i == m.WorstStraight {
				t.Worst++
			}
			t.ByGrade[k.Bands.band(o)]++
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

// WorstStep is the bend or twist that was the worst of most students, of several the one with most students beyond the
// best band; ok is false where no bend was measured.
func (k Marks) WorstStep() (t Tally, ok bool) {
	for _, one := range k.Tallies() {
		beyond := func(t Tally) int { return t.Measured - t.ByGrade[0] }
		if one.Number > 0 && (!ok || one.Worst > t.Worst || one.Worst == t.Worst && beyond(one) > beyond(t)) {
			t, ok = one, true
		}
	}
	return t, ok
}

// Grades are the names of all grades with how many students have each, the best first and last those beyond all bands.
func (k Marks) Grades() (names []string, students []int) {
	for _, b := range k.Bands.List {
		names = append(names, b.Grade)
	}
	names = append(names, k.Bands.Below)
	students = make([]int, len(names))
	for _, m := range k.Marks {
		if i := slices.Index(names, m.Grade); i >= 0 {
			students[i]++
		}
	}
	return names, students
}
