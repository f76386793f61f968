package effect_test

import (
	"context"
	"errors"
	"math"
	"testing"

	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/designtest"
	"springwright/design/effect"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
)

// intrusionLoop intrudes a molar by 2 mm with 0.50 N and no couple on it, which leaves 6.2 N·mm
// to the anchor.
const intrusionLoop = `
path = [
  { straight_mm = 1 },
  { bend_deg = 31, radius_mm = 0.9659 },
  { straight_mm = 4 },
  { bend_deg = 63, radius_mm = 0.9659 },
  { straight_mm = 3.5 },
  { bend_deg = -90, radius_mm = 0.9659 },
  { straight_mm = 8.5 },
  { bend_deg = -90, radius_mm = 0.9659 },
  { straight_mm = 7.5 },
  { bend_deg = -126, radius_mm = 0.9659 },
  { straight_mm = 1 },
  { bend_deg = 32, radius_mm = 0.9659 },
  { straight_mm = 1 },
]

[wire]
alloy = "beta-titanium"
e_gpa = 65
poisson = 0.3
yield_mpa = 900
thickness_mm = 0.4318
width_mm = 0.635

[anchor]
slot_length_mm = 4

[active]
slot_length_mm = 3.5
heading = "back"
start = { at_mm = [12.25, 0, -2], tip_deg = 0, torque_deg = 0, rotation_deg = 0 }
end = { at_mm = [12.25, 0, 0], tip_deg = 0, torque_deg = 0, rotation_deg = 0 }
positions = 7
`

// intrusion is that loop and its case: 37 from 36.
func intrusion(t *testing.T) (design.Case, spring.Spring) {
	t.Helper()
	s, err := casefile.ReadSpring("loop.toml", []byte(intrusionLoop))
	if err != nil {
		t.Fatal(err)
	}
	c := designtest.LoopCase()
	c.Resistance = design.Resistances{Active: tooth.ResistanceOf(37), Anchor: tooth.ResistanceOf(36)}
	return c, s
}

func outcomeOf(t *testing.T, c design.Case, s spring.Spring) effect.AnchorOutcome {
	t.Helper()
	o, err := effect.PredictAnchor(t.Context(), c, s)
	if err != nil || o.Fault != nil {
		t.Fatalf("%v, %v", err, o.Fault)
	}
	return o
}

// An anchor that gives as easily as the tooth is tipped by 5.6°, and the spring is spent where the
// tooth has hardly begun its way: figures of this model in 640 steps. Joined teeth take most of
// the tipping, and a screw leaves the drift of the tooth alone.
func TestTheAnchorOfAnIntrusionTips(t *testing.T) {
	t.Parallel()
	c, s := intrusion(t)
	c.Anchorage.HoldRatio = 1
	o := outcomeOf(t, c, s)
	lost := o.Drift.AnchorLost()
	if tip := lost.Rotation.Y / designtest.Degree(1); !o.Spent() || math.Abs(o.Drift.ReachedMM-0.454) > 0.01 || math.Abs(tip-5.58) > 0.05 {
		t.Errorf("as easily: %v mm, tipped by %v°, %v", o.Drift.ReachedMM, tip, o.Drift.End)
	}
	if word := c.Teeth.CoupleYWord(lost.Rotation.Y); word != "crown-mesial" {
		t.Errorf("the anchor is tipped %s", word)
	}
	reached, tipped := 0.0, math.Inf(1)
	c.Anchorage = design.Anchorage{}
	for {
		o := outcomeOf(t, c, s)
		_, tip := o.Drift.AnchorMost()
		if o.Drift.ReachedMM <= reached || tip >= tipped {
			t.Errorf("%+v: %v mm and %v rad, with less hold %v mm and %v rad", c.Anchorage, o.Drift.ReachedMM, tip, reached, tipped)
		}
		reached, tipped = o.Drift.ReachedMM, tip
		better, ok := c.BetterAnchorage()
		if !ok {
			break
		}
		c.Anchorage = better
	}
	alone, err := effect.PredictDrift(t.Context(), s, c.ActiveOffset(s.Start), c.Resistance.Active.LeverMM2)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(alone, outcomeOf(t, c, s).Drift); diff != "" || tipped != 0 {
		t.Errorf("held by a screw (-tooth alone +with the anchor):\n%s", diff)
	}
}

