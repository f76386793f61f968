package bend

import (
	"bytes"
	"encoding/csv"
	"math"
	"slices"
	"strconv"
	"testing"

	"springwright/design/spring"
)

// readCSV reads what CSV writes, to show that nothing which bends a spring gets lost on paper.
func readCSV(t *testing.T, text []byte) Table {
	t.Helper()
	lines, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(lines[0], columns[:]) {
		t.Fatalf("the columns are %q, want %q", lines[0], columns)
	}
	value := func(cell string) float64 {
		if cell == "" {
			return 0
		}
		v, err := strconv.ParseFloat(cell, 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	oneOf := func(cell string, words ...string) int {
		at := slices.Index(words, cell)
		if at < 0 {
			t.Fatalf("%q is none of %q", cell, words)
		}
		return at
	}
	var table Table
	for _, cells := range lines[1:] {
		switch cells[1] {
		case workCutStart:
			table.AnchorSlotMM = -value(cells[2]) - HoldMM
		case workCutEnd:
			table.ActiveSlotMM = value(cells[2]) - table.DevelopedMM - HoldMM
		case workEnd:
			table.DevelopedMM, table.EndFeedMM = value(cells[2]), value(cells[3])
		default:
			row := Row{
				Step: len(table.Rows) + 1, Twist: oneOf(cells[1], workBend, workTwist) == 1, MarkMM: value(cells[2]), FeedMM: value(cells[3]),
				TurnRad: value(cells[4]) * degree, BendRad: value(cells[5]) * degree, RadiusMM: value(cells[6]), ArcMM: value(cells[7]),
				TwistRad: value(cells[8]) * degree, SeenRad: value(cells[9]) * degree, InView: cells[9] != "",
				Line: Facing(oneOf(cells[12], facings[:]...)), Towards: cells[14],
			}
			if row.Twist {
				row.TopToYou = oneOf(cells[13], topToYou, topAway) == 0
			} else {
				oneOf(cells[13], bentUp)
			}
			table.AnchorLeft = oneOf(cells[11], leftHand, rightHand) == 0
			table.Rows = append(table.Rows, row)
		}
	}
	return table
}

// pathOf returns the path that a table bends. Every turn must lead to a bend of first or
// second order, so to a whole multiple of 90°; the nearest one is taken.
func pathOf(t Table) spring.Path {
	var steps spring.Steps
	straight := func(lengthMM float64) {
		if lengthMM > 0 {
			steps = append(steps, spring.StraightStep(lengthMM))
		}
	}
	quarters := 0
	for _, r := range t.Rows {
		straight(r.FeedMM)
		if r.Twist {
			steps = append(steps, spring.Step{Kind: spring.Twist, LengthMM: r.ArcMM, AngleRad: r.TwistRad})
			continue
		}
		quarters += int(math.Round(r.TurnRad / (math.Pi / 2)))
		step := spring.BendStep(r.BendRad, r.RadiusMM)
		switch ((quarters % 4) + 4) % 4 {
		case 1:
			step.Order, step.AngleRad = 1, -r.BendRad
		case 2:
			step.AngleRad = -r.BendRad
		case 3:
			step.Order = 1
		}
		steps = append(steps, step)
	}
	straight(t.EndFeedMM)
	return spring.PathOf(steps...)
}
