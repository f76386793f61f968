package validation

import (
	"fmt"
	"strings"

	"springwright/design/tooth"
	"springwright/design/wire"
)

// defaults are what the program takes where nothing is measured, beside what is published.
func defaults(p *page) {
	p.line(defaultsIntroduction)
	p.line("### Centres of resistance, from the centre of the slot")
	var rows [][]string
	for _, c := range []struct {
		number    tooth.Number
		published string
	}{
		{16, "the value in use: Where is the center of resistance of a maxillary first molar?, Am J Orthod Dentofacial Orthop (abstract): 4.94 ± 1.39, 2.54 ± 2.70, 7.86 ± 1.66; from the furcation only 0.14, 1.48 and 0.19 mm"},
		{17, "none seen"},
		{36, "Am J Orthod Dentofacial Orthop 2019;156:365 (finite elements, abstract): 0.48 of the root's length below the bone's edge, along the arch as 2 : 3, across as 2 : 1.5. Reckoned from that, for a crown of 11 mm: 1.1 mm distal of its middle, less than half of what is in use. Apically its furcation, 4 mm from the enamel's edge (J Periodontol, 20 teeth), speaks for 8 mm; 0.48 of a root of 14.4 mm rather for 10 to 11"},
		{37, "the same paper, both molars as one: 0.46. None of the tooth alone seen"},
		{15, "none seen in mm; by the share of the root " + byShare(8.5, 4, 14)},
		{35, "none seen in mm; by the share of the root " + byShare(8, 4, 14.5)},
		{13, "none seen in mm; by the share of the root " + byShare(10, 5, 17) + ", so that 10 may be 1 to 3 too little"},
		{33, "Korean J Orthod 2017;47:21 (finite elements): six lower front teeth as one 13.5 mm apical and 8.5 mm behind the edges of the central incisors, 9.5 mm from slots 4 mm from the edge (common practice). By the share of the root " + byShare(11, 4.5, 16)},
		{11, "none seen in mm; by the share of the root " + byShare(10.5, 4.5, 13)},
		{31, "the same paper: four lower incisors as one 13.0 mm apical and 6.0 mm behind their edges, 9 mm from slots 4 mm from the edge. By the share of the root " + byShare(9, 4, 12.5) + ": what is in use lies between"},
	} {
		r := tooth.ResistanceOf(c.number)
		with := func(v, spread float64) string {
			if spread == 0 {
				return fmt.Sprintf("%.2f", v)
			}
			return fmt.Sprintf("%.2f ± %.2f", v, spread)
		}
		rows = append(rows, []string{
			fmt.Sprint(int(c.number)), with(r.InwardMM, r.SpreadMM[0]), with(r.DistalMM, r.SpreadMM[1]), with(r.ApicalMM, r.SpreadMM[2]),
			guessed(r.Source, r.Guess), c.published,
		})
	}
	p.table([]string{"tooth", "inward, mm", "distal, mm", "apical, mm", "source", "published"}, rows)
	p.line(resistanceShare)
	p.line(resistanceWorth)

	p.line("### Surfaces of roots, mm²")
	rows = nil
	for place := 1; place <= 8; place++ {
		cells := []string{fmt.Sprint(place)}
		for _, quadrant := range []int{1, 4} {
			r := tooth.RootSurfaceOf(tooth.Number(10*quadrant + place))
			cells = append(cells, fmt.Sprintf("%g", r.AreaMM2), guessed(r.Source, r.Guess))
		}
		rows = append(rows, cells)
	}
	p.table([]string{"place", "upper", "source", "lower", "source"}, rows)
	p.line(rootWorth)

	p.line("### Alloys")
	rows = nil
	for _, a := range wire.Alloys() {
		property := func(v wire.Property, times float64, digits int) string {
			return fmt.Sprintf("%.*f (%.*f–%.*f): %s", digits, v.Value*times, digits, v.Min*times, digits, v.Max*times, v.Source)
		}
		law := "–"
		if a.IsSuperelastic() {
			l := a.Superelastic
			law = fmt.Sprintf("loads at %.0f–%.0f, unloads at %.0f–%.0f MPa, strain %.2f: %s", l.LoadStartMPa, l.LoadEndMPa, l.UnloadStartMPa, l.UnloadEndMPa, l.TransformationStrain, l.Source)
		}
		rows = append(rows, []string{a.Name, property(a.EMPa, 1e-3, 0), property(a.Poisson, 1, 2), property(a.YieldMPa, 1, 0), law})
	}
	p.table([]string{"alloy", "modulus, GPa", "Poisson's ratio", "yield stress, MPa", "superelastic law"}, rows)
	p.line(alloyWorth)

	p.line("### Slots and wires as they measure")
	rows = nil
	for _, s := range wire.SlotSizes() {
		rows = append(rows, []string{fmt.Sprintf("slot called %.3f in", s.NominalMil/1000), fmt.Sprintf("%.3f mm (%.3f–%.3f), nominal %.3f", s.HeightMM.Value, s.HeightMM.Min, s.HeightMM.Max, s.NominalMM()), s.HeightMM.Source})
	}
	edge := wire.EdgeRadiusShare()
	rows = append(rows,
		[]string{"radius of a rectangular wire's edges", fmt.Sprintf("%.2f of its thickness (%.2f–%.2f)", edge.Value, edge.Min, edge.Max), edge.Source},
		[]string{"sides of wires", "as stated", "43 archwires: 6.5 % less to 5.1 % more, Lombardo et al., Angle Orthod 2015;85:848"},
		[]string{"slots in general", "–", "ten series of brackets: a third would not take a full-size wire, 15 to 20 % were 0.001 in too large or more, Angle Orthod 2015;85:678 (abstract); a review of 35 studies: oversized with walls that diverge in most, J Orthod Sci 2023;12:40"},
	)
	p.table([]string{"", "in use", "source"}, rows)
	loop, err := wire.ParseSpec("beta-titanium 0.017x0.025in")
	loop = must(p, loop, err).RealSize()
	play := func(slotMM float64) float64 { return must2(p)(loop.TorsionalPlayRad(slotMM)) / degree }
	p.line(fmt.Sprintf(slotWorth, play(0.548), play(0.559), play(0.576)))
}

// byShare is how far apically of its slot the centre of resistance of a tooth with one root lies if that is at 33 to
// 42 % of the root from the bone's edge, which lies 1.5 mm from the enamel's (common practice).
func byShare(crownMM, slotMM, rootMM float64) string {
	const boneMM = 1.5
	at := func(share float64) float64 { return crownMM - slotMM + boneMM + share*(rootMM-boneMM) }
	return fmt.Sprintf("%.1f to %.1f", at(0.33), at(0.42))
}

// guessed is a source, said to be a guess where it is one.
func guessed(source string, guess bool) string {
	source = strings.TrimSpace(source)
	if guess && !strings.Contains(source, "memory") {
		return source + " (a guess)"
	}
	return source
}