// The same on the other side of the mouth, in the same clinical words.
func TestAnchorOutcomeOfTheTwin(t *testing.T) {
	t.Parallel()
	c, s := intrusion(t)
	s.Start.AtMM.Y = 0.4
	c.Anchorage = design.Anchorage{Joined: []tooth.Number{35}, Held: design.BarHeld}
	o, twin := outcomeOf(t, c, s), outcomeOf(t, c.Mirrored(), s.Mirrored())
	a, b := o.Drift.AnchorLost(), twin.Drift.AnchorLost()
	if off := r3.Norm(r3.Sub(spring.MirroredTurn(a.Rotation), b.Rotation)); off > 1e-9 || math.Abs(o.Drift.ReachedMM-twin.Drift.ReachedMM) > 1e-9 || o.HoldRatio != twin.HoldRatio {
		t.Errorf("%v mm, %v; twin %v mm, %v", o.Drift.ReachedMM, a, twin.Drift.ReachedMM, b)
	}
}

// Both outcomes stand in a report: as the case has it, and the next better hold.
func TestReportHasTheNextBetterHold(t *testing.T) {
	t.Parallel()
	c, s := intrusion(t)
	record := designtest.Evaluate(t, s).Record
	report, err := effect.ReportTeeth(t.Context(), c, s, record)
	if err != nil {
		t.Fatal(err)
	}
	if len(report.Anchors) != 2 || report.Anchors[0].Anchorage.Joined != nil || !cmp.Equal(report.Anchors[1].Anchorage.Joined, []tooth.Number{35}) {
		t.Errorf("anchors: %+v", report.Anchors)
	}
	if first := report.Anchors[0].Drift.Steps[0]; first.Class() != effect.ClassOf(record.Positions[0]) || report.Drift.AnchorLost() != (effect.AnchorShift{}) {
		t.Errorf("class %v at first, %v of the record; the tooth alone: %+v", first.Class(), effect.ClassOf(record.Positions[0]), report.Drift.AnchorLost())
	}
	c.Anchorage.Held = design.ScrewHeld
	if report, err = effect.ReportTeeth(t.Context(), c, s, record); err != nil || len(report.Anchors) != 1 {
		t.Errorf("better than a screw: %+v, %v", report.Anchors, err)
	}
}

// What a target lets the anchor lose is held against the most on the way; what is not known is
// not met, and no number.
func TestLimitsOfTheAnchor(t *testing.T) {
	t.Parallel()
	degree := designtest.Degree(1)
	outcome := effect.AnchorOutcome{Drift: effect.Drift{Steps: []effect.DriftStep{
		{}, {Anchor: effect.AnchorShift{SlotMM: r3.Vec{X: -0.3, Z: 0.4}, Rotation: r3.Vec{X: 9 * degree, Y: -4 * degree}}}, {Anchor: effect.AnchorShift{SlotMM: r3.Vec{X: 0.1}, Rotation: r3.Vec{Y: 2 * degree}}},
	}}}
	report := effect.TeethReport{Anchors: []effect.AnchorOutcome{outcome}}
	near := func(a, b float64) bool { return math.Abs(a-b) < 1e-12 }
	for _, test := range []struct {
		lossMM, tipDeg float64
		verdicts       int
		beyond         []target.Excess
	}{
		{0, 0, 0, nil},
		{0.6, 5, 2, nil},
		{0.3, 0, 1, []target.Excess{{Limit: target.AnchorLossLimit, Beyond: 0.2}}},
		{0.3, 3, 2, []target.Excess{{Limit: target.AnchorLossLimit, Beyond: 0.2}, {Limit: target.AnchorTipLimit, Beyond: degree}}},
	} {
		asked := target.Target{AnchorLossMM: test.lossMM, AnchorTipRad: test.tipDeg * degree}
		beyond := report.AnchorBeyond(asked)
		if len(report.AnchorVerdicts(asked)) != test.verdicts || len(beyond) != len(test.beyond) || report.AnchorKept(asked) != (len(beyond) == 0) {
			t.Errorf("%+v: %+v, beyond %+v", test, report.AnchorVerdicts(asked), beyond)
			continue
		}
		for i, e := range beyond {
			if e.Limit != test.beyond[i].Limit || !near(e.Beyond, test.beyond[i].Beyond) {
				t.Errorf("%+v: %+v", test, e)
			}
		}
	}
	asked := target.Target{AnchorTipRad: degree}
	unknown := effect.TeethReport{Anchors: []effect.AnchorOutcome{{Fault: errors.New("it snaps")}}}
	if v := unknown.AnchorVerdicts(asked); len(v) != 1 || v[0].Met || !v[0].Unknown || v[0].Value != 0 || unknown.AnchorKept(asked) || unknown.AnchorBeyond(asked) != nil {
		t.Errorf("unknown: %+v, %+v", v, unknown.AnchorBeyond(asked))
	}
}

