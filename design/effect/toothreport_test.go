package effect_test

import (
	"math"
	"slices"
	"testing"

	"springwright/design/designtest"
	"springwright/design/effect"
	"springwright/design/notice"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// everyPair is a molar pair in each quadrant, the active tooth distal and mesial.
func everyPair() []tooth.Pair {
	var pairs []tooth.Pair
	for quadrant := 1; quadrant <= 4; quadrant++ {
		six, seven := tooth.Number(10*quadrant+6), tooth.Number(10*quadrant+7)
		pairs = append(pairs, tooth.Pair{Anchor: six, Active: seven}, tooth.Pair{Anchor: seven, Active: six})
	}
	return pairs
}

// By hand, whatever the quadrant: a force at a buccal tube intrudes outside of the centre of
// resistance, so the crown goes to the cheek with force × 4.94 mm; a mesial force acts on
// the side of the crown, so the crown goes mesially with force × 7.86 mm, and outside of
// the centre, so the tooth turns mesial-in with force × 4.94 mm.
func TestPureForcesTipTheCrownTheirWay(t *testing.T) {
	t.Parallel()
	const inwardMM, distalMM, apicalMM = 4.94, 2.54, 7.86
	for _, teeth := range everyPair() {
		offset := tooth.ResistanceOffset(teeth, tooth.Resistance{InwardMM: inwardMM, DistalMM: distalMM, ApicalMM: apicalMM})
		check := func(name string, got, want float64, word, wanted string) {
			if math.Abs(math.Abs(got)-want) > 1e-12 || word != wanted {
				t.Errorf("%v, %s: %.3f N·mm %s, want %.3f %s", teeth, name, got, word, want, wanted)
			}
		}
		at := tooth.Load{ForceN: r3.Vec{Z: 0.4}}.AtResistance(offset).CoupleNMM
		check("intrusion", at.X, 0.4*inwardMM, teeth.ActiveMember().CoupleXWord(at.X), "buccal crown torque")
		check("intrusion", at.Y, 0.4*distalMM, teeth.CoupleYWord(at.Y), "crown-mesial")
		at = tooth.Load{ForceN: r3.Vec{X: 0.4 * teeth.MesialSign()}}.AtResistance(offset).CoupleNMM
		check("mesial force", at.Y, 0.4*apicalMM, teeth.CoupleYWord(at.Y), "crown-mesial")
		check("mesial force", at.Z, 0.4*inwardMM, teeth.CoupleZWord(at.Z), "mesial-in")
		at = tooth.Load{ForceN: r3.Vec{Y: 0.4 * teeth.BuccalSign()}}.AtResistance(offset).CoupleNMM
		check("buccal force", at.X, 0.4*apicalMM, teeth.ActiveMember().CoupleXWord(at.X), "buccal crown torque")
		check("buccal force", at.Z, 0.4*distalMM, teeth.CoupleZWord(at.Z), "mesial-out")
	}
}

// What is named as a remedy cancels the torque when it is added at the slot.
func TestRemedyCancelsTheTorque(t *testing.T) {
	t.Parallel()
	for _, teeth := range everyPair() {
		offset := tooth.ResistanceOffset(teeth, tooth.ResistanceOf(16))
		load := tooth.Load{ForceN: r3.Vec{X: 0.1, Y: -0.2, Z: 0.5}, CoupleNMM: r3.Vec{X: 0.7, Y: 1, Z: -2}}
		remedy := effect.Remedy(load.AtResistance(offset), offset)
		withCouple, withForce := load, load
		withCouple.CoupleNMM.X += remedy.CoupleNMM
		withForce.ForceN.Y += remedy.ForceN
		for name, l := range map[string]tooth.Load{"couple": withCouple, "force": withForce} {
			if left := l.AtResistance(offset).CoupleNMM.X; math.Abs(left) > 1e-12 {
				t.Errorf("%v: with the %s %v N·mm are left", teeth, name, left)
			}
		}
	}
}

// intrusionSpring is a loop over its slot, whose force passes near the slot's centre.
func intrusionSpring(t *testing.T) spring.Spring {
	t.Helper()
	s := designtest.SampleSprings(t)["rectangular-loop.toml"]
	if s.End.AtMM.Z <= s.Start.AtMM.Z {
		t.Fatalf("the sample travels from %v to %v, not apically", s.Start.AtMM, s.End.AtMM)
	}
	return s
}

// A load without a couple at the centre of resistance moves the tooth without tipping it: at
// first, by statics, exactly.
func TestNoCoupleAtTheCentreOfResistanceNoTipping(t *testing.T) {
	t.Parallel()
	s := intrusionSpring(t)
	first := designtest.Evaluate(t, s).Record.Positions[0].Active
	// The line of the force, where its couple is nothing: offset = F × M/F² from the slot.
	onLine := r3.Scale(1/r3.Norm2(first.ForceN), r3.Cross(first.ForceN, first.CoupleNMM))
	if left := first.AtResistance(onLine).CoupleNMM; r3.Norm(left) > 1e-9 {
		t.Fatalf("on its line the force leaves %v N·mm", left)
	}
	const leverMM2 = 8
	straight, err := effect.PredictDrift(t.Context(), s, onLine, leverMM2)
	if err != nil {
		t.Fatal(err)
	}
	// The solver's tolerance in the load stands against 0.01 rad and more beside the line.
	if turn := r3.Norm(straight.Steps[1].Rotation); turn > 1e-5 {
		t.Errorf("the first step turns the tooth by %v rad", turn)
	}
	// Beside its line, inwards, the crown goes to the cheek: +y here, about +x.
	beside, err := effect.PredictDrift(t.Context(), s, r3.Add(onLine, r3.Vec{Y: -4.94}), leverMM2)
	if err != nil {
		t.Fatal(err)
	}
	if turn := beside.Steps[1].Rotation.X; turn*first.ForceN.Z <= 0 {
		t.Errorf("a force %v N at 4.94 mm turns the tooth by %v rad about x", first.ForceN.Z, turn)
	}
	shift, turn := r3.Norm(beside.Steps[1].ShiftMM), r3.Norm(beside.Steps[1].Rotation)
	if want := shift * 4.94 / leverMM2; math.Abs(turn-want) > 1e-3*want { // the force has no part along y
		t.Errorf("%v mm go with %v rad, want %v", shift, turn, want)
	}
}

func TestStagesAndShareOfADrift(t *testing.T) {
	t.Parallel()
	s := intrusionSpring(t)
	d, err := effect.PredictDrift(t.Context(), s, r3.Vec{X: 2.5, Y: -5, Z: 7}, 8)
	if err != nil {
		t.Fatal(err)
	}
	stages := d.Stages()
	if len(stages) != 3 || stages[0].ShiftMM != (r3.Vec{}) {
		t.Fatalf("stages are %+v", stages)
	}
	if middle, end := r3.Norm(stages[1].ShiftMM), r3.Norm(stages[2].ShiftMM); math.Abs(middle-end/2) > 0.05*end {
		t.Errorf("the middle lies at %v of %v mm", middle, end)
	}
	travelMM := r3.Norm(r3.Sub(s.End.AtMM, s.Start.AtMM))
	if got := d.ReachedShare(); math.Abs(got*travelMM+d.SlackMM-travelMM) > 1e-12 {
		t.Errorf("share %v with %v of %v mm slack", got, d.SlackMM, travelMM)
	}
}

// A travel is not made where the drift leaves the slot where it is, or takes it backwards; a
// turn by its own measure.
func TestTravelNotMade(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		drift effect.Drift
		want  bool
	}{
		{effect.Drift{PlannedMM: 2, ReachedMM: 1.5}, false},
		{effect.Drift{PlannedMM: 2, ReachedMM: 0.02}, false},
		{effect.Drift{PlannedMM: 2, ReachedMM: 0.009}, true},
		{effect.Drift{PlannedMM: 2, ReachedMM: -2.5}, true},
		{effect.Drift{Turns: true, Planned: r3.Vec{X: 0.2}, ReachedRad: 0.1, PlannedMM: 0.1, ReachedMM: -0.1}, false},
		{effect.Drift{Turns: true, Planned: r3.Vec{X: 0.2}, ReachedRad: -0.1}, true},
	} {
		if got := (effect.TeethReport{Drift: test.drift}).NotMade(); got != test.want {
			t.Errorf("%+v: not made is %v, want %v", test.drift, got, test.want)
		}
	}
	back := effect.TeethReport{Drift: effect.Drift{PlannedMM: 2, ReachedMM: 0, SlackMM: 2}}
	if got := back.LeftUndone(); len(got) != 1 || got[0] != (target.Excess{Limit: target.TravelLimit, Beyond: 2}) {
		t.Errorf("left undone: %+v", got)
	}
	if got := (effect.TeethReport{Drift: effect.Drift{PlannedMM: 2, ReachedMM: 1.5, SlackMM: 0.5}}).LeftUndone(); len(got) != 0 {
		t.Errorf("a travel that is made for the most part is left undone: %+v", got)
	}
	if (effect.TeethReport{DriftFault: effect.ErrNoDrift}).NotMade() {
		t.Error("no drift is predicted, yet the travel is said not to be made")
	}
}

