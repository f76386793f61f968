package main

import (
	"errors"
	"fmt"
	"slices"

	"springwright/design"
	"springwright/design/effect"
	"springwright/design/quantity"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/export/words"
)

// comparison writes the candidates side by side, one table for each tooth, and what each
// does to the anchor tooth.
func (t *tableText) comparison(wanted design.Case, candidates []effect.Candidate) {
	letter := func(i int) string { return string(rune('A' + i)) }
	for i, c := range candidates {
		t.line("  %s  %s: %s", letter(i), c.Name, c.Title)
	}
	teeth, travel := wanted.Teeth, wanted.SpringFor(spring.Path{}).Travel()
	compared := effect.ComparedLoads(wanted)
	main := compared[0]
	for _, side := range []struct {
		role string
		of   tooth.Member
		load func(spring.Position) tooth.Load
	}{
		{"active", teeth.ActiveMember(), func(p spring.Position) tooth.Load { return p.Active }},
		{"anchor", teeth.AnchorMember(), func(p spring.Position) tooth.Load { return p.Anchor }},
	} {
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
	t.line("\non the anchor tooth")
	for i, c := range candidates {
		t.line("  %s  %s", letter(i), words.Capital(english().AnchorEffect(teeth, c, candidates[0]))+".")
	}
	if !anyMoves(candidates) {
		return
	}
	t.line("\npredicted for both teeth, an estimate")
	for i, c := range candidates {
		if c.Anchor != nil {
			t.line("  %s  %s", letter(i), english().AnchorOutcome(teeth, *c.Anchor))
		}
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
