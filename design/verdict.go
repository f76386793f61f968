package design

import (
	"math"

	"springwright/design/spring"
	"springwright/design/target"
)

// Verdicts holds a record against every window of the target, usual limits included, in the
// order of the quantities, that at the start before that over the travel.
func (c Case) Verdicts(r spring.Record) []target.Verdict {
	var list []target.Verdict
	judged := c.JudgedRecord(r)
	for q := range target.Quantities {
		for _, atStart := range [...]bool{true, false} {
			v := target.Verdict{Quantity: q, AtStart: atStart, Low: math.Inf(1), High: math.Inf(-1), Met: true}
			held := false
			for i, p := range r.Positions {
				w := c.Target.WindowAt(q, p.TravelLeftMM, atStart)
				if w.Free() || atStart && i > 0 {
					continue
				}
				value := c.Target.Value(q, judged[i])
				held, v.Window = true, w
				v.Low, v.High = min(v.Low, value), max(v.High, value)
				if missed := w.Misses(value); missed > 0 && (v.Met || missed > w.Misses(v.Worst)) {
					v.Met, v.Worst, v.WorstLeftMM = false, value, p.TravelLeftMM
				}
			}
			if held {
				list = append(list, v)
			}
		}
	}
	return list
}

// Misses lists the windows of the target that a record misses, the worst place of each.
func (c Case) Misses(r spring.Record) []target.Miss {
	var list []target.Miss
	for _, v := range c.Verdicts(r) {
		if !v.Met {
			list = append(list, target.Miss{
				Quantity: v.Quantity, Value: v.Worst, Window: v.Window, AtStart: v.AtStart, TravelLeftMM: v.WorstLeftMM,
				AtResistance: v.Quantity.Couple() && c.Target.AtResistance,
			})
		}
	}
	return list
}
