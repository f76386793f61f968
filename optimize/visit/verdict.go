package visit

import (
	"context"
	"math"
	"time"

	"springwright/design/timeline"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	// Visits are 4 to 6 weeks apart (common practice), and none is sooner than one (choice).
	usualFromDays, usualToDays = 28, 42
	soonestDays                = 7
	// A tooth is there where no more is left than is measured, and never nearer than these (choices: what a
	// bracket is placed wrongly by on average, Balut et al., AJODO 1992;102:62, is 0.34 mm).
	thereMM, thereRad = 0.25, 2 * degree
	// A visit's movement that is seen against the way is one from these standard deviations on (choice).
	surelySDs = 2
	// A turn of the tooth beyond what was planned and what was to be foreseen stops the spring from here on (choice: beyond what a bracket
	// is placed wrongly by, 5.5°, and as where such a turn is told before a spring is made).
	asideRad = 8 * degree
	// A spring works where it brings the tooth at least so far by the next visit (choice: what is seen).
	worksMM, worksRad = 0.15, 1 * degree
	// A root is waited for where it comes at least so far after its crown by then (choice: less is too slow).
	followsMM = 0.25
)

// judge finds the one thing to do.
func (m *model) judge(ctx context.Context, f, plan *fit, r *timeline.Report) error {
	v := &r.Verdict
	if stop := m.stops(plan, r); len(stop) > 0 {
		v.Advice, v.Reasons = timeline.Stop, stop
		return nil
	}
	works, until := m.works(f)
	switch {
	case r.NoRest != nil:
		v.Reasons = append(v.Reasons, timeline.Reason{Kind: timeline.UnseatedNow})
	case len(r.Loads.Misses) > 0:
		v.Reasons = append(v.Reasons, timeline.Reason{Kind: timeline.LoadsOff})
	}
	follows := m.rootFollows(f)
	if !works && follows < followsMM {
		v.Reasons = append(v.Reasons, timeline.Reason{Kind: timeline.Spent, Value: until})
	}
	if len(v.Reasons) == 0 {
		v.Advice = timeline.Wait
		v.Reasons = []timeline.Reason{{Kind: timeline.StillWorks, Value: until, Limit: usualToDays}}
		if !works {
			v.Reasons = []timeline.Reason{{Kind: timeline.RootFollows, Value: follows, Limit: usualToDays}}
		}
		m.look(f, r)
		return nil
	}
	ways, asIs, err := m.reactivated(ctx, r)
	if err != nil {
		return err
	}
	v.FromDays, v.ToDays = usualFromDays, usualToDays
	if v.Advice, v.Ways = timeline.Reactivate, ways; len(ways) == 0 && !asIs {
		v.Advice = timeline.Remake
		v.Reasons = append(v.Reasons, timeline.Reason{Kind: timeline.NoCorrection})
	}
	m.dates(r)
	return nil
}

// stops are the reasons to take the spring out, or to go no farther.
func (m *model) stops(plan *fit, r *timeline.Report) []timeline.Reason {
	var list []timeline.Reason
	add := func(kind timeline.ReasonKind, value, limit float64) {
		list = append(list, timeline.Reason{Kind: kind, Value: value, Limit: limit})
	}
	now, c := r.Points[len(r.Points)-1], m.job.Case
	there := max(thereMM, now.SD)
	if m.turns {
		there = max(thereRad, now.SD)
	}
	switch left := m.way - now.Closed; {
	case left < -2*there:
		add(timeline.TooFar, -left, 0)
	case left < there:
		add(timeline.GoalReached, max(0, left), 0)
	}
	if n := len(r.Points); n > 1 {
		before := r.Points[n-2]
		if back := before.Closed - now.Closed; back > surelySDs*math.Hypot(before.SD, now.SD) {
			add(timeline.WrongWay, back, 0)
		}
		m.aside(plan, now, &list)
	}
	lost, tipped := r3.Norm(r.Anchor.Lost.SlotMM), math.Abs(r.Anchor.Lost.Rotation.Y)
	if limit := c.Target.AnchorLossMM; limit > 0 && lost > limit {
		add(timeline.AnchorGone, lost, limit)
	}
	if limit := c.Target.AnchorTipRad; limit > 0 && tipped > limit {
		add(timeline.AnchorTipped, tipped, limit)
	}
	if r.Loads != nil && r.Loads.StressRatio > 1 && m.job.Visits[m.seatedAt()].Spring.Wire.TangentMPa == 0 {
		add(timeline.Yielded, r.Loads.StressRatio, 1)
	}
	for _, d := range r.Doubts {
		if d.Gauge {
			add(timeline.GaugeOff, d.SDs, 0)
		}
	}
	if !r.Worn && len(list) == 0 {
		add(timeline.NoneWorn, 0, 0)
	}
	return list
}

