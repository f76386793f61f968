package main

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"springwright/design"
	"springwright/design/effect"
	"springwright/design/quantity"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/export/words"
)

// letter is that of a wire of a comparison.
func letter(i int) string { return string(rune('A' + i)) }

// comparedSide is a tooth of a comparison.
type comparedSide struct {
	role string
	of   tooth.Member
	load func(spring.Position) tooth.Load
}

// side is the table of what all wires do to one tooth.
func (t *tableText) side(side comparedSide, wanted design.Case, candidates []effect.Candidate) {
	travel, compared := wanted.SpringFor(spring.Path{}).Travel(), effect.ComparedLoads(wanted)
	main := compared[0]
	columns := []string{"force", "couple", "class"}
	legend := fmt.Sprintf("force in N, %s +; couple in N·mm about the slot's centre, crown-mesial +; geometry class", english().Sense(side.of, main.Component, main.Sign))
	switch {
	case len(compared) == 1:
		columns = columns[1:]
		legend = fmt.Sprintf("couple in N·mm about the slot's centre, %s +; geometry class", english().Sense(side.of, main.Component, main.Sign))
	case main.Component.Couple():
		columns[0] = "turning"
		legend = fmt.Sprintf("turning couple, %s +, and tipping couple, crown-mesial +, in N·mm about the slot's centre; geometry class", english().Sense(side.of, main.Component, main.Sign))
	}
	t.line("\n%s tooth %d: %s", side.role, side.of.Number, legend)
	header := []string{pick(travel.Turns, "left °", "left mm")}
	for i, c := range candidates {
		if c.Withheld == nil {
			for _, name := range columns {
				header = append(header, letter(i)+" "+name)
			}
		}
	}
	rows := [][]string{append(header, "")}
	for i, place := range places(candidates) {
		left := travel.Left(place)
		if travel.Turns {
			left = quantity.Degree.Outside(left)
		}
		row := []string{fixed(left, 2)}
		for _, c := range candidates {
			if c.Withheld != nil {
				continue
			}
			p := c.Positions()[i]
			class := effect.ClassOf(p).String()
			if class == "" {
				class = "–"
			}
			for _, k := range compared {
				row = append(row, fixed(k.Of(side.load(p)), 2))
			}
			row = append(row, class)
		}
		rows = append(rows, append(row, ""))
	}
	t.table(rows)
}

// comparison writes the candidates side by side, one table for each tooth, and what each
// does to the anchor tooth.
func (t *tableText) comparison(wanted design.Case, candidates []effect.Candidate) {
	for i, c := range candidates {
		t.line("  %s  %s: %s", letter(i), c.Name, c.Title)
	}
	teeth := wanted.Teeth
	main := effect.ComparedLoads(wanted)[0]
	for _, side := range []comparedSide{
		{"active", teeth.ActiveMember(), func(p spring.Position) tooth.Load { return p.Active }},
		{"anchor", teeth.AnchorMember(), func(p spring.Position) tooth.Load { return p.Anchor }},
	} {
		t.side(side, wanted, candidates)
	}
	t.line("\non the anchor tooth")
	for i, c := range candidates {
		t.line("  %s  %s", letter(i), words.Capital(english().AnchorEffect(teeth, c, candidates[0]))+".")
	}
	if anyMoves(candidates) {
		t.line("\npredicted for both teeth, an estimate")
		for i, c := range candidates {
			if c.Anchor != nil {
				t.line("  %s  %s", letter(i), english().AnchorOutcome(teeth, *c.Anchor))
			}
		}
	}
	told := false
	for i, c := range candidates {
		if c.Argument == nil {
			continue
		}
		if !told {
			t.line("\nwhat is said of straight wires")
			t.line("  %s", english().ArgumentRemark(*c.Argument))
			t.line("  forces in N, on tooth %d %s +, on tooth %d against that +; couples in N·mm about the slots' centres, crown-mesial +",
				int(teeth.Active), english().Sense(teeth.ActiveMember(), main.Component, main.Sign), int(teeth.Anchor))
			told = true
		}
		t.argument(teeth, letter(i), letter(0), *c.Argument)
	}
}

// argument writes what is argued about a straight wire: its figures beside those of the spring, and which of the
// usual sayings hold.
func (t *tableText) argument(teeth tooth.Pair, wire, spring string, a effect.Argument) {
	t.line("\n%s beside %s", wire, spring)
	active, anchor := int(teeth.Active), int(teeth.Anchor)
	rows := [][]string{{"left mm", "wire", "ends in", "", fmt.Sprintf("force %d", active), "× " + spring, fmt.Sprintf("couple %d", active), fmt.Sprintf("couple %d", anchor), "× " + spring, "per N", fmt.Sprintf("force %d", anchor), ""}}
	row := func(leftMM float64, of, ends, way string, l effect.ArguedLoads, beside *effect.ArguedLoads) {
		perN := "–"
		if v, ok := l.AnchorCouplePerForceMM(); ok {
			perN = fixed(v, 1)
		}
		times := func(mine, other float64, least float64) string {
			if beside == nil || math.Abs(other) < least {
				return "–"
			}
			return fixed(math.Abs(mine/other), 1)
		}
		if beside == nil {
			beside = &effect.ArguedLoads{}
		}
		rows = append(rows, []string{
			fixed(leftMM, 2), of, ends, way, fixed(l.ForceN, 2), times(l.ForceN, beside.ForceN, effect.LeastForceN),
			fixed(l.ActiveCoupleNMM, 2), fixed(l.AnchorCoupleNMM, 2), times(l.AnchorCoupleNMM, beside.AnchorCoupleNMM, effect.LeastCoupleNMM), perN, fixed(l.AnchorForceN, 2), "",
		})
	}
	for _, p := range a.Loop {
		row(p.TravelLeftMM, spring, fmt.Sprint(anchor), "", p.Loads, nil)
		for _, f := range a.Wires {
			if f.TravelLeftMM == p.TravelLeftMM {
				beside, ends := a.Beside(f), anchor
				if f.State.Next > 0 {
					ends = int(f.State.Next)
				}
				row(f.TravelLeftMM, pick(f.State.Data == effect.UsualData, wire, wire+" "+f.State.Data.String()), fmt.Sprint(ends), pick(f.State.LetBack, "let back", "put in"), f.Loads, &beside)
			}
		}
	}
	t.table(rows)
	for _, text := range english().ArgumentFigures(teeth, a) {
		t.line("  %s", text)
	}
	for _, h := range a.Heard {
		t.line("  %s", english().Heard(teeth, h))
	}
}

// anyMoves tells whether there is a travel on which both teeth could move.
func anyMoves(candidates []effect.Candidate) bool {
	return slices.ContainsFunc(candidates, func(c effect.Candidate) bool {
		return c.Anchor != nil && !errors.Is(c.Anchor.Fault, effect.ErrNoDrift)
	})
}

// places are the positions of the travel, from the first candidate with figures.
func places(candidates []effect.Candidate) []spring.Position {
	for _, c := range candidates {
		if positions := c.Positions(); len(positions) > 0 {
			return positions
		}
	}
	return nil
}
