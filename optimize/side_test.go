package optimize

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/family"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/presets"

	"github.com/google/go-cmp/cmp"
)

// torqueText is the preset of a root spring in words that fit every tooth, with few starts.
func torqueText(t *testing.T) string {
	t.Helper()
	text, _, err := presets.Case("root-torque")
	if err != nil {
		t.Fatal(err)
	}
	return strings.NewReplacer("labial_", "buccal_", "palatal_", "lingual_", "starts = 0", "starts = 1", "springs = 1000", "springs = 100", "held = \"bar\"", "hold_ratio = 3").Replace(string(text))
}

// rotationText is of a T-loop that turns a tooth about its axis and moves it outwards, with
// couples at the centre of resistance, which lies beside the plane of the slots.
func rotationText(t *testing.T) string {
	t.Helper()
	text := strings.NewReplacer(
		`"root spring"`, `"T-loop"`,
		"lingual_crown_torque_deg = 8.0", "mesial_out_rotation_deg = 8.0\nlingual_mm = 0.5",
		"lingual_crown_torque_deg = 0.0", "mesial_out_rotation_deg = 0.0\nlingual_mm = 0.0",
		"buccal_crown_torque_nmm = { min = 5.0, max = 10.0 }", "mesial_in_nmm = { min = 3.0, max = 8.0 }",
		"buccal_crown_torque_nmm = { min = 1.0, max = 10.0 }", "",
		"mesial_in_nmm = { value = 0, tolerance = 2.0 }", "buccal_crown_torque_nmm = { min = -3.0, max = 2.0 }",
		"buccal_n = { value = 0, tolerance = 0.2 }", "buccal_n = { min = 0.1, max = 1.0 }",
		"[target]", "[target]\nat = \"centre of resistance\"",
	).Replace(torqueText(t))
	return text
}

