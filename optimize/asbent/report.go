package asbent

import (
	"context"
	"errors"
	"slices"

	"springwright/design/bent"
	"springwright/design/report"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/optimize/hand"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/spatial/r3"
)

// Read tells of a spring what was bent and what to do about it. The errors are those of newModel and of the
// estimate; without a target, also of solving the most likely spring.
func Read(ctx context.Context, j Job) (Report, error) {
	m, err := newModel(j)
	if err != nil {
		return Report{}, err
	}
	e, err := m.estimate()
	if err != nil {
		return Report{}, err
	}
	r := Report{Doubts: e.doubted, HasTarget: m.hasTarget(), CorrectionSDRad: m.correctionSDRad()}
	sds := e.sds()
	came := m.cameOut(e.mean)
	first := m.hand.FirstStep()
	for i, s := range m.drawn {
		r.Steps = append(r.Steps, StepEstimate{
			Step: s, Drawn: size(s), Estimate: Estimate{Value: size(came.Steps[i]), SD: sds[first+i] * abs(m.hand.SD(first+i))},
			Measured: slices.ContainsFunc(j.Measured.Steps, func(r spring.StepReading) bool { return r.Step == i }),
		})
	}
	r.EndOff = off(m.end, freeEnd(came.Steps))
	r.Stiffness = Estimate{Value: came.Stiffness, SD: sds[hand.StiffnessSource] * abs(m.hand.SD(hand.StiffnessSource))}
	if r.AsBent, err = m.outcome(ctx, came.Steps, came.Stiffness); err != nil {
		if ctx.Err() != nil || !r.HasTarget { // without a target nothing else could be told
			return r, err
		}
		r.AsBent.NoRest = err
	}
	if r.AsBent.NoRest == nil {
		if a, ok := report.ActivationOf(m.job.Case, r.AsBent.Spring, r.AsBent.Evaluation); ok {
			r.Activation, r.Lost = &a, m.lost(a, came.Steps)
		}
	}
	if r.AsBent.Exceeded, err = m.exceeded(ctx, came.Steps, nil); err != nil {
		return r, err
	}
	outcomes := make([]hand.Outcome, m.job.springs())
	if err := m.each(ctx, len(outcomes), func(b *hand.Bench, i int) {
		outcomes[i] = b.Solve(m.cameOut(e.draw(m.numbers(i)[:m.hand.Sources()])))
	}); err != nil {
		return r, err
	}
	r.AsBent.Trial = summed(outcomes, m.spring.Positions)
	if !r.HasTarget {
		return r, nil
	}
	if r.Allowed, err = m.allowed(ctx, came.Stiffness, &e); err != nil {
		return r, err
	}
	return r, m.correct(ctx, &r, &e, outcomes)
}

// allowed is the chance of the spring bent exactly as drawn.
func (m *model) allowed(ctx context.Context, stiffness float64, e *estimate) (float64, error) {
	met := make([]hand.Outcome, m.job.springs())
	first := m.hand.FirstStep()
	err := m.each(ctx, len(met), func(b *hand.Bench, i int) {
		z := e.draw(m.numbers(i)[:m.hand.Sources()])
		for j := first; j < len(z); j++ {
			z[j] = 0
		}
		met[i] = b.Solve(m.cameOut(z))
	})
	return summed(met, m.spring.Positions).Chance(), err
}

// correct searches the corrections of a report.
func (m *model) correct(ctx context.Context, r *Report, e *estimate, outcomes []hand.Outcome) error {
	s, err := m.newSearch(ctx, e, outcomes)
	if err != nil {
		return err
	}
	best := r.AsBent.Trial.Chance()
	if t, ok := s.single(); ok {
		if r.One, err = m.made(ctx, s, t); err != nil {
			return err
		}
		if !worthMaking(r.One, r.AsBent, r.AsBent, best) {
			r.One = nil
		} else {
			best = r.One.Trial.Chance()
		}
	}
	if t, ok := s.double(); ok {
		if r.Two, err = m.made(ctx, s, t); err != nil {
			return err
		}
		before := r.AsBent
		if r.One != nil {
			before = r.One.Outcome
		}
		if !worthMaking(r.Two, before, r.AsBent, best) {
			r.Two = nil
		}
	}
	return nil
}

