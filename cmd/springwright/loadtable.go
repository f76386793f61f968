package main

import (
	"fmt"
	"strings"
	"text/tabwriter"
	"unicode/utf8"

	"springwright/design/quantity"
	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// tableText collects lines and tables for the terminal.
type tableText struct{ strings.Builder }

func (t *tableText) line(format string, args ...any) {
	fmt.Fprintf(t, format+"\n", args...)
}

// table writes rows with right-aligned columns. The last cell of a row is left-aligned.
func (t *tableText) table(rows [][]string) {
	w := tabwriter.NewWriter(t, 0, 0, 2, ' ', tabwriter.AlignRight)
	for _, cells := range rows {
		last := len(cells) - 1
		for _, cell := range cells[:last] {
			_, _ = fmt.Fprint(w, cell+"\t") // a strings.Builder takes everything
		}
		_, _ = fmt.Fprintln(w, pad(cells[last]))
	}
	_ = w.Flush()
}

// labelled writes rows whose first cell is a left-aligned label.
func (t *tableText) labelled(rows [][]string) {
	width := 0
	for _, cells := range rows {
		width = max(width, utf8.RuneCountInString(cells[0]))
	}
	padded := make([][]string, len(rows))
	for i, cells := range rows {
		label := cells[0] + strings.Repeat(" ", width-utf8.RuneCountInString(cells[0]))
		padded[i] = append(append([]string{label}, cells[1:]...), "")
	}
	t.table(padded)
}

// pad sets a left-aligned last cell off from the column before it.
func pad(cell string) string {
	if cell == "" {
		return ""
	}
	return "  " + cell
}

// loads writes the loads on both teeth, in N and N·mm and in gf and gf·mm.
func (t *tableText) loads(s spring.Spring, r spring.Record, words loadWords) {
	t.teethLoads(s, r.Positions, words, "")
	var others []spring.Position
	for _, p := range r.Positions {
		if o := p.OtherRest; o != nil {
			p.Active, p.Anchor, p.StressRatio = o.Active, o.Anchor, o.StressRatio
			others = append(others, p)
		}
	}
	if len(others) > 0 {
		t.teethLoads(s, others, words, ", the wire rolled the other way in its slots")
	}
	t.line("\n%s", words.legend)
}

// teethLoads writes the loads on both teeth at some positions.
func (t *tableText) teethLoads(s spring.Spring, positions []spring.Position, words loadWords, remark string) {
	travel := s.Travel()
	left, unit := "left mm", 1.0
	if travel.Turns {
		left, unit = "left °", quantity.Degree.Outside(1)
	}
	about := "the centre of its slot"
	activeAbout := about
	if s.ActiveHold.Hook {
		activeAbout = "the point where it is hooked"
	}
	for _, side := range []struct {
		name, about string
		load        func(spring.Position) tooth.Load
		words       directionWords
	}{
		{"active tooth", activeAbout, func(p spring.Position) tooth.Load { return p.Active }, words.active},
		{"anchor tooth", about, func(p spring.Position) tooth.Load { return p.Anchor }, words.anchor},
	} {
		t.line("\nloads on the %s, couples about %s%s", side.name, side.about, remark)
		header := []string{left, "Fx N", "Fy N", "Fz N", "Cx N·mm", "Cy N·mm", "Cz N·mm", "couple/force mm", "stress/yield", ""}
		rows := [][]string{header}
		for _, p := range positions {
			l := side.load(p)
			row := append([]string{fixed(unit*travel.Left(p), 2)}, componentCells(l, quantity.Newton, 3, quantity.NewtonMillimetre, 2)...)
			rows = append(rows, append(row, coupleToForce(l), fixed(p.StressRatio, 2), ""))
		}
		t.table(rows)

		t.line("")
		rows = [][]string{{left, "Fx gf", "Fy gf", "Fz gf", "Cx gf·mm", "Cy gf·mm", "Cz gf·mm", "the tooth feels"}}
		for _, p := range positions {
			l := side.load(p)
			row := append([]string{fixed(unit*travel.Left(p), 2)}, componentCells(l, gramForce(), 1, gramForceMillimetre(), 0)...)
			rows = append(rows, append(row, side.words.of(l)))
		}
		t.table(rows)
	}
}

// gramForceN is exact: standard gravity 9.80665 m/s² (CGPM 1901).
const gramForceN = 0.00980665

func gramForce() quantity.Unit {
	return quantity.Unit{Symbol: "gf", Dimension: quantity.Force, Size: gramForceN}
}

func gramForceMillimetre() quantity.Unit {
	return quantity.Unit{Symbol: "gf·mm", Dimension: quantity.Couple, Size: gramForceN}
}

func componentCells(l tooth.Load, force quantity.Unit, forceDecimals int, couple quantity.Unit, coupleDecimals int) []string {
	var cells []string
	for k := range tooth.Components {
		if k.Couple() {
			cells = append(cells, fixed(couple.Outside(l.Component(k)), coupleDecimals))
		} else {
			cells = append(cells, fixed(force.Outside(l.Component(k)), forceDecimals))
		}
	}
	return cells
}

// slackForceN is the force below which a ratio to it means nothing: a gauge shows 0.
const slackForceN = 0.01

// coupleToForce is the size of the couple over the size of the force, "–" without force.
func coupleToForce(l tooth.Load) string {
	force := r3.Norm(l.ForceN)
	if force < slackForceN {
		return "–"
	}
	return fixed(r3.Norm(l.CoupleNMM)/force, 2)
}

// fixed writes a number with a fixed number of decimals and no minus zero.
func fixed(v float64, decimals int) string { return english().Number(v, decimals) }
