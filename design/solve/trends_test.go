package solve_test

import (
	"math"
	"testing"

	"springwright/design"
	"springwright/design/beam"
	"springwright/design/designtest"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

const quarterTurn = math.Pi / 2

// tLoop is a T-loop between slots with no room between them, its middle middleMM from the
// anchor slot's entry; both legs are bent up by gableRad where they meet the loop.
func tLoop(spanMM, middleMM, heightMM, topMM, gableRad float64) spring.Path {
	const radiusMM, uprightGapMM = 0.8, 1.0
	arm := (topMM - uprightGapMM) / 2
	upright := heightMM - 4*radiusMM
	leg := func(mm float64) float64 { return mm - uprightGapMM/2 - radiusMM }
	return spring.PathOf(
		spring.StraightStep(leg(middleMM)), spring.BendStep(quarterTurn+gableRad, radiusMM), spring.StraightStep(upright),
		spring.BendStep(quarterTurn, radiusMM), spring.StraightStep(arm-radiusMM), spring.BendStep(-2*quarterTurn, radiusMM),
		spring.StraightStep(topMM), spring.BendStep(-2*quarterTurn, radiusMM), spring.StraightStep(arm-radiusMM),
		spring.BendStep(quarterTurn, radiusMM), spring.StraightStep(upright), spring.BendStep(quarterTurn+gableRad, radiusMM),
		spring.StraightStep(leg(spanMM-middleMM)),
	)
}

func verticalLoop(spanMM, heightMM, radiusMM float64) spring.Path {
	leg := spanMM/2 - radiusMM - 0.8
	return spring.PathOf(
		spring.StraightStep(leg), spring.BendStep(quarterTurn, 0.8), spring.StraightStep(heightMM-radiusMM-0.8),
		spring.BendStep(-2*quarterTurn, radiusMM), spring.StraightStep(heightMM-radiusMM-0.8),
		spring.BendStep(quarterTurn, 0.8), spring.StraightStep(leg),
	)
}

// pulled is the load on both teeth with the active slot at a place.
func pulled(t *testing.T, path spring.Path, w wire.Wire, at r3.Vec) spring.Position {
	t.Helper()
	e, err := solve.Evaluate(t.Context(), spring.Spring{
		Path: path, Wire: w, Positions: 1, Start: spring.Seat{AtMM: at},
	}, solve.Options{AllowYield: true})
	if err != nil {
		t.Fatal(err)
	}
	return e.Record.Positions[0]
}

// No unbent symmetric closing loop reaches a moment-to-force ratio of its own height: the
// couple per force is the height of its elastic centre, below its top (Burstone and Koenig,
// Am J Orthod 1976;70:1, from memory; elastic centre as above).
func TestUnbentClosingLoopsStayBelowTheirHeight(t *testing.T) {
	t.Parallel()
	for _, heightMM := range []float64{5, 7, 10} {
		for name, path := range map[string]spring.Path{
			"vertical loop": verticalLoop(14, heightMM, 1), "wide vertical loop": verticalLoop(14, heightMM, 2),
			"T-loop": tLoop(20, 10, heightMM, 10, 0), "narrow T-loop": tLoop(20, 10, heightMM, 6, 0),
		} {
			end := designtest.UnloadedEnd(path)
			if end.At.Z > 1e-9 || end.D1.X < 1-1e-12 {
				t.Fatalf("%s: ends at %+v", name, end)
			}
			for _, openedMM := range []float64{0.05, 1, 2} {
				p := pulled(t, path, designtest.Titanium(), r3.Add(end.At, r3.Vec{X: openedMM}))
				ratio := math.Abs(p.Active.CoupleNMM.Y / p.Active.ForceN.X)
				if ratio >= heightMM || ratio < 0.1*heightMM {
					t.Errorf("%s of %v mm opened by %v mm: moment to force %.2f mm", name, heightMM, openedMM, ratio)
				}
			}
		}
	}
}

// A T-loop off the middle has the larger couple at the nearer tooth; the ratio of the
// couples goes with the loop's place and hardly with its activation (Kuhlberg and Burstone,
// Am J Orthod Dentofacial Orthop 1997;112:12).
func TestOffCentreTLoopShiftsTheCouplesNotWithActivation(t *testing.T) {
	t.Parallel()
	const spanMM, gable = 23.0, 25 * math.Pi / 180
	ratios := func(offMM float64) (low, high float64) {
		low, high = math.Inf(1), math.Inf(-1)
		for _, openedMM := range []float64{1, 2, 3, 4} {
			p := pulled(t, tLoop(spanMM, spanMM/2+offMM, 7, 10, gable), designtest.Titanium(), r3.Vec{X: spanMM + openedMM - 2})
			ratio := -p.Active.CoupleNMM.Y / p.Anchor.CoupleNMM.Y
			low, high = min(low, ratio), max(high, ratio)
		}
		return low, high
	}
	centredLow, centredHigh := ratios(0)
	if centredLow < 0.99 || centredHigh > 1.01 { // symmetric: 1 by its mirror image
		t.Errorf("centred: ratio of the couples %.3f to %.3f", centredLow, centredHigh)
	}
	nearLow, nearHigh := ratios(2)
	if shift, drift := nearLow-1, nearHigh-nearLow; shift < 0.2 || drift > shift {
		t.Errorf("2 mm nearer to the active tooth: ratio %.3f to %.3f", nearLow, nearHigh)
	}
	farLow, farHigh := ratios(-2)
	if shift, drift := 1-farHigh, farHigh-farLow; shift < 0.15 || drift > shift {
		t.Errorf("2 mm nearer to the anchor: ratio %.3f to %.3f", farLow, farHigh)
	}
	if math.Abs(nearLow*farHigh-1) > 0.01 { // the two are mirror images
		t.Errorf("ratios %.3f and %.3f are not each other's inverse", nearLow, farHigh)
	}
}

// A vertical step between the slots turns both teeth the same way (Techalertpaisarn and
// Versluis 2016).
func TestVerticalStepTurnsBothTeethTheSameWay(t *testing.T) {
	t.Parallel()
	for name, path := range map[string]spring.Path{"T-loop": tLoop(23, 11.5, 7, 10, 0.3), "vertical loop": verticalLoop(14, 7, 1)} {
		at := designtest.UnloadedEnd(path).At
		at.Z = 0
		at.X += 1
		level := pulled(t, path, designtest.Titanium(), at)
		for _, stepMM := range []float64{0.5, 1, -1} {
			stepped := pulled(t, path, designtest.Titanium(), r3.Add(at, r3.Vec{Z: stepMM}))
			active := stepped.Active.CoupleNMM.Y - level.Active.CoupleNMM.Y
			anchor := stepped.Anchor.CoupleNMM.Y - level.Anchor.CoupleNMM.Y
			if active*anchor <= 0 || math.Abs(active) < 0.1 {
				t.Errorf("%s, step %v mm: couples change by %.2f and %.2f N·mm", name, stepMM, active, anchor)
			}
			if active*stepMM < 0 != (anchor*stepMM < 0) {
				t.Errorf("%s: the sense does not go with the step", name)
			}
		}
	}
}

// Beta-titanium gives 0.30 to 0.45 of the force of steel in the same loop: its modulus of
// 62 to 72 GPa against 160 to 200 GPa (Papageorgiou et al., Prog Orthod 2017;18:6; steel
// from memory).
func TestBetaTitaniumIsAThirdOfSteel(t *testing.T) {
	t.Parallel()
	of := func(name string) wire.Wire {
		a, err := wire.LookUp(name)
		if err != nil {
			t.Fatal(err)
		}
		w := a.Material()
		w.ThicknessMM, w.WidthMM = 0.4318, 0.635
		return w
	}
	for name, path := range map[string]spring.Path{"T-loop": tLoop(23, 11.5, 7, 10, 0), "vertical loop": verticalLoop(14, 7, 1)} {
		at := r3.Add(designtest.UnloadedEnd(path).At, r3.Vec{X: 1})
		titanium, steel := pulled(t, path, of("beta-titanium"), at), pulled(t, path, of("stainless steel"), at)
		if ratio := titanium.Active.ForceN.X / steel.Active.ForceN.X; ratio < 0.30 || ratio > 0.45 {
			t.Errorf("%s: force ratio %.3f", name, ratio)
		}
	}
}

// A larger loop is softer, by its height more than by its width (common practice; the
// elastic centre says so).
func TestLargerLoopsAreSofter(t *testing.T) {
	t.Parallel()
	rate := func(path spring.Path) float64 {
		return -pulled(t, path, designtest.Titanium(), r3.Add(designtest.UnloadedEnd(path).At, r3.Vec{X: 0.5})).Active.ForceN.X / 0.5
	}
	for _, row := range []struct {
		name         string
		small, large spring.Path
	}{
		{"higher vertical loop", verticalLoop(14, 5, 1), verticalLoop(14, 7, 1)},
		{"wider vertical loop", verticalLoop(14, 7, 1), verticalLoop(14, 7, 1.8)},
		{"higher T-loop", tLoop(23, 11.5, 5, 10, 0), tLoop(23, 11.5, 7, 10, 0)},
		{"wider T-loop", tLoop(23, 11.5, 7, 7, 0), tLoop(23, 11.5, 7, 11, 0)},
		{"T-loop instead of a vertical loop", verticalLoop(23, 7, 1), tLoop(23, 11.5, 7, 10, 0)},
	} {
		if small, large := rate(row.small), rate(row.large); small <= 0 || large >= 0.98*small {
			t.Errorf("%s: %.3f N/mm, the smaller one %.3f N/mm", row.name, large, small)
		}
	}
}

// Every family that stays in its plane acts through its elastic centre for small movements.
func TestPlanarFamiliesActThroughTheElasticCentre(t *testing.T) {
	t.Parallel()
	planar := 0
	for _, f := range design.Families() {
		c := designtest.FamilyCase(f)
		p := designtest.FamilyPattern(t, c)
		path := p.PathFor(designtest.PlainValues(p))
		// A straight wire stretches at second order as it is moved: no small movement there.
		if leavesPlane(path) || f.Name == "cantilever" {
			continue
		}
		planar++
		t.Run(f.Name, func(t *testing.T) {
			t.Parallel()
			for _, moved := range []r3.Vec{{Z: -smallMM}, {X: smallMM}, {X: smallMM, Z: smallMM / 2}} {
				checkElasticCentre(t, path, spring.On, moved)
			}
		})
	}
	if planar < 5 {
		t.Errorf("only %d families stay in their plane", planar)
	}
}

func leavesPlane(path spring.Path) bool {
	for _, step := range path.Steps() {
		if step.Kind == spring.Twist || step.Kind == spring.Bend && step.Order == 1 {
			return true
		}
	}
	return false
}

// One turn of helix adds a cantilever's flexibility for its wire: the tip's movement by a
// force is ∫ s² ds / EI over the whole wire, s the arm of the force (Castigliano).
func TestHelixSoftensByItsWire(t *testing.T) {
	t.Parallel()
	f, err := design.FamilyOf("cantilever with helix")
	if err != nil {
		t.Fatal(err)
	}
	p := designtest.FamilyPattern(t, designtest.FamilyCase(f))
	path := p.PathFor(designtest.PlainValues(p))
	end := designtest.UnloadedEnd(path).At
	const movedMM = 0.02
	load := designtest.Evaluate(t, spring.Spring{
		Path: path, Wire: designtest.Titanium(), Positions: 1, ActiveHold: spring.SlotHold{Hook: true}, Slide: spring.SlideActive,
		Start: spring.Seat{AtMM: r3.Add(end, r3.Vec{Z: -movedMM})},
	}).Record.Positions[0].Active
	var arms float64
	nodes := beam.NewSolver(beam.Rod{Section: designtest.Titanium().Section(), Pieces: path.Pieces()}, beam.Origin(), beam.Options{StepMM: 0.02, StepRad: 0.02}).AppendNodes(nil)
	for i := 1; i < len(nodes); i++ {
		middle := r3.Scale(0.5, r3.Add(nodes[i-1].Pose.At, nodes[i].Pose.At))
		arm := end.X - middle.X
		arms += arm * arm * r3.Norm(r3.Sub(nodes[i].Pose.At, nodes[i-1].Pose.At))
	}
	want := designtest.Titanium().Section().EI2 * movedMM / arms
	// The offset's few mm of wire also twist, and stretch and shear are left out.
	if math.Abs(load.ForceN.Z-want) > 0.02*want {
		t.Errorf("force %v N, by its wire %v N", load.ForceN.Z, want)
	}
}