// worthMaking tells whether a correction gains enough: chance, or the target itself.
func worthMaking(c *Corrected, before, asBent Outcome, chance float64) bool {
	if c == nil || c.Overstressed && !before.Overstressed && before.NoRest == nil || c.Outgrows(asBent) {
		return false
	}
	return c.Trial.Chance() >= chance+LeastGain || c.Met() && !before.Met() && c.Trial.Chance() > chance
}

// roomToldMM is what is told of the room at a bent wire, by the mouth and by readings: two standard deviations of a
// calliper read to 0.1 mm (see design.SkilledBender).
const roomToldMM = 0.2

// exceeded is how far a wire with corrections goes beyond the room of the case.
func (m *model) exceeded(ctx context.Context, steps spring.Steps, corrections []Correction) ([]target.Excess, error) {
	if m.job.Case.Limits.LoopHeightMM <= 0 { // nobody has told the room
		return nil, nil
	}
	var fresh []int
	for _, c := range corrections {
		if c.Fresh {
			fresh = append(fresh, c.Step)
		}
	}
	return m.room.Exceeded(ctx, steps, fresh, roomToldMM)
}

// made solves what corrections make of the spring; nil where the most likely one has no solution then.
func (m *model) made(ctx context.Context, s *search, t choice) (*Corrected, error) {
	corrections := s.corrections(t)
	c := &Corrected{Corrections: corrections, WithLast: bent.WithLast(corrections)}
	var err error
	c.Outcome, err = m.outcome(ctx, s.changed(t), s.mean.Stiffness)
	switch {
	case ctx.Err() != nil:
		return nil, ctx.Err()
	case err != nil: // nothing to propose
		return nil, nil
	}
	if c.Exceeded, err = m.exceeded(ctx, s.changed(t), corrections); err != nil {
		return nil, err
	}
	c.Trial, err = m.trial(ctx, s.e, m.job.springs(), func(steps spring.Steps, errors []float64) spring.Steps {
		return corrected(steps, s.off(corrections, errors))
	})
	return c, err
}

// off are corrections as a hand makes them.
func (s *search) off(corrections []Correction, errors []float64) []Correction {
	out := slices.Clone(corrections)
	for k := range out {
		if out[k].Seat {
			out[k].ByMM += seatSDMM * errors[seat]
		} else {
			out[k].ByRad += s.errorSD * errors[k]
		}
	}
	return out
}

// outcome evaluates a wire of such stiffness, without its trial. Where the fine solver finds no contacts in the
// slots the coarse one of the trial has the word, which tells loads but no stress.
func (m *model) outcome(ctx context.Context, steps spring.Steps, stiffness float64) (Outcome, error) {
	o := Outcome{Spring: m.spring}
	o.Spring.Path, o.Spring.Shortfall = spring.PathOf(steps...), nil
	actual := o.Spring
	actual.Wire.EMPa *= stiffness
	e, err := solve.Evaluate(ctx, actual, solve.Options{AllowYield: true})
	if bent.Unfound(err) && ctx.Err() == nil {
		if record, ok := m.coarse(hand.CameOut{Steps: steps, Stiffness: stiffness}); ok {
			e, err = solve.Evaluation{Record: record}, nil
		}
	}
	if err != nil && !errors.Is(err, solve.ErrYield) {
		return o, err
	}
	o.Evaluation = e
	if m.hasTarget() {
		o.Misses = m.job.Case.Misses(e.Record)
	}
	var ratios []float64
	for _, p := range e.Record.Positions {
		ratios = append(ratios, p.StressRatio)
	}
	o.Overstressed = len(ratios) > 0 && floats.Max(ratios) > m.job.Case.Limits.StressRatio()
	return o, nil
}

func abs(v float64) float64 { return max(v, -v) }

// coarse are the loads of a spring as the trial solves it.
func (m *model) coarse(came hand.CameOut) (spring.Record, bool) {
	b, err := m.hand.NewBench()
	if err != nil {
		return spring.Record{}, false
	}
	o := b.Solve(came)
	if !o.Seated {
		return spring.Record{}, false
	}
	record := spring.Record{Title: m.spring.Title, Teeth: m.spring.Teeth}
	for i := range o.Active {
		seat := m.spring.SeatAt(i)
		record.Positions = append(record.Positions, spring.Position{
			Seat: seat, TravelLeftMM: r3.Norm(r3.Sub(m.spring.End.AtMM, seat.AtMM)), Active: o.Active[i], Anchor: o.Anchor[i],
		})
	}
	return record, true
}
