package validation

import (
	"fmt"
	"math"

	"springwright/design"
	"springwright/design/beam"
	"springwright/design/effect"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/design/wire"
	"springwright/export/plane"
	"springwright/export/sheet"

	"gonum.org/v1/gonum/spatial/r3"
)

// usualApartMM is the distance of the tubes where a study does not tell it: half an upper first and second molar's
// crown each, and a little (choice; tries go from 9 to 12 mm).
const usualApartMM = 10.25

// benchCase is an upper second molar that has come down, and is tipped, beside the first.
func benchCase(apartMM, downMM, tipRad float64) design.Case {
	return design.Case{
		Teeth:      tooth.Pair{Anchor: 16, Active: 17},
		AnchorSlot: spring.Slot{HeightMM: 0.5588, LengthMM: 4}, ActiveSlot: spring.Slot{HeightMM: 0.5588, LengthMM: 3.5},
		Now:        design.Placement{CentreMM: r3.Vec{X: apartMM, Z: -downMM}, Rotation: r3.Vec{Y: tipRad}},
		Goal:       design.Placement{CentreMM: r3.Vec{X: apartMM}},
		Resistance: design.Resistances{Active: tooth.ResistanceOf(17), Anchor: tooth.ResistanceOf(16)},
	}
}

// arch is a straight wire put into the tubes, and into the next bracket where next is set.
func (p *page) arch(c design.Case, w wire.Wire, next bool, positions int) []spring.Position {
	s := effect.StraightSpring(c, "", w)
	hold := spring.SlotHold{Play: true, Shifts: true, HeightMM: c.AnchorSlot.HeightMM}
	s.AnchorHold, s.ActiveHold, s.Positions = hold, hold, positions
	var third *solve.NextSlot
	if slot, _, ok := effect.NextSlot(c); ok && next {
		third = &slot
	}
	solved, err := solve.EvaluateStraight(p.t.Context(), s, third)
	if err != nil {
		p.t.Fatal(err)
	}
	return solved.Positions
}

// loopTry is a rectangular loop round the tube of the second molar, and how it is held.
type loopTry struct {
	apartMM, distalMM float64 // tubes; the loop's middle from the tube's
	heightMM, widthMM float64 // of the wire's middle line
	wire              wire.Wire
	play, goes        bool // in its slots; goes: first down, then tipped
	slide             spring.Slide
	slotMM            float64
	loss              float64 // of the first day
}

func (p *page) loop(try loopTry, downMM, tipRad float64, positions int) []spring.Position {
	const radiusMM = 0.6
	centre := try.apartMM - 2
	mesial, entry := centre-try.widthMM/2+try.distalMM, centre+1.75
	s := spring.Spring{
		Path: spring.PathOf(
			spring.StraightStep(mesial-radiusMM), spring.BendStep(math.Pi/2, radiusMM), spring.StraightStep(try.heightMM-2*radiusMM), spring.BendStep(-math.Pi/2, radiusMM),
			spring.StraightStep(try.widthMM-2*radiusMM), spring.BendStep(-math.Pi/2, radiusMM), spring.StraightStep(try.heightMM-2*radiusMM), spring.BendStep(-math.Pi/2, radiusMM),
			spring.StraightStep(mesial+try.widthMM-radiusMM-entry),
		),
		Wire: try.wire, AnchorSlotLengthMM: 4, ActiveSlotLengthMM: 3.5, Heading: spring.Back, Positions: positions, Slide: try.slide,
		End: spring.Seat{AtMM: r3.Vec{X: entry}},
	}
	if try.play {
		hold := spring.SlotHold{Play: true, Shifts: true, HeightMM: try.slotMM, DepthMM: 0.7112}
		s.AnchorHold, s.ActiveHold = hold, hold
	}
	seat := func(tip float64) spring.Seat {
		return spring.Seat{AtMM: r3.Add(r3.Vec{X: centre, Z: -downMM}, beam.Rotate(r3.Vec{Y: tip}, r3.Vec{X: 1.75})), Rotation: r3.Vec{Y: tip}}
	}
	s.Start = seat(tipRad)
	last := 0
	if try.goes {
		s.Start, s.End, s.Positions, last = seat(0), seat(tipRad), 2, 1
	}
	e, err := solve.Evaluate(p.t.Context(), s, solve.Options{AllowYield: true})
	if err != nil {
		p.t.Fatalf("%+v tipped by %.2f: %v", try, tipRad, err)
	}
	at := e.Record.Positions[last:]
	for i := range at {
		at[i].Active, at[i].Anchor = lessened(at[i].Active, try.loss), lessened(at[i].Anchor, try.loss)
	}
	return at
}

