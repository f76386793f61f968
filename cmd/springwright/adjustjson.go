package main

import (
	"springwright/design/casefile"
	"springwright/design/spring"
	"springwright/optimize/asbent"
)

// adjustJSON is a report on a spring as bent, for programs.
func adjustJSON(from casefile.Origin, drawn spring.Spring, r asbent.Report) ([]byte, error) {
	a := casefile.Adjustment{
		Spring: drawn, EndOff: r.EndOff, Stiffness: r.Stiffness.Value, StiffnessSD: r.Stiffness.SD,
		AsBent: adjustedOutcome(r.AsBent), Allowed: r.Allowed, HasTarget: r.HasTarget,
	}
	for _, s := range r.Steps {
		a.Steps = append(a.Steps, casefile.AdjustedStep{Drawn: s.Drawn, Value: s.Value, SD: s.SD, Measured: s.Measured})
	}
	for _, made := range [...]*asbent.Corrected{r.One, r.Two} {
		if made == nil {
			continue
		}
		one := casefile.AdjustedCorrections{WithLast: made.WithLast, Outcome: adjustedOutcome(made.Outcome)}
		for _, c := range made.Corrections {
			one.Changes = append(one.Changes, casefile.AdjustedChange{Step: c.Step, Fresh: c.Fresh, ByRad: c.ByRad})
		}
		a.Corrections = append(a.Corrections, one)
	}
	return casefile.WriteAdjustment(from, a)
}

func adjustedOutcome(o asbent.Outcome) casefile.AdjustedOutcome {
	return casefile.AdjustedOutcome{
		Record: o.Evaluation.Record, Shortfall: o.Shortfall(), Overstressed: o.Overstressed,
		Springs: o.Trial.Springs, Met: o.Trial.Met, Unseated: o.Trial.Unseated, Active: o.Trial.Active, Anchor: o.Trial.Anchor,
	}
}
