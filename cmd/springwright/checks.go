package main

import (
	"math"
	"strings"

	"springwright/design"
	"springwright/export"
	"springwright/optimize"
)

// checks lists what a design was held against: every window of the target that asks for
// something, the wire's stress and the room in the mouth.
func checks(wanted design.Case, r optimize.Result) []export.Check {
	var list []export.Check
	for q := range design.Quantities {
		for _, atStart := range [...]bool{true, false} {
			if check, asked := loadCheck(wanted, r.Evaluation.Record, q, atStart); asked {
				list = append(list, check)
			}
		}
	}
	stress := r.After.StressRatio
	list = append(list, export.Check{
		Name: "stress over yield", Value: "at most " + fixed(stress, 2), Limit: "at most " + fixed(wanted.Limits.StressRatio(), 2), Met: stress <= wanted.Limits.StressRatio(),
	})
	room := export.Check{Name: "room in the mouth", Value: "kept", Limit: "as measured", Met: true}
	if len(r.Exceeded) > 0 {
		room.Value, room.Met = strings.Join(r.Exceeded, ", "), false
	}
	return append(list, room)
}

// loadCheck compares one quantity with its window, on the trade's name for the sense that
// the target asks for.
func loadCheck(wanted design.Case, record design.Record, q design.Quantity, atStart bool) (check export.Check, asked bool) {
	judged := wanted.JudgedRecord(record)
	if len(judged) == 0 {
		return export.Check{}, false
	}
	name, sign := wanted.NamingOf(q, wanted.Target.Value(q, judged[0]))
	low, high, missed := math.Inf(1), math.Inf(-1), 0.0
	var window design.Window
	for i, p := range record.Positions {
		w := wanted.Target.WindowAt(q, p.TravelLeftMM, atStart)
		if w.Free() || atStart && i > 0 {
			continue
		}
		asked, window = true, w
		value := wanted.Target.Value(q, judged[i])
		missed = max(missed, w.Misses(value))
		low, high = min(low, sign*value), max(high, sign*value)
	}
	if !asked {
		return export.Check{}, false
	}
	if sign < 0 {
		window.Min, window.Max = -window.Max, -window.Min
	}
	decimals, unit := decimalsOf(q), q.Unit()
	check = export.Check{
		Name:  name + ", over the travel",
		Value: fixed(low, decimals) + " to " + fixed(high, decimals) + " " + unit,
		Limit: windowText(window, 2) + " " + unit,
		Met:   missed == 0,
	}
	switch {
	case atStart:
		check.Name, check.Value = name+", at the start", fixed(low, decimals)+" "+unit
	case q == design.Rate:
		check.Value = fixed(low, decimals) + " " + unit
	}
	return check, true
}

// decimalsOf is how many decimals a quantity is shown with.
func decimalsOf(q design.Quantity) int {
	if q.Couple() || q == design.MomentToForce {
		return 2
	}
	return 3
}

func windowText(w design.Window, decimals int) string {
	switch {
	case math.IsInf(w.Min, -1):
		return "at most " + fixed(w.Max, decimals)
	case math.IsInf(w.Max, 1):
		return "at least " + fixed(w.Min, decimals)
	case w.Min == -w.Max:
		return "±" + fixed(w.Max, decimals)
	}
	return fixed(w.Min, decimals) + " to " + fixed(w.Max, decimals)
}