func lessened(l tooth.Load, loss float64) tooth.Load {
	return tooth.Load{ForceN: r3.Scale(1-loss, l.ForceN), CoupleNMM: r3.Scale(1-loss, l.CoupleNMM)}
}

const tippedRad = 20 * math.Pi / 180

// bench are loads that others have measured between two molars.
func bench(p *page) {
	p.line(benchIntroduction)
	titanium, err := wire.ParseSpec("beta-titanium 0.017x0.025in")
	titanium = must(p, titanium, err)
	real := titanium.RealSize()
	usual, err := wire.ParseSpec("superelastic nickel-titanium 0.014in")
	usual = must(p, usual, err)
	low, high, _ := usual.SuperelasticEnds()
	tippedArch(p, low, usual, high)
	tippedLoop(p, titanium, real, low)
	intruded(p, real, low, usual)
	p.line("### Other findings, as trends")
	p.table([]string{"study", "found", "here", "held by"}, [][]string{
		{"Kuhlberg & Burstone, Am J Orthod Dentofacial Orthop 1997;112:12 (abstract)", "off-centre T-loops: the ratio of the couples goes with the loop's place, hardly with its activation", "holds: 2 mm off the middle shift it by more than a fifth, 1 to 4 mm of activation by less than that", p.test("design/solve TestOffCentreTLoopShiftsTheCouplesNotWithActivation")},
		{"Techalertpaisarn & Versluis 2016 (abstract)", "a vertical step between the slots turns both teeth the same way", "holds", p.test("design/solve TestVerticalStepTurnsBothTeethTheSameWay")},
		{"Burstone & Koenig, Am J Orthod 1976;70:1 (from memory)", "no unbent closing loop reaches a moment-to-force ratio of its own height", "holds", p.test("design/solve TestUnbentClosingLoopsStayBelowTheirHeight")},
		{"common practice", "larger loops are softer, by height more than by width", "holds", p.test("design/solve TestLargerLoopsAreSofter")},
		{"Papageorgiou et al., Prog Orthod 2017;18:6", "beta-titanium is 0.30 to 0.45 as stiff as steel", "holds", p.test("design/solve TestBetaTitaniumIsAThirdOfSteel")},
		{"Am J Orthod Dentofacial Orthop 2011;140:e85 (abstract)", "T-loops lose force and couple mostly within a day, their ratio does not change", "taken over as a range, 5 to 10 % (from memory), not predicted", p.test("design/solve TestLoadsAfterTheFirstDay")},
		{"Prog Orthod 2014, doi 10.1186/s40510-014-0042-0", "110 to 179 gf at 1 mm, 0.017 × 0.025 in beta-titanium between brackets 10 mm apart", fmt.Sprintf("does not hold: beam theory gives %.0f gf simply supported and %.0f gf clamped; the figure cannot be that of such a wire at such a distance, and is used here for its spread alone", gf(48), gf(192)), "–"},
	})
}

// gf is the force of a 0.017 × 0.025 in beta-titanium beam of 10 mm, flat, pushed 1 mm in its middle: times·EI/L³.
func gf(times float64) float64 {
	return times * 65000 * 0.635 * math.Pow(0.4318, 3) / 12 / 1000 / 0.00980665
}

