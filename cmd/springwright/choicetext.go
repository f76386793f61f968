package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"springwright/design"
	"springwright/design/notice"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/wire"
	"springwright/optimize"
)

// choice says what was chosen and why, and what each variant gives.
func (t *tableText) choice(r optimize.Chosen) {
	lines := append(said(r.Evaluation.Record.Chosen), variantLines(r)...)
	for _, line := range lines {
		t.line("%s", line)
	}
	if len(lines) > 0 {
		t.line("")
	}
}

// variantLines say what each variant gives, in the order in which they were listed.
func variantLines(r optimize.Chosen) []string {
	var lines []string
	for _, v := range r.Variants {
		lines = append(lines, "with "+variantName(r.Variants, v.Case)+": "+variantText(r, v))
	}
	return lines
}

// variantName names what not all variants share.
func variantName(all []optimize.Variant, c design.Case) string {
	var wires, kinds, entries bool
	for _, v := range all {
		wires = wires || notice.NameOf(v.Case.Wire) != notice.NameOf(c.Wire)
		kinds = kinds || v.Case.Family != c.Family
		entries = entries || v.Case.Heading != c.Heading
	}
	var parts []string
	if wires {
		parts = append(parts, sizeInInches(c.Wire)+" "+c.Wire.Alloy)
	}
	if kinds {
		parts = append(parts, c.Family)
	}
	if f, err := design.FamilyOf(c.Family); entries && err == nil && f.FromBehind {
		parts = append(parts, map[spring.Heading]string{spring.On: "entered from the anchor", spring.Back: "entered from behind"}[c.Heading])
	}
	return strings.Join(parts, ", ")
}

// sizeInInches is a wire's size as the trade writes it, in mm where it is no standard one.
func sizeInInches(w wire.Wire) string {
	for _, s := range wire.Sizes() {
		if s.ThicknessMM() == w.ThicknessMM && s.WidthMM() == w.WidthMM && s.DiameterMM() == w.DiameterMM {
			return s.String()
		}
	}
	if w.Round() {
		return fmt.Sprintf("%.3f mm", w.DiameterMM)
	}
	return fmt.Sprintf("%.3f × %.3f mm", w.ThicknessMM, w.WidthMM)
}

// variantText is what a variant gives: its loads, or the first thing that it misses.
func variantText(r optimize.Chosen, v optimize.Variant) string {
	mark := ""
	if !v.Searched {
		mark = ", by a short search"
	}
	switch {
	case v.Met:
		unit, decimals := "N", 2
		if v.Drive.Couple {
			unit, decimals = "N·mm", 1
		}
		return fmt.Sprintf("met, %s → %s %s, by %.0f %% of bent springs%s", fixed(v.Drive.Start, decimals), fixed(v.Drive.End, decimals), unit, 100*v.Share, mark)
	case v.Err != nil:
		return "not met: " + v.Err.Error() + mark
	case v.Shortfall.None():
		return "not met: it would not make the travel, or lose too much of the anchor" + mark
	}
	return "not met: " + english().Shortfall(r.Case.Teeth, spring.Spring{Shortfall: worstOf(v.Shortfall)})[0] + mark
}

// worstOf is what a shortfall misses by most of its window's width, or else exceeds.
func worstOf(s target.Shortfall) *target.Shortfall {
	if len(s.Misses) > 0 {
		share := func(m target.Miss) float64 {
			return m.Window.Misses(m.Value) / max(m.Window.Max-m.Window.Min, 0.01) // as good as none: both ends the same
		}
		s.Misses = []target.Miss{slices.MaxFunc(s.Misses, func(a, b target.Miss) int { return cmp.Compare(share(a), share(b)) })}
	}
	return &s
}