// What has to be seen before a spring is made: that it leaves the tooth where it is or turns it
// back, that it turns it far beyond the plan, that an unasked force is larger than the asked one.
func TestWarningsOfATeethReport(t *testing.T) {
	t.Parallel()
	degrees := func(x, y, z float64) r3.Vec {
		return r3.Vec{X: designtest.Degree(x), Y: designtest.Degree(y), Z: designtest.Degree(z)}
	}
	record := func(x, y, z float64) spring.Record {
		return spring.Record{Positions: []spring.Position{{Active: tooth.Load{ForceN: r3.Vec{X: x, Y: y, Z: z}}}}}
	}
	drift := func(planned r3.Vec, reached float64, turned ...r3.Vec) effect.Drift {
		d := effect.Drift{PlannedMM: 2, ReachedMM: 1.8, Planned: planned, ReachedRad: reached, Steps: []effect.DriftStep{{}}}
		for _, turn := range turned {
			d.Steps = append(d.Steps, effect.DriftStep{Rotation: turn})
		}
		return d
	}
	teeth := designtest.LoopCase().Teeth
	for _, test := range []struct {
		name   string
		drift  effect.Drift
		record spring.Record
		want   notice.List
	}{
		{"as planned", drift(degrees(0, 0, 0), 0, degrees(2, 3, 1)), record(0.05, 0, 0.4), nil},
		{"turned far", drift(degrees(0, 0, 0), 0, degrees(2, 3, 24), degrees(1, 1, 3)), record(0.05, 0, 0.4), notice.List{notice.UnplannedTurn{Teeth: teeth, Component: tooth.CoupleZ, TurnRad: designtest.Degree(24)}}},
		{"turned as planned", drift(degrees(0, 0, 24), designtest.Degree(20), degrees(2, 3, 22)), record(0.05, 0, 0.4), nil},
		{"turned back from a plan", drift(degrees(0, 15, 0), designtest.Degree(-10), degrees(0, -10, 0)), record(0.05, 0, 0.4), notice.List{notice.TravelNotMade{Tooth: 37}, notice.UnplannedTurn{Teeth: teeth, Component: tooth.CoupleY, TurnRad: designtest.Degree(-10)}}},
		{"pushed back", effect.Drift{PlannedMM: 2, ReachedMM: 0, End: effect.DriftAgainst, Steps: []effect.DriftStep{{}}}, record(0, 0, 0.4), notice.List{notice.TravelNotMade{Tooth: 37}}},
		{"an unasked force", drift(degrees(0, 0, 0), 0), record(-0.5, 0.1, 0.4), notice.List{notice.UnaskedForce{Teeth: teeth, Component: tooth.ForceX, ForceN: -0.5, AskedN: 0.4}}},
	} {
		c := designtest.LoopCase()
		c.Target.Travel = target.LoadWindow{ForceN: [3]target.Window{2: target.Within(0.1, 0.6)}}
		c.Target.Start = target.LoadWindow{}
		c.Target = c.Target.WithUsualLimits(37)
		got := effect.TeethReport{Teeth: c.Teeth, Drift: test.drift}.Warnings(c, test.record)
		if !slices.Equal(got, test.want) {
			t.Errorf("%s: %+v, want %+v", test.name, got, test.want)
		}
	}
}