// tippedArch is a straight superelastic arch on a tipped second molar.
func tippedArch(p *page, low, usual, high wire.Wire) {
	p.line("### A straight arch on a tipped second molar\n\n0.014 in nickel-titanium, the molar 2.5 mm down and tipped by 20° (" + tippedStudy + "). Couples are positive in the sense of the first molar's.")
	rows := [][]string{{"**measured**", "0.53", "2.08", "0.15", "0.92 (1.10 on the first)", "4.18", "4.25"}}
	for i, c := range []struct {
		name    string
		apartMM float64
		wire    wire.Wire
		next    bool
	}{
		{"weakest data of the alloy, into the next bracket", usualApartMM, low, true},
		{"the same, tubes 9 mm apart", 9, low, true},
		{"the same, tubes 12 mm apart", 12, low, true},
		{"the same, ending in the first molar's tube", usualApartMM, low, false},
		{"usual data", usualApartMM, usual, true},
		{"strongest data", usualApartMM, high, true},
	} {
		mesial := p.arch(benchCase(c.apartMM, 2.5, tippedRad), c.wire, c.next, 1)[0]
		distal := p.arch(benchCase(c.apartMM, 2.5, -tippedRad), c.wire, c.next, 1)[0]
		sign := math.Copysign(1, mesial.Anchor.CoupleNMM.Y)
		rows = append(rows, []string{
			c.name, figure(-mesial.Anchor.ForceN.Z), figure(sign * mesial.Anchor.CoupleNMM.Y), figure(sign * mesial.Active.CoupleNMM.Y),
			fmt.Sprintf("%s (%s)", figure(distal.Active.ForceN.Z), figure(-distal.Anchor.ForceN.Z)), figure(sign * distal.Anchor.CoupleNMM.Y), figure(sign * distal.Active.CoupleNMM.Y),
		})
		if i == 0 && !(distal.Active.ForceN.Z > mesial.Active.ForceN.Z && sign*distal.Active.CoupleNMM.Y > 3*math.Abs(mesial.Active.CoupleNMM.Y) && -distal.Anchor.ForceN.Z > distal.Active.ForceN.Z) {
			p.t.Errorf("an arch on a tipped molar: trends are not those measured: %v, %v", mesial, distal)
		}
	}
	p.table(benchHead, rows)
	p.line("Holds: tipped distally the loads are a multiple of those of a molar tipped mesially; the couple on the second molar is small in the one case and is at least as large as the first's in the other; the first molar feels more force than the second, by what the arch puts on the tooth in front. " +
		"Does not hold: the size, unless the wire is the weakest of its kind, and tipped distally even then by up to a half; distance and the wire's own curve were not told. " + p.test("design/effect TestStraightArchAgainstLoadCells") + " holds all loads to a half.")
}

var benchHead = []string{"", "tipped mesially: force, N", "couple on the first, N·mm", "on the second, N·mm", "tipped distally: force, N", "couple on the first, N·mm", "on the second, N·mm"}

func figure(v float64) string { return minus(fmt.Sprintf("%.2f", v)) }

