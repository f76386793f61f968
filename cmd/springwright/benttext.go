package main

import (
	"fmt"
	"strconv"

	"springwright/design"

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

// bentLines says what came of the springs bent in trial.
func bentLines(s *design.Spread) []string {
	if s == nil {
		return nil
	}
	percent := func(share float64) string { return fixed(100*share, 0) }
	line := fmt.Sprintf("of %d bent springs %s %% (%s–%s) meet the target", s.Springs, percent(s.Share()), percent(s.Low), percent(s.High))
	if s.Influence != "" {
		line += fmt.Sprintf("; largest influence: %s (%s %%)", s.Influence, percent(s.InfluenceShare))
	}
	lines := []string{line}
	if s.MostMissed != "" {
		lines = append(lines, fmt.Sprintf("most often missed: %s (%s %%)", s.MostMissed, percent(s.MissedShare)))
	}
	if s.Unseated > 0 {
		lines = append(lines, fmt.Sprintf("%d of them cannot be seated", s.Unseated))
	}
	if n := len(s.Positions); n > 0 {
		start := s.Positions[0]
		lines = append(lines, fmt.Sprintf("nine of ten push with %s to %s N and turn with %s to %s N·mm in the plane of the travel at the start",
			fixed(start.ActiveForceZN.Low, 2), fixed(start.ActiveForceZN.High, 2),
			fixed(start.ActiveCoupleYNMM.Low, 1), fixed(start.ActiveCoupleYNMM.High, 1)))
	}
	return lines
}
