package main

import (
	"springwright/design"
	"springwright/design/tooth"
)

// comparison writes the candidates side by side, one table for each tooth, and what each
// does to the anchor tooth.
func (t *tableText) comparison(teeth tooth.Pair, candidates []design.Candidate) {
	letter := func(i int) string { return string(rune('A' + i)) }
	for i, c := range candidates {
		t.line("  %s  %s: %s", letter(i), c.Name, c.Title)
	}
	mesial := teeth.ClinicalSign(tooth.CoupleY)
	for _, side := range []struct {
		role   string
		number tooth.Number
		load   func(design.Position) design.Load
	}{
		{"active", teeth.Active, func(p design.Position) design.Load { return p.Active }},
		{"anchor", teeth.Anchor, func(p design.Position) design.Load { return p.Anchor }},
	} {
		t.line("\n%s tooth %d: force in N, intrusive +; couple in N·mm about the slot's centre, crown-mesial +; geometry class", side.role, side.number)
		header := []string{"left mm"}
		for i, c := range candidates {
			if c.Withheld == nil {
				header = append(header, letter(i)+" force", letter(i)+" couple", letter(i)+" class")
			}
		}
		rows := [][]string{append(header, "")}
		for i, left := range travelLeft(candidates) {
			row := []string{fixed(left, 2)}
			for _, c := range candidates {
				if c.Withheld != nil {
					continue
				}
				p := c.Positions()[i]
				l := side.load(p)
				class := p.GeometryClass().String()
				if class == "" {
					class = "–"
				}
				row = append(row, fixed(l.ForceN.Z, 2), fixed(mesial*l.CoupleNMM.Y, 2), class)
			}
			rows = append(rows, append(row, ""))
		}
		t.table(rows)
	}
	t.line("\non the anchor tooth")
	for i, c := range candidates {
		t.line("  %s  %s", letter(i), c.AnchorEffect(teeth, candidates[0]))
	}
}

// travelLeft is the travel left at each position, from the first candidate with figures.
func travelLeft(candidates []design.Candidate) []float64 {
	var lefts []float64
	for _, c := range candidates {
		for _, p := range c.Positions() {
			lefts = append(lefts, p.TravelLeftMM)
		}
		if len(lefts) > 0 {
			break
		}
	}
	return lefts
}