// tippedLoop is a rectangular loop on the same molar, with what may make a difference tried one by one.
func tippedLoop(p *page, titanium, real, arch wire.Wire) {
	p.line("### A rectangular loop on a tipped second molar\n\n0.017 × 0.025 in beta-titanium, 8 × 10 mm, in the same study; the first molar's couple comes out too large, and the reasons were tried one by one.")
	rows := [][]string{{"**measured**", "0.41 (first)", "5.58", "−2.11", "0.52 (0.59 on the first)", "2.32", "3.06", "1, 1"}}
	base := loopTry{apartMM: usualApartMM, heightMM: 8, widthMM: 10, wire: real, play: true, slide: spring.SlideActive, slotMM: 0.5588}
	var baseline [2]float64
	for _, c := range []struct {
		name string
		with func(*loopTry)
	}{
		{"clamped in both tubes, sharp edges", func(l *loopTry) { l.wire, l.play, l.slide = titanium, false, spring.NoSlide }},
		{"the same, free to slide", func(l *loopTry) { l.wire, l.play = titanium, false }},
		{"the same, and with play in 0.022 in tubes", func(l *loopTry) { l.wire = titanium }},
		{"**the same, edges rounded as measured: how every case is reckoned**", func(*loopTry) {}},
		{"– seated another way: down first, then tipped", func(l *loopTry) { l.goes = true }},
		{"– sliding in the first molar's tube instead", func(l *loopTry) { l.slide = spring.SlideAnchor }},
		{"– tubes 0.576 mm high, the largest measured", func(l *loopTry) { l.slotMM = 0.576 }},
		{"– modulus 62 GPa, the lowest published", func(l *loopTry) { l.wire.EMPa = 62000 }},
		{"– relaxed by 10 %, the most of a first day", func(l *loopTry) { l.loss = 0.10 }},
		{"– tubes 9 mm apart", func(l *loopTry) { l.apartMM = 9 }},
		{"– tubes 12 mm apart", func(l *loopTry) { l.apartMM = 12 }},
		{"– loop 1 mm farther distal", func(l *loopTry) { l.distalMM = 1 }},
		{"– 8 × 10 mm taken as room inside", func(l *loopTry) { l.heightMM, l.widthMM = 8.8, 10.8 }},
		{"all at once that lessen it, but for the distance: 62 GPa, 0.576 mm, 10 %, room inside", func(l *loopTry) {
			l.wire.EMPa, l.slotMM, l.loss, l.heightMM, l.widthMM = 62000, 0.576, 0.10, 8.8, 10.8
		}},
	} {
		try := base
		c.with(&try)
		mesial, distal := p.loop(try, 2.5, tippedRad, 1)[0], p.loop(try, 2.5, -tippedRad, 1)[0]
		times := [2]float64{mesial.Anchor.CoupleNMM.Y / 5.58, distal.Anchor.CoupleNMM.Y / 2.32}
		rows = append(rows, []string{
			c.name, figure(mesial.Active.ForceN.Z), figure(mesial.Anchor.CoupleNMM.Y), figure(mesial.Active.CoupleNMM.Y),
			figure(distal.Active.ForceN.Z), figure(distal.Anchor.CoupleNMM.Y), figure(distal.Active.CoupleNMM.Y), fmt.Sprintf("%.1f, %.1f", times[0], times[1]),
		})
		if try == base {
			baseline = times
			// The senses of the four couples, and which of two is larger.
			if !(mesial.Anchor.CoupleNMM.Y > 0 && mesial.Active.CoupleNMM.Y < 0 && distal.Anchor.CoupleNMM.Y > 0 && distal.Active.CoupleNMM.Y > 0 && mesial.Anchor.CoupleNMM.Y > distal.Anchor.CoupleNMM.Y) {
				p.t.Errorf("a loop on a tipped molar: senses are not those measured: %v, %v", mesial, distal)
			}
			archMesial, archDistal := p.arch(benchCase(usualApartMM, 2.5, tippedRad), arch, true, 1)[0], p.arch(benchCase(usualApartMM, 2.5, -tippedRad), arch, true, 1)[0]
			if !(mesial.Anchor.CoupleNMM.Y > archMesial.Anchor.CoupleNMM.Y && distal.Anchor.CoupleNMM.Y < archDistal.Anchor.CoupleNMM.Y && distal.Active.ForceN.Z < archDistal.Active.ForceN.Z) {
				p.t.Errorf("a loop beside an arch on a tipped molar: not as measured: %v and %v, %v and %v", mesial, archMesial, distal, archDistal)
			}
		}
	}
	p.table(append(append([]string{}, benchHead...), "the first's couple, times theirs"), rows)
	p.line(fmt.Sprintf("Holds: the sense of all four couples, the second molar's against the first's where it is tipped mesially and with it where distally; the first's about twice as large where tipped mesially; beside the arch, "+
		"the first's couple larger where tipped mesially and smaller where distally, and the force smaller where distally. The force is that measured where tipped distally and half above it where mesially. "+
		"Does not hold: the first molar's couple is %.1f and %.1f times that measured, the second's about half; and where tipped mesially the loop's force is not below the arch's.", baseline[0], baseline[1]))
	p.line("What matters most is whether and where the wire slides: clamped, the couples are several times as large. Play takes a quarter to a third, rounded edges a tenth; the tubes' distance, the loop's place and whether its size is meant inside or between middle lines some more; tube height, modulus and the first day little each; " +
		"the way to the seat nothing, as an elastic wire that slides freely forgets it. All that may lessen it, taken together, brings the first's couple to that measured, or nearly, but the force below it where the molar is tipped distally. The second's lies between that of a wire which slides and a clamped one, and is met where it slides in the other tube: some friction would do that. " +
		"So the study lies within what it leaves untold, and settles none of it.")
	p.line(fmt.Sprintf("The figures of the study among themselves: a loop that touches nothing else leaves the same force on both teeth, but the two cells read 0.52 and 0.59 N; and the couples must balance with the force times the distance of the tubes, which puts these %.1f mm apart by the one, %.1f or %.1f mm by the other (the force along the arch left out). "+
		"So they hold to a tenth or so, and 12 mm is not likely.", (5.58-2.11)/0.41, (2.32+3.06)/0.59, (2.32+3.06)/0.52))
}