// A drift that cannot be predicted is told as such; only a run that is stopped ends in an error.
func TestOutcomeWithoutADrift(t *testing.T) {
	t.Parallel()
	c, s := intrusion(t)
	for name, spoil := range map[string]func(c *design.Case, s *spring.Spring){
		"no teeth":        func(c *design.Case, s *spring.Spring) { c.Teeth = tooth.Pair{} },
		"no lever":        func(c *design.Case, s *spring.Spring) { c.Resistance.Anchor.LeverMM2 = 0 },
		"out of reach":    func(c *design.Case, s *spring.Spring) { s.Start.AtMM.X = 80 },
		"nothing to move": func(c *design.Case, s *spring.Spring) { s.End = s.Start },
	} {
		c, s := c, s
		spoil(&c, &s)
		o, err := effect.PredictAnchor(t.Context(), c, s)
		if err != nil || o.Fault == nil || len(o.Drift.Steps) != 0 || o.Spent() {
			t.Errorf("%s: %+v, %v", name, o, err)
		}
	}
	stopped, stop := context.WithCancel(t.Context())
	stop()
	if _, err := effect.AnchorOutcomes(stopped, c, s); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
}

// All candidates of a comparison have the same anchor; one without figures has no drift.
func TestCandidatesHaveTheAnchorOfTheCase(t *testing.T) {
	t.Parallel()
	c, s := intrusion(t)
	c.Anchorage.Joined = []tooth.Number{35}
	for name, spring := range map[string]spring.Spring{
		"loop": s, "superelastic": effect.StraightSpring(c, "", wireOf(t, "superelastic nickel-titanium 0.014in")),
	} {
		candidate, err := effect.NewCandidate(t.Context(), name, "", spring)
		if err != nil || candidate.Anchor != nil {
			t.Fatalf("%s: %v", name, err)
		}
		candidate, err = candidate.WithAnchor(t.Context(), c)
		if err != nil || candidate.Anchor.Fault != nil {
			t.Fatalf("%s: %v, %v", name, err, candidate.Anchor.Fault)
		}
		// The first loads of the drift are those of the record.
		first, recorded := candidate.Anchor.Drift.Steps[0], candidate.Positions()[0]
		if off := r3.Norm(r3.Sub(first.OnAnchor.CoupleNMM, recorded.Anchor.CoupleNMM)); off > 2e-3*r3.Norm(recorded.Anchor.CoupleNMM) {
			t.Errorf("%s: %v N·mm on the anchor, in the record %v", name, first.OnAnchor.CoupleNMM, recorded.Anchor.CoupleNMM)
		}
		if candidate.Anchor.HoldRatio != c.HoldRatio() || candidate.Anchor.Drift.AnchorLost() == (effect.AnchorShift{}) {
			t.Errorf("%s: %+v", name, candidate.Anchor.Drift.AnchorLost())
		}
	}
	without, err := effect.Candidate{Withheld: errors.New("it yields")}.WithAnchor(t.Context(), c)
	if err != nil || without.Anchor != nil {
		t.Errorf("without figures: %+v, %v", without.Anchor, err)
	}
}
