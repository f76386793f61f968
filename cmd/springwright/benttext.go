package main

import (
	"fmt"
	"strconv"

	"springwright/design"
	"springwright/design/target"
	"springwright/export/words"
	"springwright/optimize"

	"github.com/spf13/pflag"
)

// springsFlag is the number of springs to be bent in trial.
type springsFlag struct{ value *int }

func addSpringsFlag(flags *pflag.FlagSet, value *int) {
	flags.Var(springsFlag{value}, "springs", "bend `N` springs in trial, instead of the case's number; 0 bends none")
}

func (f springsFlag) Set(text string) error {
	n, err := strconv.Atoi(text)
	if err != nil || n < 0 || n > design.MostSprings {
		return fmt.Errorf("%q is not a whole number from 0 to %d", text, design.MostSprings)
	}
	*f.value = n
	return nil
}

// String is empty: the default is what the case says.
func (f springsFlag) String() string { return "" }

func (f springsFlag) Type() string { return "springs" }

// bentSprings says what came of the springs bent in trial; nothing where none were.
func (t *tableText) bentSprings(wanted design.Case, r optimize.Robustness) {
	s := r.Spread
	if s.Springs == 0 {
		return
	}
	percent := func(share float64) string { return fixed(100*share, 0) }
	line := fmt.Sprintf("of %d bent springs %s %% (%s–%s) meet the target", s.Springs, percent(s.Share()), percent(s.Low), percent(s.High))
	if s.Influence != "" {
		line += fmt.Sprintf("; largest influence: %s (%s %%)", s.Influence, percent(s.InfluenceShare))
	}
	t.line("\n%s", line)
	if s.Unseated > 0 {
		t.line("%d of them cannot be seated", s.Unseated)
	}
	if s.MostMissed != "" {
		t.line("most often missed: %s (%s %%)", s.MostMissed, percent(s.MissedShare))
	}
	if len(s.Positions) > 0 {
		t.line("")
		t.labelled(append([][]string{{"bent springs at the start", "5 %", "median", "95 %"}}, bandRows(wanted, r.Judged)...))
	}
}

// bandRows has a row for each load that is judged at the start, on the trade's name and
// sign.
func bandRows(wanted design.Case, judged []optimize.JudgedBand) [][]string {
	var rows [][]string
	seen := map[target.Quantity]bool{}
	for _, j := range judged {
		if j.Position > 0 || seen[j.Quantity] {
			continue
		}
		seen[j.Quantity] = true
		name := english().Quantities(wanted, j.Quantity) + ", " + j.Quantity.Unit()
		if _, _, ok := j.Quantity.Component(); !ok {
			number := func(v float64) string { return fixed(v, words.QuantityDecimals(j.Quantity)) }
			rows = append(rows, []string{name, number(j.Band.Low), number(j.Band.Median), number(j.Band.High)})
			continue
		}
		// From the side that is asked for least to that which is asked for most.
		sign := wanted.SignOf(j.Quantity, j.Band.Median)
		low, high := j.Band.Low, j.Band.High
		if sign < 0 {
			low, high = high, low
		}
		said := func(v float64) string { return saidRange(wanted, j.Quantity, v, v, "") }
		rows = append(rows, []string{name, said(low), said(j.Band.Median), said(high)})
	}
	return rows
}