// intruded is a second molar that is level but 3 mm down, loop and arch over the travel.
func intruded(p *page, real, low, usual wire.Wire) {
	p.line("### A second molar 3 mm down, not tipped\n\n" + intrusionStudy)
	c := benchCase(usualApartMM, 3, 0)
	const positions = 13
	loop := p.loop(loopTry{apartMM: usualApartMM, heightMM: 8, widthMM: 10, wire: real, play: true, slide: spring.SlideActive, slotMM: 0.5588}, 3, 0, positions)
	weak, middle := p.arch(c, low, true, positions), p.arch(c, usual, true, positions)
	over := c.Resistance.Active
	over.DistalMM = 0
	first := tooth.ResistanceOf(16)
	mesial := c.Teeth.ClinicalSign(tooth.CoupleY)
	var rows [][]string
	for _, s := range []struct {
		name string
		at   []spring.Position
	}{{"loop", loop}, {"arch, weakest data", weak}, {"arch, usual data", middle}} {
		for _, i := range []int{0, 4, 8} {
			active, anchor := s.at[i].Active, s.at[i].Anchor
			at := func(l tooth.Load, pair tooth.Pair, r tooth.Resistance) string {
				return figure(mesial * l.AtResistance(tooth.ResistanceOffset(pair, r)).CoupleNMM.Y)
			}
			rows = append(rows, []string{
				s.name, fmt.Sprint(3 - i/4), figure(active.ForceN.Z), figure(mesial * anchor.CoupleNMM.Y), at(anchor, c.Teeth, first), figure(mesial * active.CoupleNMM.Y),
				at(active, c.Teeth, c.Resistance.Active), at(active, c.Teeth, over),
			})
		}
	}
	p.table([]string{"", "still down, mm", "force, N", "couple on the first, N·mm", "moment at its centre of resistance", "couple on the second, N·mm", "moment at its centre of resistance", "the same, the centre not distal of the tube"}, rows)
	atCentre := func(q spring.Position) float64 {
		return mesial * q.Active.AtResistance(tooth.ResistanceOffset(c.Teeth, c.Resistance.Active)).CoupleNMM.Y
	}
	for _, arch := range [][]spring.Position{weak, middle} {
		// What intrusionFindings says holds.
		if !(arch[0].Active.ForceN.Z > loop[0].Active.ForceN.Z && arch[8].Active.ForceN.Z > loop[8].Active.ForceN.Z && atCentre(arch[0]) > 2*atCentre(loop[0]) && atCentre(arch[0]) > atCentre(arch[4]) && atCentre(arch[4]) > atCentre(arch[8])) {
			p.t.Error("a molar that comes up: trends are not those measured")
		}
	}
	series := func(label string, dashMM float64, at []spring.Position) sheet.Series {
		s := sheet.Series{Label: label, Plain: true, Dashed: dashMM > 0, DashMM: dashMM}
		for i, q := range at {
			s.Points = append(s.Points, plane.Point{X: 3 * float64(positions-1-i) / (positions - 1), Y: q.Active.ForceN.Z})
		}
		return s
	}
	p.picture("intrusion.svg", "Force on the second molar over its travel: loop and straight arch", p.chart(sheet.Chart{
		Title: "A second molar that comes up from 3 mm", XTitle: "still down, mm", YTitle: "force, N", XReversed: true, LabelMM: 24, LabelsLeft: true,
		Series: []sheet.Series{series("loop", 0, loop), series("arch, weakest", 2, weak), series("arch, usual", 0.8, middle)},
	}))
	p.line(intrusionFindings)
}
