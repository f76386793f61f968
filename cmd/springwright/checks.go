package main

import (
	"math"
	"strings"

	"springwright/design"
	"springwright/design/tooth"
	"springwright/export"
	"springwright/optimize"
)

// checks lists what a design was held against: every window of the target that asks for
// something, the wire's stress and the room in the mouth.
func checks(wanted design.Case, r optimize.Result) []export.Check {
	var list []export.Check
	for k := range tooth.Components {
		for _, atStart := range [...]bool{true, false} {
			if check, asked := loadCheck(wanted, r.Evaluation.Record, k, atStart); asked {
				list = append(list, check)
			}
		}
	}
	stress := r.After.StressRatio
	list = append(list, export.Check{
		Name: "stress over yield", Value: "at most " + fixed(stress, 2), Limit: "at most 1.00", Met: stress <= 1,
	})
	room := export.Check{Name: "room in the mouth", Value: "kept", Limit: "as measured", Met: true}
	if len(r.Exceeded) > 0 {
		room.Value, room.Met = strings.Join(r.Exceeded, ", "), false
	}
	return append(list, room)
}

// loadCheck compares one component with its window, on the trade's name and sign.
func loadCheck(wanted design.Case, record design.Record, k tooth.Component, atStart bool) (check export.Check, asked bool) {
	name, sign := wanted.Teeth.Clinical(k)
	low, high, missed := math.Inf(1), math.Inf(-1), 0.0
	var window design.Window
	for i, p := range record.Positions {
		w := wanted.Target.WindowAt(k, p.TravelLeftMM, atStart)
		if w.Free() || atStart && i > 0 {
			continue
		}
		asked, window = true, w
		value := wanted.JudgedLoad(p.Active, p.Seat).Component(k)
		missed = max(missed, w.Misses(value))
		low, high = min(low, sign*value), max(high, sign*value)
	}
	if !asked {
		return export.Check{}, false
	}
	if sign < 0 {
		window.Min, window.Max = -window.Max, -window.Min
	}
	decimals, unit := 3, "N"
	if k.Couple() {
		decimals, unit = 2, "N·mm"
		if wanted.Target.AtResistance {
			name += " at the centre of resistance"
		}
	}
	check = export.Check{
		Name:  name + ", over the travel",
		Value: fixed(low, decimals) + " to " + fixed(high, decimals) + " " + unit,
		Limit: windowText(window, 2) + " " + unit,
		Met:   missed == 0,
	}
	if atStart {
		check.Name, check.Value = name+", at the start", fixed(low, decimals)+" "+unit
	}
	return check, true
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
