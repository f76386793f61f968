package design_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/designtest"
	"springwright/design/fault"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/design/wire"
	"springwright/presets"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
)

func presetCase(t *testing.T, name string) (text string, c design.Case) {
	t.Helper()
	data, c, err := presets.Case(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(data), c
}

// said are the faults of an error, each as key and text, in alphabetical order: a file has its
// own.
func said(t *testing.T, err error) []string {
	t.Helper()
	var list fault.List
	if err != nil && !errors.As(err, &list) {
		t.Fatalf("%v is no list of faults", err)
	}
	var all []string
	for _, f := range list {
		all = append(all, f.Key+": "+f.Text)
	}
	slices.Sort(all)
	return all
}

func TestEveryPresetValidates(t *testing.T) {
	t.Parallel()
	for _, name := range presets.Names() {
		if _, c := presetCase(t, name); c.Validate() != nil {
			t.Errorf("%s: %v", name, c.Validate())
		}
	}
}

// A fault of a case built in code is said as that of a file with the same fault.
func TestValidateSaysWhatACaseFileSays(t *testing.T) {
	t.Parallel()
	text, sound := presetCase(t, presets.Demo)
	anchored := text[strings.Index(text, "anchor = 36 "):strings.Index(text, `"screw"  # it is tied`)] + `"screw"`
	for _, test := range []struct {
		old, faulty string
		spoil       func(c *design.Case)
	}{
		{"active = 37", "active = 39", func(c *design.Case) { c.Teeth.Active = 39 }},
		{"anchor = 36", "anchor = 37", func(c *design.Case) { c.Teeth.Anchor = 37 }},
		{"anchor = 36", "anchor = 46", func(c *design.Case) { c.Teeth.Anchor = 46 }},
		{`spring = "rectangular loop"`, `spring = "rectangle loop"`, func(c *design.Case) { c.Family = "rectangle loop" }},
		{`spring = "rectangular loop"`, `spring = "T-loop"`, func(c *design.Case) { c.Family = "T-loop" }},
		{`enter = "from behind"`, "enter = \"from behind\"\nhold = \"hook\"", func(c *design.Case) { c.ActiveSlot.Hook = true }},
		{"length_mm = 3.5", "length_mm = 0\nhold = \"play\"", func(c *design.Case) { c.ActiveSlot.LengthMM, c.ActiveSlot.Play = 0, true }},
		{"length_mm = 4.0", "length_mm = -1", func(c *design.Case) { c.AnchorSlot.LengthMM = -1 }},
		{"length_mm = 4.0", "length_mm = 4.0\nhold = \"hook\"", func(c *design.Case) { c.AnchorSlot.Hook = true }},
		{`height_mm = "0.022in"  # G: clear`, `height_mm = "0.015in" # `, func(c *design.Case) { c.AnchorSlot.HeightMM = 0.015 * 25.4 }},
		{"length_mm = 3.5", "length_mm = 3.5\ndepth_mm = 0.5", func(c *design.Case) { c.ActiveSlot.DepthMM = 0.5 }},
		{"along_mm = 12.5", "along_mm = 3.75", func(c *design.Case) { c.Now.CentreMM.X, c.Goal.CentreMM.X = 3.75, 3.75 }},
		{"apical_mm = 0.0", "occlusal_mm = 1.5", func(c *design.Case) { c.Goal = c.Now }},
		{"positions = 7", "positions = 1", func(c *design.Case) { c.Positions = 1 }},
		{"positions = 7", "positions = 1001", func(c *design.Case) { c.Positions = 1001 }},
		{`alloy = "beta-titanium"`, "alloy = \"beta-titanium\"\ne_gpa = 0.5", func(c *design.Case) { c.Wire.EMPa = 500 }},
		{`alloy = "beta-titanium"`, "alloy = \"beta-titanium\"\ntangent_mpa = 65000", func(c *design.Case) { c.Wire.TangentMPa = 65000 }},
		{
			text[strings.Index(text, `alloy = "beta-titanium"`):strings.Index(text, "# The room in the mouth")],
			"choose = [\"beta-titanium 0.017x0.025in\", \"beta-titanium 0.6x0.7mm\", \"stainless steel 0.0215x0.028in\"]\n",
			func(c *design.Case) {
				thick := c.Wire
				thick.ThicknessMM, thick.WidthMM = 0.6, 0.7
				c.Choice.OtherWires = []wire.Wire{thick, wire.Stock{Alloy: "stainless steel", Size: wire.Size{ThicknessMil: 21.5, WidthMil: 28}}.Wire()}
			},
		},
		{`width_mm = "0.022in"`, "", func(c *design.Case) { c.Wire.WidthMM = 0 }},
		{"pliers_radius_mm = 0.75", "pliers_radius_mm = 0.2", func(c *design.Case) { c.Limits.BendRadiusMM = 0.2 + c.Wire.HeightMM()/2 }},
		{"room_distal_mm = 6.0", "room_distal_mm = -6", func(c *design.Case) { c.Limits.RoomDistalMM = -6 }},
		{"loop_width_mm = 12.0", "loop_width_mm = 1", func(c *design.Case) { c.Limits.LoopWidthMM = 1 }},
		{"largest_pre_bend_deg = 45", "largest_stress_ratio = 1.5", func(c *design.Case) { c.Limits.LargestStressRatio = 1.5 }},
		{"[target.start]", "[target]\nanchor_loss_mm = 12\nanchor_tip_deg = 0.2\n[target.start]", func(c *design.Case) { c.Target.AnchorLossMM, c.Target.AnchorTipRad = 12, designtest.Degree(0.2) }},
		{"[target.start]", "[target]\nforce_until_mm = 1.5\n[target.start]", func(c *design.Case) { c.Target.ForceUntilMM = 1.5 }},
		{"intrusive_n = { min = 0.30, max = 0.60 }", "intrusive_n = { min = 0.6, max = 0.3 }", func(c *design.Case) { c.Target.Start.ForceN[2] = target.Within(0.6, 0.3) }},
		{"intrusive_n = { min = 0.10, max = 0.60 }", "intrusive_n = { min = 0, max = 0 }", func(c *design.Case) { c.Target.Travel.ForceN[2] = target.Within(0, 0) }},
		// On the axes mesial is below 0 here: the file's numbers are those of its word.
		{"mesial_n = { value = 0, tolerance = 0.06 }", "mesial_n = { min = 0.5, max = 0.2 }", func(c *design.Case) { c.Target.Travel.ForceN[0] = target.Within(-0.2, -0.5) }},
		{"mesial_n = { value = 0, tolerance = 0.06 }", "mesial_n = { min = -0.1, max = 0.1, weight = 200 }", func(c *design.Case) { c.Target.Travel.ForceN[0] = target.Window{Min: -0.1, Max: 0.1, Weight: 200} }},
		{"mesial_n = { value", "moment_to_force_mm = { min = 5, max = 9 }\nmesial_n = { value", func(c *design.Case) { c.Target.MomentToForceMM = target.Within(5, 9) }},
		{"intrusive_n = { min = 0.10, max = 0.60 }", "intrusive_n = { min = 0.7, max = 0.9 }", func(c *design.Case) { c.Target.Travel.ForceN[2] = target.Within(0.7, 0.9) }},
		{text[strings.Index(text, "[target.start]"):strings.Index(text, "# On which numbers")], "[target]\nforce_until_mm = 0.5\n", func(c *design.Case) { c.Target = target.Target{ForceUntilMM: 0.5}.WithUsualLimits(37) }},
		{"occlusal_mm = 1.5", "apical_mm = 1.5", func(c *design.Case) { c.Now.CentreMM.Z = 1.5 }},
		{"# On which numbers", "[target.anchor]\nintrusive_n = { min = 0.1, max = 0.4 }\n#", func(c *design.Case) { c.Target.Anchor.ForceN[2] = target.Within(0.1, 0.4) }},
		{"held = \"screw\"", "joined = [37, 35, 35, 45, 39, 36]", func(c *design.Case) {
			c.Anchorage.Held, c.Anchorage.Joined = design.NotHeld, []tooth.Number{37, 35, 35, 45, 39, 36}
		}},
		{"held = \"screw\"", "held = \"screw\"\nhold_ratio = 2", func(c *design.Case) { c.Anchorage = design.Anchorage{Held: design.ScrewHeld, HoldRatio: 2} }},
		{"held = \"screw\"", "hold_ratio = 60", func(c *design.Case) { c.Anchorage = design.Anchorage{HoldRatio: 60} }},
		{anchored, strings.NewReplacer("anchor = 36 ", "anchor = 33 ", "screw", "bar").Replace(anchored), func(c *design.Case) { c.Teeth.Anchor, c.Anchorage.Held = 33, design.BarHeld }},
		{"length_mm = 3.5 ", "before_tying = \"drawn to a force\"\nlength_mm = 3.5 ", func(c *design.Case) { c.ActiveSlot.Seating.Before = spring.ToForce }},
		{"length_step_mm = 0.5", "length_step_mm = 0", func(c *design.Case) { c.Search.LengthStepMM = 0 }},
		{"angle_step_deg = 1 ", "angle_step_deg = 0 ", func(c *design.Case) { c.Search.AngleStepRad = 0 }},
		{"starts = 0", "starts = -1", func(c *design.Case) { c.Search.Starts = -1 }},
		{"length_sd_mm = 0.19", "length_sd_mm = -1", func(c *design.Case) { c.Bender.LengthSDMM = -1 }},
		{"gauge_sd_n = 0.05", "gauge_sd_n = 2", func(c *design.Case) { c.Bender.GaugeSDN = 2 }},
		{"springs = 1000", "springs = 200000", func(c *design.Case) { c.Bender.Springs = 200000 }},
	} {
		if n := strings.Count(text, test.old); n != 1 {
			t.Errorf("%q stands %d times in the demo", test.old, n)
			continue
		}
		_, err := casefile.ReadCase("demo", []byte(strings.Replace(text, test.old, test.faulty, 1)))
		want := said(t, err)
		if len(want) == 0 {
			t.Errorf("%q: a case file may say it", test.faulty)
			continue
		}
		c := sound
		test.spoil(&c)
		if diff := cmp.Diff(want, said(t, c.Validate())); diff != "" {
			t.Errorf("%q (-case file +Validate):\n%s", test.faulty, diff)
		}
	}
}

// What a case file cannot say, for lack of words or because it has defaults.
func TestValidateRefusesWhatOnlyCodeCanSay(t *testing.T) {
	t.Parallel()
	_, sound := presetCase(t, presets.Demo)
	for _, test := range []struct {
		name  string
		spoil func(c *design.Case)
		want  []string
	}{
		{"no teeth", func(c *design.Case) { c.Teeth = tooth.Pair{} }, []string{"teeth.active: is missing", "teeth.anchor: is missing"}},
		{"no search", func(c *design.Case) { c.Search = design.Search{} }, []string{
			"search.length_step_mm: 0 mm is out of range, allowed is 0.01 to 5 mm", "search.angle_step_deg: 0 deg is out of range, allowed is 0.01 to 15 deg",
		}},
		{"no slots", func(c *design.Case) { c.AnchorSlot, c.ActiveSlot = spring.Slot{}, spring.Slot{} }, []string{
			"anchor_slot.height_mm: 0 mm is less than the wire's thickness, 0.4064 mm", "active_slot.height_mm: 0 mm is less than the wire's thickness, 0.4064 mm",
		}},
		{"NaN in a place", func(c *design.Case) { c.Now.CentreMM.Y = math.NaN() }, []string{"Case.Now.CentreMM.Y: nan is not a finite number"}},
		{"endless room and NaN in a window", func(c *design.Case) {
			c.Limits.RoomMesialMM, c.Target.Anchor.CoupleNMM[1].Max = math.Inf(1), math.NaN()
		}, []string{
			"Case.Limits.RoomMesialMM: +inf is not a finite number", "Case.Target.Anchor.CoupleNMM[1].Max: nan is not a finite number",
		}},
		{"NaN in a free path", func(c *design.Case) { c.FreePath.Steps = spring.Steps{spring.StraightStep(math.NaN())} }, []string{"Case.FreePath.Steps[0].LengthMM: nan is not a finite number"}},
		{"endless weight", func(c *design.Case) { c.Target.Start.ForceN[2].Weight = math.Inf(1) }, []string{"Case.Target.Start.ForceN[2].Weight: +inf is not a finite number"}},
		{"a least value alone", func(c *design.Case) { c.Target.Start.ForceN[2] = target.Window{Min: 0.2} }, []string{"target.start.intrusive_n.max: 0 is not above min, 0.2"}},
		{"no tolerance", func(c *design.Case) { c.Target.Travel.ForceN[1] = target.About(0, 0) }, []string{"target.travel.buccal_n.max: 0 is not above min, 0"}},
		{"the middle of no end", func(c *design.Case) {
			w := target.AtLeast(0.2)
			w.Aimed = true
			c.Target.Start.ForceN[2] = w
		}, []string{"target.start.intrusive_n: is aimed at the middle of a window that lacks an end"}},
		{"above everything", func(c *design.Case) { c.Target.Start.ForceN[2] = target.AtLeast(math.Inf(1)) }, []string{"target.start.intrusive_n.max: +Inf is not above min, +Inf"}},
		{"faulty window of unknown teeth", func(c *design.Case) { c.Teeth.Anchor, c.Target.Travel.ForceN[0] = 0, target.Within(1, 0) }, []string{
			"teeth.anchor: is missing", "Case.Target.Travel.ForceN[0].max: 0 is not above min, 1",
		}},
		{"resistance unknown", func(c *design.Case) { c.Target.AtResistance, c.Resistance = true, design.Resistances{} }, []string{"resistance.active: is missing", "resistance.anchor: is missing"}},
		{"no room for a loop", func(c *design.Case) { c.Limits.LoopHeightMM = 0 }, []string{"limits.fold_depth_mm: leaves 0 mm, less than the 2 mm that a loop needs"}},
		{"a rate of a turn", func(c *design.Case) {
			c.Now, c.Target.ForceUntilMM, c.Target.MaxRateNPerMM = c.Goal, 0, 1
			c.Now.Rotation = r3.Vec{Y: 0.1}
		}, []string{"target.travel.max_rate_n_per_mm: is asked for, but the slot only turns"}},
		{"an unknown hold", func(c *design.Case) { c.Anchorage.Held = 7 }, []string{"anchor.held: 7 is no hold"}},
		{"turned round", func(c *design.Case) { c.Now.Rotation = r3.Vec{Y: 3.2} }, []string{"now: turns by 183.3°, more than the allowed 180°"}},
		{"round and flat", func(c *design.Case) { c.Wire.DiameterMM = 0.4 }, []string{"wire.diameter_mm: is given beside thickness_mm and width_mm"}},
	} {
		c := sound
		test.spoil(&c)
		slices.Sort(test.want)
		if diff := cmp.Diff(test.want, said(t, c.Validate())); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
	}
	if n := len(said(t, design.Case{}.Validate())); n < 10 {
		t.Errorf("an empty case has %d faults: not all are said at once", n)
	}
}

func TestLoadsAgainstTheTravelMayBeMeant(t *testing.T) {
	t.Parallel()
	_, c := presetCase(t, presets.Demo)
	c.Now.CentreMM.Z = 2
	err := c.Validate()
	if err == nil || !strings.Contains(err.Error(), "the load would take it the other way") || strings.Contains(err.Error(), "Meant") {
		t.Errorf("%v: want the reason, and no way round it that could be followed", err)
	}
	c.Target.AgainstTravelMeant = true
	if err := c.Validate(); err != nil {
		t.Error(err)
	}
}

func TestWindowsSayWhatTheyHold(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		name        string
		window      target.Window
		in, out     []float64
		aimed, free bool
	}{
		{"at least", target.AtLeast(0.2), []float64{0.2, 1e9}, []float64{0.19, -5}, false, false},
		{"at least 0", target.AtLeast(0), []float64{0, 3}, []float64{-0.1}, false, false},
		{"at most", target.AtMost(0.2), []float64{0.2, -5}, []float64{0.21}, false, false},
		{"within", target.Within(-0.1, 0.2), []float64{-0.1, 0.2}, []float64{-0.11, 0.21}, false, false},
		{"about", target.About(0.4, 0.1), []float64{0.31, 0.49}, []float64{0.29, 0.51}, true, false},
	} {
		w := test.window
		if w.Aimed != test.aimed || w.Free() != test.free {
			t.Errorf("%s: %+v, free: %t", test.name, w, w.Free())
		}
		for _, v := range test.in {
			if w.Misses(v) != 0 {
				t.Errorf("%s misses %v", test.name, v)
			}
		}
		for _, v := range test.out {
			if w.Misses(v) <= 0 {
				t.Errorf("%s holds %v", test.name, v)
			}
		}
	}
}
