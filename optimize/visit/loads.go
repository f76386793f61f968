package visit

import (
	"context"
	"slices"

	"springwright/design/bent"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/timeline"
	"springwright/design/tooth"
	"springwright/optimize/asbent"

	"gonum.org/v1/gonum/spatial/r3"
)

// seatedAt is the index of the visit at which the spring that is worn was seated.
func (m *model) seatedAt() int {
	at := 0
	for i, v := range m.job.Visits {
		if v.Done.NewSpring() {
			at = i
		}
	}
	return at
}

// readings are what is known of the spring that is worn: that its free end was checked, and the gauge.
func (m *model) readings() spring.Measured {
	var read spring.Measured
	if b := m.job.Case.Bender; b.Checks && b.CheckSDMM > 0 && b.CheckSDRad > 0 {
		for k := range tooth.Components {
			sd := b.CheckSDMM
			if k.Couple() {
				sd = b.CheckSDRad
			}
			read.End = append(read.End, spring.EndReading{Along: k, SD: sd})
		}
	}
	// A gauge at the visit at which a spring was seated was held to the one before it, but for the first.
	at := m.seatedAt()
	for i := at; i < len(m.job.Visits); i++ {
		if g := m.job.Visits[i].Gauge; g != nil && (i > at || i == 0) {
			read.Gauge = g
		}
	}
	return read
}

// hairMM is a way, mm or rad, that is none.
const hairMM = 0.02

// loads solves the spring from where it was seated to where the teeth stand.
func (m *model) loads(ctx context.Context, f *fit, r *timeline.Report) error {
	at, last := m.seatedAt(), len(m.job.Visits)-1
	s := m.job.Visits[at].Spring
	c := m.job.Case
	c.Heading = s.Heading
	s.Start, s.End = c.SeatOf(r.Points[at].Now), c.SeatOf(r.Points[last].Now)
	s.Positions = 3 // the way is nearly straight; the last is what is asked for
	index := s.Positions - 1
	if r3.Norm(r3.Sub(s.Start.AtMM, s.End.AtMM)) < hairMM && r3.Norm(r3.Sub(s.Start.Rotation, s.End.Rotation)) < hairMM {
		s.End, index = c.SeatOf(c.Goal), 0
	}
	s.Shortfall = nil
	r.Spring = s
	known := asbent.CaseOf(s)
	known.Bender, known.Limits = c.Bender, c.Limits
	job := asbent.Job{Case: known, Spring: s, Measured: m.readings(), Springs: m.job.springs(), Seed: m.job.Seed, Workers: m.job.Workers}
	report, err := asbent.Read(ctx, job)
	if ctx.Err() == nil && err != nil && job.Measured.Gauge != nil { // a reading that no such spring can give
		r.Doubts = append(r.Doubts, timeline.Doubt{Visit: r.Points[last].Visit.Number, Gauge: true, SDs: doubtedSDs})
		job.Measured.Gauge = nil
		report, err = asbent.Read(ctx, job)
	}
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if err != nil {
		r.NoRest = err
		return nil
	}
	for _, d := range report.Doubts {
		if d.Kind == bent.OfGauge {
			r.Doubts = append(r.Doubts, timeline.Doubt{Visit: r.Points[last].Visit.Number, Gauge: true, SDs: d.SDs})
		}
	}
	positions := report.AsBent.Evaluation.Record.Positions
	p := positions[index]
	l := &timeline.Loads{Active: p.Active, Anchor: p.Anchor, Springs: report.AsBent.Trial.Springs}
	for i := range positions[:index+1] {
		l.StressRatio = max(l.StressRatio, positions[i].StressRatio)
	}
	if len(report.AsBent.Trial.Active) > index {
		l.ActiveBand, l.AnchorBand = report.AsBent.Trial.Active[index], report.AsBent.Trial.Anchor[index]
	}
	l.Misses = m.misses(f, *l)
	r.Loads = l
	return nil
}

// misses are the loads, now and until the next usual visit, that lie outside what is asked of them over the
// travel.
func (m *model) misses(f *fit, now timeline.Loads) []target.Miss {
	c := m.job.Case
	c.Target.Start = target.LoadWindow{}
	goal := m.job.Visits[0].Spring.End
	at := func(seat spring.Seat, active, anchor tooth.Load) spring.Position {
		return spring.Position{Seat: seat, TravelLeftMM: r3.Norm(r3.Sub(goal.AtMM, seat.AtMM)), Active: active, Anchor: anchor}
	}
	last := f.trace.left
	record := spring.Record{Positions: []spring.Position{at(last.Seat, now.Active, now.Anchor)}}
	for i, s := range f.trace.ahead {
		if (i+1)*aheadStepDays > usualToDays || s.Closed > m.way {
			break
		}
		record.Positions = append(record.Positions, at(s.Seat, s.OnActive, s.OnAnchor))
	}
	return slices.DeleteFunc(c.Misses(record), func(miss target.Miss) bool { return !far(miss) })
}

// far tells whether a load is so far outside its window that it is worth a bend: by a fourth of the
// window's width (choice; that is less than what the loads of two hands' springs differ by).
func far(m target.Miss) bool {
	beyond := max(m.Window.Min-m.Value, m.Value-m.Window.Max)
	return beyond > 0.25*(m.Window.Max-m.Window.Min)
}

// reactivated searches bends that bring the spring, taken out and seated anew where the teeth stand, to its
// target. usable tells that it meets that as it is or after them.
func (m *model) reactivated(ctx context.Context, r *timeline.Report) (ways []timeline.Way, asIs bool, err error) {
	at := m.seatedAt()
	s := m.job.Visits[at].Spring
	c := m.job.Case
	c.Heading, c.Wire, c.Slide = s.Heading, s.Wire, s.Slide
	c.Now = r.Points[len(r.Points)-1].Now
	s.Start, s.End = c.SeatOf(c.Now), c.SeatOf(c.Goal)
	s.Positions = max(s.Positions, 3)
	s.Shortfall = nil
	report, err := asbent.Read(ctx, asbent.Job{Case: c, Spring: s, Measured: m.readings(), Springs: m.job.springs(), Seed: m.job.Seed, Workers: m.job.Workers})
	if ctx.Err() != nil {
		return nil, false, ctx.Err()
	}
	if err != nil {
		return nil, false, nil // it cannot be seated there, and no bend is known that would change it
	}
	asIs, _ = report.Usable()
	for _, made := range [...]*asbent.Corrected{report.One, report.Two} {
		if made == nil || !made.Usable() {
			continue
		}
		way := timeline.Way{Chance: made.Trial.Chance(), WithLast: made.WithLast, Spring: made.Spring, Missed: made.Shortfall()}
		if p := made.Evaluation.Record.Positions; len(p) > 0 {
			way.Active = p[0].Active
		}
		for _, k := range made.Corrections {
			way.Changes = append(way.Changes, timeline.Change{Step: k.Step, Fresh: k.Fresh, ByRad: k.ByRad, Seat: k.Seat, ByMM: k.ByMM})
		}
		ways = append(ways, way)
	}
	return ways, asIs, nil
}
