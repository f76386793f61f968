package validation

import (
	"math"

	"springwright/design"
	"springwright/design/effect"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

func aligned(apartMM, stepMM float64, w wire.Wire) design.Case {
	return design.Case{
		Teeth: tooth.Pair{Anchor: 36, Active: 37}, Wire: w, Positions: 2,
		Now: design.Placement{CentreMM: r3.Vec{X: apartMM, Z: -stepMM}}, Goal: design.Placement{CentreMM: r3.Vec{X: apartMM}},
	}
}

// evaluated is the first position of a spring.
func (p *page) evaluated(s spring.Spring) spring.Position {
	s.Positions = 1
	e, err := solve.Evaluate(p.t.Context(), s, solve.Options{AllowYield: true})
	if err != nil {
		p.t.Fatal(err)
	}
	return e.Record.Positions[0]
}

// teeth are loads on two teeth as the trade knows them, and slots with play.
func teeth(p *page) {
	p.line("## Are the loads on both teeth those that the trade knows?")
	titanium := wire.Wire{EMPa: 69000, Poisson: 0.33, YieldMPa: 900, ThicknessMM: 0.4318, WidthMM: 0.635}
	const apartMM, kinkRad = 30, 0.01
	var rows []compared
	for _, c := range []struct{ share, printed, formula float64 }{{0.1, 0.4, 0.412}, {0.2, 0.3, 0.286}, {1.0 / 3, 0, 0}, {0.4, -0.3, -0.25}, {0.5, -1, -1}} {
		s := effect.StraightSpring(aligned(apartMM, 0.01, titanium), "", titanium)
		s.Start = s.End
		s.Path = spring.PathOf(spring.StraightStep(c.share*apartMM), spring.BendStep(kinkRad, 0.25), spring.StraightStep((1-c.share)*apartMM))
		at := p.evaluated(s)
		ratio := at.Active.CoupleNMM.Y / at.Anchor.CoupleNMM.Y
		if !(math.Abs(ratio-c.formula) < 1.5e-3) {
			p.t.Errorf("V-bend at %.2f: %.4f, by its formula %.3f", c.share, ratio, c.formula)
		}
		rows = append(rows, compared{
			"V-bend at " + []string{"0.1", "0.2", "a third", "0.4", "half"}[len(rows)] + " of the way: ratio of the couples", c.printed, ratio, "", 2, 0.17,
			"Burstone & Koenig, Am J Orthod Dentofacial Orthop 1988;93:59, table II, one digit", "their digit; (2 − 6a)/(4 − 6a) is met to 0.0015", "design/effect TestVBendTable",
		})
	}
	step := p.evaluated(effect.StraightSpring(aligned(apartMM, 0.01, titanium), "", titanium))
	ei := titanium.Section().EI2
	rows = append(rows,
		compared{"straight wire across a step: force", 12 * ei * 0.01 / math.Pow(apartMM, 3), step.Active.ForceN.Z, "N", 6, 1e-3, "12EI·d/L³, any handbook", "shear of the wire", "design/effect TestStraightWireAcrossAStepIsClassI"},
		compared{"the same: ratio of the couples, class I", 1, step.Active.CoupleNMM.Y / step.Anchor.CoupleNMM.Y, "", 4, 1e-4, "Burstone & Koenig, Am J Orthod 1974;65:270", "rounding", "design/effect TestStraightWireAcrossAStepIsClassI"},
	)
	rows = append(rows, threeSlots(p)...)
	rows = append(rows, loopInSlots(p)...)
	p.comparedTable(rows)
	p.line("Held by tests without a figure of their own here: the six classes by the ratio of the couples (" + p.test("design/effect TestGeometryClasses") + "); the theorem of three moments for a wire over three supports (" +
		p.test("design/solve TestContinuedWireIsABeamOnThreeSupports") + "); a plane loop in slots with play against a chain of rigid links with every state of its contacts tried (" + p.test("design/solve TestContactsAgainstEnumeration") +
		"); a force at a tube and the moment that it leaves at the centre of resistance, by hand (" + p.test("design/effect TestPureForcesTipTheCrownTheirWay") + "); where a tooth turns about, after Burstone & Pryputniewicz, Am J Orthod 1980;77:396 (" +
		p.test("design/effect TestNoCoupleAtTheCentreOfResistanceNoTipping") + ").")
}

// threeSlots is a round wire with play in three slots, against shooting on the exact equations by scipy.
func threeSlots(p *page) []compared {
	var reference struct {
		EMPa       float64            `json:"e_mpa"`
		Poisson    float64            `json:"poisson"`
		DiameterMM float64            `json:"diameter_mm"`
		HeightMM   float64            `json:"height_mm"`
		LengthsMM  map[string]float64 `json:"lengths_mm"`
		Cases      []struct {
			ApartMM  float64 `json:"apart_mm"`
			StepMM   float64 `json:"step_mm"`
			BeyondMM float64 `json:"beyond_mm"`
			ActiveN  float64 `json:"active_force_z_n"`
			AnchorN  float64 `json:"anchor_couple_nmm"`
		}
	}
	p.unmarshal("design/solve/testdata/threeslots.json", &reference)
	c := reference.Cases[3]
	hold := spring.SlotHold{Play: true, HeightMM: reference.HeightMM}
	length := reference.LengthsMM
	free := c.ApartMM - (length["anchor"]+length["active"])/2
	solved, err := solve.EvaluateStraight(p.t.Context(), spring.Spring{
		Path: spring.PathOf(spring.StraightStep(free)), Wire: wire.Wire{EMPa: reference.EMPa, Poisson: reference.Poisson, YieldMPa: 1e5, DiameterMM: reference.DiameterMM},
		AnchorSlotLengthMM: length["anchor"], ActiveSlotLengthMM: length["active"], AnchorHold: hold, ActiveHold: hold, Slide: spring.SlideActive, Positions: 1,
		Start: spring.Seat{AtMM: r3.Vec{X: free, Z: c.StepMM}}, End: spring.Seat{AtMM: r3.Vec{X: free}},
	}, &solve.NextSlot{DistanceMM: c.BeyondMM, LengthMM: length["next"], Hold: hold})
	if err != nil {
		p.t.Fatal(err)
	}
	const source, why, test = "shooting with scipy on the exact equations (`design/solve/testdata/threeslots.py`)", "steps", "design/solve TestContinuedWireAgainstShooting"
	at := solved.Positions[0]
	return []compared{
		{"0.014 in wire with play in three slots, step of 3 mm: force", c.ActiveN, at.Active.ForceN.Z, "N", 5, 1e-4, source, why, test},
		{"the same: couple on the middle tooth", c.AnchorN, at.Anchor.CoupleNMM.Y, "N·mm", 5, 1e-4, source, why, test},
	}
}

// loopInSlots is a plane loop in slots with clearance, the wire elastic between their edges, against a solid with gaps.
func loopInSlots(p *page) []compared {
	var solid struct {
		Positions []struct {
			AtMM   [3]float64            `json:"at_mm"`
			TipRad float64               `json:"tip_rad"`
			OnWire map[string][2]float64 `json:"on_wire_n"`
		}
	}
	p.unmarshal("design/solve/testdata/loopinslots.json", &solid)
	slot := spring.SlotHold{Play: true, Shifts: true, HeightMM: 0.5588}
	const radiusMM = 0.97
	var rows []compared
	for i, want := range solid.Positions[:2] {
		at := p.evaluated(spring.Spring{
			Path: spring.PathOf(
				spring.StraightStep(4), spring.BendStep(math.Pi/2, radiusMM), spring.StraightStep(5), spring.BendStep(-math.Pi/2, radiusMM), spring.StraightStep(3),
				spring.BendStep(-math.Pi/2+0.1, radiusMM), spring.StraightStep(5), spring.BendStep(math.Pi/2, radiusMM), spring.StraightStep(4),
			),
			Wire: wire.Wire{EMPa: 65000, Poisson: 0.3, YieldMPa: 900, ThicknessMM: 0.4318, WidthMM: 0.635}, AnchorSlotLengthMM: 4, ActiveSlotLengthMM: 3.5, AnchorHold: slot, ActiveHold: slot,
			Start: spring.Seat{AtMM: vec(want.AtMM), Rotation: r3.Vec{Y: want.TipRad}},
		})
		front, back := want.OnWire["active front"][1], want.OnWire["active back"][1]
		name := []string{"loop with clearance, elastic in its slots, first seat: ", "second seat: "}[i]
		const source, why, test = "solid with gaps at the slots' edges, CalculiX 2.20", "as for the solids above; both are differences of larger forces at the edges", "design/solve TestClearanceAgainstASolid"
		rows = append(rows, compared{name + "couple on the active tooth", -1.75 * (front - back), at.Active.CoupleNMM.Y, "N·mm", 3, 0.05, source, why, test})
	}
	return rows
}