// caseFor is the case of a text for other teeth, in the same clinical words.
func caseFor(t *testing.T, text string, teeth tooth.Pair) design.Case {
	t.Helper()
	text = strings.NewReplacer(
		"active = 23", fmt.Sprint("active = ", teeth.Active), "anchor = 26", fmt.Sprint("anchor = ", teeth.Anchor),
	).Replace(text)
	c, err := casefile.ReadCase("case.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// outcome is all of a result that must be the same on both sides of the mouth.
type outcome struct {
	Path         spring.Steps // of a case with +y to the cheek, or its mirror image
	Alternatives []spring.Steps
	Settings     []float64
	Loads        [][2][tooth.Components]float64 // on both teeth, in clinical words
	Missed       []Missed
	Bands        []spring.Band
	Result       Result // what has no side
}

// coarse rounds bands of bent springs to 1e-5 N or N·mm: in slots with play the walls are found in an
// order that has a side, so that springs behind the mirror are the same to the solver's tolerance.
func coarse(bands ...*spring.Band) {
	const digits = 1e5
	for _, b := range bands {
		for _, v := range []*float64{&b.Low, &b.Median, &b.High} {
			*v = math.Round(*v*digits)/digits + 0 // no −0
		}
	}
}

// outcomeOf is the outcome of a case's search.
func outcomeOf(t *testing.T, c design.Case) outcome {
	t.Helper()
	r := search(t, c, Options{})
	out := outcome{Path: r.Spring.Path.Steps()}
	for _, s := range r.Settings {
		value := s.Value
		if step := patternStep(t, c, s); s.Freedom.Angle && (step.Kind == spring.Twist || step.Order == 1) {
			value *= c.Teeth.BuccalSign()
		}
		out.Settings = append(out.Settings, value)
	}
	toCheek := func(p spring.Steps) spring.Steps {
		if c.Teeth.BuccalSign() < 0 {
			return p.Mirrored()
		}
		return p
	}
	out.Path = toCheek(out.Path)
	for _, a := range r.Alternatives {
		out.Alternatives = append(out.Alternatives, toCheek(a.Spring.Path.Steps()))
	}
	for _, p := range r.Evaluation.Record.Positions {
		var both [2][tooth.Components]float64
		for k := range tooth.Components {
			sign := c.Teeth.ClinicalSign(k)
			both[0][k], both[1][k] = sign*p.Active.Component(k), sign*p.Anchor.Component(k)
		}
		out.Loads = append(out.Loads, both)
	}
	out.Missed = r.Robust.Missed
	for _, j := range r.Robust.Judged {
		if k, _, ok := j.Quantity.Component(); ok && c.Teeth.ClinicalSign(k) < 0 {
			j.Band.Low, j.Band.Median, j.Band.High = -j.Band.High, -j.Band.Median, -j.Band.Low
		}
		coarse(&j.Band)
		out.Bands = append(out.Bands, j.Band)
	}
	r.Robust.Spread.MostMissed = "" // names the tooth too
	for i := range r.Robust.Spread.Positions {
		p := &r.Robust.Spread.Positions[i]
		coarse(&p.ActiveForceZN, &p.ActiveCoupleYNMM, &p.AnchorForceZN, &p.AnchorCoupleYNMM)
	}
	for _, s := range []*Summary{&r.Before, &r.After} {
		if c.Teeth.ClinicalSign(s.Driving) < 0 {
			s.DrivingMin, s.DrivingMax = -s.DrivingMax, -s.DrivingMin
		}
	}
	out.Result = Result{
		Family: r.Family, Before: r.Before, After: r.After, Exceeded: r.Exceeded, Binding: r.Binding, Evaluations: r.Evaluations,
		Traits: r.Traits, Spared: r.Spared, Robust: Robustness{Spread: r.Robust.Spread, Influences: r.Robust.Influences},
	}
	return out
}

// patternStep is the step of the case's pattern that a setting is of.
func patternStep(t *testing.T, c design.Case, s Setting) spring.Step {
	t.Helper()
	p, err := family.PatternFor(c)
	if err != nil {
		t.Fatal(err)
	}
	return p.Steps[s.Freedom.Step]
}

// tied is the case of a text with slots without play.
func tied(text string) string {
	return strings.ReplaceAll(text, "height_mm", "hold = \"tied\"\nheight_mm")
}

// roomsSwapped has the room of the other side of the active tooth: what lies beyond the tooth in front
// of its anchor lies towards the anchor for one behind it.
func roomsSwapped(text string) string {
	return strings.NewReplacer("room_mesial_mm", "room_distal_mm", "room_distal_mm", "room_mesial_mm").Replace(text)
}

// A case gets the same spring, or its mirror image, in all four quadrants: the same numbers,
// the same loads in clinical words, the same share of bent springs. Compared bit by bit, but for bands of
// bent springs: see coarse.
func TestEveryQuadrantGetsTheSameSpring(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		name  string
		text  string
		teeth []tooth.Pair
	}{
		{"torque", tied(torqueText(t)), []tooth.Pair{{Anchor: 26, Active: 23}, {Anchor: 16, Active: 13}, {Anchor: 36, Active: 33}, {Anchor: 46, Active: 43}}},
		{"torque, active tooth distal", tied(roomsSwapped(torqueText(t))), []tooth.Pair{{Anchor: 23, Active: 26}, {Anchor: 13, Active: 16}}},
		{"rotation", tied(rotationText(t)), []tooth.Pair{{Anchor: 36, Active: 33}, {Anchor: 46, Active: 43}}},
		{"rotation, active tooth distal", tied(rotationText(t)), []tooth.Pair{{Anchor: 23, Active: 26}, {Anchor: 13, Active: 16}}},
		{"torque, in tubes", torqueText(t), []tooth.Pair{{Anchor: 26, Active: 23}, {Anchor: 46, Active: 43}}}, // the other side and the other jaw
		{"rotation, in tubes", rotationText(t), []tooth.Pair{{Anchor: 36, Active: 33}, {Anchor: 46, Active: 43}}},
	} {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			first := outcomeOf(t, caseFor(t, test.text, test.teeth[0]))
			for _, teeth := range test.teeth[1:] {
				if diff := cmp.Diff(first, outcomeOf(t, caseFor(t, test.text, teeth)), cmp.AllowUnexported(spring.Path{})); diff != "" {
					t.Errorf("(-%v +%v):\n%s", test.teeth[0], teeth, diff)
				}
			}
		})
	}
}

