package visit

import (
	"context"
	"slices"

	"springwright/design"
	"springwright/design/effect"
	"springwright/design/timeline"
	"springwright/design/tooth"
)

// Read tells what there is to tell after the last visit of a job. The error wraps ErrNoPlan, says that the
// spring is not followed, or is that of ctx.
func Read(ctx context.Context, j Job) (timeline.Report, error) {
	m, err := newModel(j)
	if err != nil {
		return timeline.Report{}, err
	}
	visits := m.job.Visits
	last := visits[len(visits)-1]
	r := timeline.Report{Case: m.job.Case, Turns: m.turns, Way: m.way, SpringFile: last.SpringFile, Worn: last.SpringFile != ""}

	all := m.observations()
	before, err := m.estimate(ctx, m.prior(), slices.DeleteFunc(slices.Clone(all), func(o observation) bool { return o.visit == len(visits)-1 }), 0)
	if err != nil {
		return r, err
	}
	f, err := m.estimate(ctx, before.z, all, aheadSteps)
	if err != nil {
		return r, err
	}
	plan := &fit{z: m.prior()}
	if plan.trace, err = m.follow(ctx, plan.z, 0); err != nil {
		return r, err
	}
	r.Fits, r.Doubts = m.fits(f), f.doubts
	for i, v := range visits {
		p := timeline.Point{
			Visit: v, Days: int(v.Date.Sub(visits[0].Date).Hours()/24 + 0.5), Now: m.stands(i, f), Planned: plan.trace.arrivals[i].Closed,
			Active: f.trace.arrivals[i].OnActive, Anchor: f.trace.arrivals[i].OnAnchor, Push: f.trace.arrivals[i].Push,
		}
		p.Closed, p.SD = m.closed(p.Now), v.PlaceSDMM
		if m.turns {
			p.SD = v.TurnSDRad
		}
		r.Points = append(r.Points, p)
	}
	if n := len(visits) - 1; n > 0 {
		closed := func(t trace) []float64 { return []float64{m.closed(m.placement(t.arrivals[n]))} }
		r.Points[n].Expected, r.Points[n].ExpectedSD, r.Points[n].Told = closed(before.trace)[0], before.sds(closed)[0], true
	}
	if r.Planned, err = m.planned(ctx); err != nil {
		return r, err
	}
	r.Fitted, r.Ahead, r.Anchor = m.marks(f), m.aheadOf(f), m.anchorOf(f, plan)
	if r.Worn {
		if err := m.loads(ctx, f, &r); err != nil {
			return r, err
		}
	}
	return r, m.judge(ctx, f, plan, &r)
}

// stands is where the active slot stands at a visit: as measured, and what was not measured as fitted.
func (m *model) stands(i int, f *fit) design.Placement {
	v := m.job.Visits[i]
	if i == 0 {
		return v.Now
	}
	p := m.placement(f.trace.arrivals[i])
	for k := range tooth.Components {
		if v.Known[k] {
			p.Set(k, v.Now.At(k))
		}
	}
	return p
}

// planned is the way that the first spring was to bring the tooth.
func (m *model) planned(ctx context.Context) ([]timeline.Mark, error) {
	first := *m
	first.job.Visits = m.job.Visits[:1]
	first.parts = len(m.parameters) + 1
	t, err := first.follow(ctx, first.prior(), aheadSteps)
	if err != nil {
		return nil, err
	}
	marks := []timeline.Mark{{Push: t.arrivals[0].Push}}
	return append(marks, m.marksAhead(t, 0)...), nil
}

func (m *model) marksAhead(t trace, from float64) []timeline.Mark {
	var marks []timeline.Mark
	for i, s := range t.ahead {
		marks = append(marks, timeline.Mark{Days: from + float64((i+1)*aheadStepDays), Closed: s.Closed, Push: s.Push})
	}
	return marks
}

// marks are the fitted way through all visits and beyond.
func (m *model) marks(f *fit) []timeline.Mark {
	var marks []timeline.Mark
	for _, p := range f.trace.way {
		marks = append(marks, timeline.Mark{Days: p.days, Closed: p.at.Closed, Push: p.at.Push})
	}
	days := 0.0
	for i := 1; i < len(m.job.Visits); i++ {
		days += m.days(i)
	}
	return append(marks, m.marksAhead(f.trace, days)...)
}

// A spring is spent where in four weeks it brings the tooth no farther than these (choice: less than is
// seen by a calliper).
const (
	spentMM   = 0.05
	spentRad  = 0.5 * degree
	fourWeeks = 28 / aheadStepDays
)

// reach is at how many steps of the time ahead the spring has done what it does; arrives tells that it is
// there.
func (m *model) reach(t trace) (steps int, arrives bool) {
	spent := spentMM
	if m.turns {
		spent = spentRad
	}
	for i, s := range t.ahead {
		if s.Closed >= m.way {
			return i + 1, true
		}
		if i+fourWeeks < len(t.ahead) && t.ahead[i+fourWeeks].Closed-s.Closed < spent {
			return i + 1, false
		}
	}
	return len(t.ahead), false
}

// aheadOf is how far the spring still brings the tooth.
func (m *model) aheadOf(f *fit) timeline.Ahead {
	var a timeline.Ahead
	if len(f.trace.ahead) == 0 {
		return a
	}
	n, arrives := m.reach(f.trace)
	a.Arrives, a.Days, a.Goes = arrives, float64(n*aheadStepDays), n == len(f.trace.ahead) && !arrives
	values := func(t trace) []float64 {
		first := min(fourWeeks, len(t.ahead))
		perMonth := (t.ahead[first-1].Closed - t.left.Closed) / float64(first*aheadStepDays) * month
		return []float64{t.ahead[n-1].Closed - t.left.Closed, perMonth}
	}
	now, sds := values(f.trace), f.sds(values)
	a.Closed, a.SD = min(now[0], max(0, m.way-f.trace.left.Closed)), sds[0]
	if !arrives {
		a.Closed = now[0]
	}
	a.PerMonth, a.Low, a.High = now[1], max(0, now[1]-sds[1]), now[1]+sds[1]
	return a
}

// anchorOf is what the anchor has lost, as fitted, and where all of it was measured as that.
func (m *model) anchorOf(f, plan *fit) timeline.Anchor {
	a := timeline.Anchor{Moves: m.job.Case.Anchorage.Moves()}
	last := len(f.trace.arrivals) - 1
	a.Lost, a.Predicted = f.trace.arrivals[last].Anchor, plan.trace.arrivals[last].Anchor
	v := m.job.Visits[last]
	for k := range tooth.Components {
		a.Measured = a.Measured || v.AnchorKnown[k]
	}
	if !a.Moves || last == 0 {
		return a
	}
	parts := func(s effect.AnchorShift) []float64 {
		return []float64{s.SlotMM.X, s.SlotMM.Y, s.SlotMM.Z, s.Rotation.X, s.Rotation.Y, s.Rotation.Z}
	}
	copy(a.SD[:], f.sds(func(t trace) []float64 { return parts(t.arrivals[last].Anchor) }))
	return a
}
