package design

import "math"

// Verdict is how a spring stands to one window of its target, over all places where it holds.
type Verdict struct {
	Quantity  Quantity
	AtStart   bool    // the window at the start; else that over the travel
	Window    Window  // global axes, in the quantity's unit
	Low, High float64 // what the quantity comes to, likewise
	Met       bool
	// Worst is the value that misses the window most, and WorstLeftMM where on the travel;
	// without meaning where it is met.
	Worst, WorstLeftMM float64
}

// Verdicts holds a record against every window of the target, usual limits included, in the
// order of the quantities, that at the start before that over the travel.
func (c Case) Verdicts(r Record) []Verdict {
	var list []Verdict
	judged := c.JudgedRecord(r)
	for q := range Quantities {
		for _, atStart := range [...]bool{true, false} {
			v := Verdict{Quantity: q, AtStart: atStart, Low: math.Inf(1), High: math.Inf(-1), Met: true}
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
func (c Case) Misses(r Record) []Miss {
	var list []Miss
	for _, v := range c.Verdicts(r) {
		if !v.Met {
			list = append(list, Miss{
				Quantity: v.Quantity, Value: v.Worst, Window: v.Window, AtStart: v.AtStart, TravelLeftMM: v.WorstLeftMM,
				AtResistance: v.Quantity.Couple() && c.Target.AtResistance,
			})
		}
	}
	return list
}
