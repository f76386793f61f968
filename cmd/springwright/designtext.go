package main

import (
	"math"
	"strings"

	"springwright/design"
	"springwright/design/effect"
	"springwright/design/quantity"
	"springwright/design/report"
	"springwright/design/target"
	"springwright/export/words"
	"springwright/optimize"
)

// designText is the result on standard output, with the bend list where there is one.
func designText(made report.Report, chosen optimize.Chosen, list, dir string, files []output) string {
	var text tableText
	wanted, r := made.Case, chosen.Result
	text.line("case %s: %s", wanted.Code, wanted.Title)
	text.line("%s, %s, %.1f mm of wire between the slots\n", r.Family, english().Wire(r.Spring.Wire), r.Spring.Path.WireLengthMM())

	text.choice(chosen)

	var rows [][]string
	for _, s := range r.Settings {
		rows = append(rows, []string{s.Freedom.Name, settingText(s)})
	}
	text.labelled(rows)

	before, after := r.Before, r.After
	text.line("")
	text.labelled([][]string{
		{"on the active tooth over the travel", "before rounding", "as drawn"},
		{"load along the travel", drivingText(wanted, before), drivingText(wanted, after)},
		{"largest side force, N", fixed(before.SideForceN, 3), fixed(after.SideForceN, 3)},
		{"worst couple (off what is asked), N·mm", fixed(before.CoupleNMM, 3), fixed(after.CoupleNMM, 3)},
		{"stress/yield", fixed(before.StressRatio, 2), fixed(after.StressRatio, 2)},
	})

	if relaxed := english().FirstDay(made.Evaluation.Record, made.Spring.Travel()); relaxed != "" {
		text.line("\n%s", relaxed)
	}

	text.teeth(wanted, *made.Teeth)

	text.bentSprings(wanted, r.Robust)
	if shares := english().Shares(made.Evaluation.Record.Shares); shares != "" {
		text.line("\n%s", shares)
	}

	if effect.SmallTravel(wanted) {
		text.line("\nso short a travel may be left to a straight wire (common practice); \"springwright compare\" with this case tells whether one will do")
	}

	alternativesText(&text, r, dir)

	if list != "" {
		text.line("\n%s", strings.TrimSuffix(list, "\n"))
	}
	text.line("")
	text.written(dir, files)
	text.line("\nPrint at 100 %% and measure both bars. An estimate for licensed dental professionals, not a")
	text.line("prescription: real wires differ by about a quarter, check the force with a gauge before tying.")
	return text.String()
}

func settingText(s optimize.Setting) string {
	if s.Freedom.Angle {
		return fixed(quantity.Degree.Outside(s.Value), decimals(quantity.Degree.Outside(s.Freedom.Grid))) + "°"
	}
	return fixed(s.Value, decimals(s.Freedom.Grid)) + " mm"
}

// decimals is how many decimals a multiple of step needs, at most 2.
func decimals(step float64) int {
	for n := range 2 {
		scaled := step * math.Pow10(n)
		if math.Abs(scaled-math.Round(scaled)) < 1e-9 {
			return n
		}
	}
	return 2
}

// drivingText is the driving load over the travel, in its own senses.
func drivingText(wanted design.Case, s optimize.Summary) string {
	driving := target.OfActive(s.Driving)
	return saidRange(wanted, driving, s.DrivingMin, s.DrivingMax, driving.Unit())
}

// saidRange says what a component of a load comes to, in the words of its tooth.
func saidRange(wanted design.Case, q target.Quantity, low, high float64, unit string) string {
	k, _, _ := q.Component()
	return english().Range(wanted.MemberOf(q), k, low, high, words.QuantityDecimals(q), unit)
}