// What the preset asks for has no mesial side but in the names of the room.
func TestTorqueFromTheOtherEndIsTheSame(t *testing.T) {
	t.Parallel()
	swapped := strings.NewReplacer("room_mesial_mm = 3.0", "room_mesial_mm = 20.0", "room_distal_mm = 20.0", "room_distal_mm = 3.0").Replace(torqueText(t))
	want, got := caseFor(t, torqueText(t), tooth.Pair{Anchor: 26, Active: 23}), caseFor(t, swapped, tooth.Pair{Anchor: 23, Active: 26})
	want.Bender, got.Bender = design.Bender{}, design.Bender{} // no trial
	if diff := cmp.Diff(outcomeOf(t, want).Path, outcomeOf(t, got).Path); diff != "" {
		t.Errorf("(-mesial +distal):\n%s", diff)
	}
}

// A case on the other side, read from the same clinical words, is the mirrored case, and so
// is the pattern that is searched for it.
func TestMirroredCaseHasTheSameWords(t *testing.T) {
	t.Parallel()
	for _, text := range []string{torqueText(t), rotationText(t)} {
		want, got := caseFor(t, text, tooth.Pair{Anchor: 16, Active: 13}), caseFor(t, text, tooth.Pair{Anchor: 26, Active: 23}).Mirrored()
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("(-read +mirrored):\n%s", diff)
		}
	}
	for _, name := range presets.Names() {
		c := presetCase(t, name)
		want, err := family.PatternFor(c.Mirrored())
		if err != nil {
			t.Fatal(err)
		}
		own, err := family.PatternFor(c)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(want, own.Mirrored()); diff != "" {
			t.Errorf("%s (-of the mirrored case +mirrored):\n%s", name, diff)
		}
	}
}

// A free path is searched in its own numbers: bounds that are not the same both ways go into
// the mirror with it.
func TestFreePathIsMirrored(t *testing.T) {
	t.Parallel()
	c := caseFor(t, rotationText(t), tooth.Pair{Anchor: 16, Active: 13})
	c.Bender, c.Search.Starts = design.Bender{}, 2
	var err error
	if c.FreePath, err = family.PatternFor(c); err != nil {
		t.Fatal(err)
	}
	chiral := 0
	for i, f := range c.FreePath.Freedoms {
		if step := c.FreePath.Steps[f.Step]; f.Angle && (step.Kind == spring.Twist || step.Order == 1) {
			c.FreePath.Freedoms[i].Min /= 3
			chiral++
		}
	}
	if chiral == 0 {
		t.Fatal("nothing leaves the plane")
	}
	here, there := search(t, c, Options{}), search(t, c.Mirrored(), Options{})
	if diff := cmp.Diff(here.Spring.Path.Steps(), there.Spring.Path.Mirrored().Steps()); diff != "" {
		t.Errorf("(-here +there):\n%s", diff)
	}
	for i, s := range here.Settings {
		if f := c.FreePath.Freedoms[i]; s.Freedom != f || s.Value < f.Min-1e-9 || s.Value > f.Max+1e-9 {
			t.Errorf("%s is %v, outside %v to %v", s.Freedom.Name, s.Value, f.Min, f.Max)
		}
	}
}

// What a search finds is, in the mirror, what it would find for the case on the other side.
func TestMirroredIsTheSearchOfTheOtherSide(t *testing.T) {
	t.Parallel()
	c := caseFor(t, torqueText(t), tooth.Pair{Active: 23, Anchor: 26})
	c.Bender.Springs = 50
	found, err := SearchChoices(t.Context(), c, Options{Workers: 2})
	if err != nil {
		t.Fatal(err)
	}
	want, err := SearchChoices(t.Context(), c.Mirrored(), Options{Workers: 2})
	if err != nil {
		t.Fatal(err)
	}
	twin, s, e, err := found.Mirrored(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want.Spring.Path.Steps(), s.Path.Steps()); diff != "" || twin.Teeth != want.Case.Teeth {
		t.Errorf("teeth %v; path (-want +got):\n%s", twin.Teeth, diff)
	}
	if diff := cmp.Diff(want.Evaluation.Record.Positions, e.Record.Positions); diff != "" {
		t.Errorf("loads (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(want.Shortfall(), *e.Record.Verdict); diff != "" || (s.Shortfall == nil) != want.Met() {
		t.Errorf("shortfall (-want +got):\n%s", diff)
	}
	if e.Record.Spread == nil || e.Record.Spread.Met != want.Evaluation.Record.Spread.Met {
		t.Errorf("spread %+v, want %+v", e.Record.Spread, want.Evaluation.Record.Spread)
	}
}