// aside finds measured turns of the tooth that were neither planned nor to be foreseen.
func (m *model) aside(plan *fit, now timeline.Point, list *[]timeline.Reason) {
	first, goal, foreseen := m.job.Visits[0].Now, m.job.Case.Goal, m.placement(plan.trace.arrivals[len(plan.trace.arrivals)-1])
	for k := tooth.CoupleX; k < tooth.Components; k++ {
		if !now.Visit.Known[k] {
			continue
		}
		low, high := min(first.At(k), goal.At(k), foreseen.At(k)), max(first.At(k), goal.At(k), foreseen.At(k))
		off := max(low-now.Now.At(k), now.Now.At(k)-high)
		if off > asideRad {
			signed := off
			if now.Now.At(k) < low {
				signed = -off
			}
			*list = append(*list, timeline.Reason{Kind: timeline.TurnedAside, Value: signed, Along: k})
		}
	}
}

// works tells how far the spring brings the tooth until the next usual visit, and whether that is worth
// waiting for; what reaches the goal is.
func (m *model) works(f *fit) (enough bool, closed float64) {
	steps := usualToDays / aheadStepDays
	if len(f.trace.ahead) < steps {
		return false, 0
	}
	closed = f.trace.ahead[steps-1].Closed - f.trace.left.Closed
	least := worksMM
	if m.turns {
		least = worksRad
	}
	left := m.way - f.trace.left.Closed
	return closed >= min(least, max(0, left)), min(closed, max(0, left))
}

// rootFollows is how far the centre of resistance comes after a crown that has gone ahead of it, until the
// next usual visit; 0 where it is not behind.
func (m *model) rootFollows(f *fit) float64 {
	steps := usualToDays / aheadStepDays
	if m.turns || len(f.trace.ahead) < steps || f.trace.left.Centre >= f.trace.left.Closed {
		return 0
	}
	return f.trace.ahead[steps-1].Centre - f.trace.left.Centre
}

// look says when to look again: as is usual, sooner where the tooth may be there, or the spring spent, by
// then.
func (m *model) look(f *fit, r *timeline.Report) {
	v := &r.Verdict
	v.FromDays, v.ToDays = usualFromDays, usualToDays
	left := m.way - r.Points[len(r.Points)-1].Closed
	days := func(rate float64) int {
		if !(rate > 0) {
			return usualToDays
		}
		return int(min(left/rate*month, usualToDays))
	}
	v.ToDays = max(soonestDays, days(r.Ahead.PerMonth))
	v.FromDays = max(soonestDays, min(v.FromDays, days(r.Ahead.High), v.ToDays))
	m.dates(r)
}

func (m *model) dates(r *timeline.Report) {
	last := m.job.Visits[len(m.job.Visits)-1].Date
	day := func(n int) time.Time { return last.AddDate(0, 0, n) }
	r.Verdict.From, r.Verdict.To = day(r.Verdict.FromDays), day(r.Verdict.ToDays)
}
