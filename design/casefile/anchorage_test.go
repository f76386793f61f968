package casefile_test

import (
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/effect"
	"springwright/design/tooth"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
)

func withAnchor(text string) []byte {
	return []byte(strings.Replace(molarCase, "[travel]\n", "[anchor]\n"+text+"\n\n[travel]\n", 1))
}

func TestAnchorageIsReadOrAlone(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]design.Anchorage{
		"":                                 {},
		"joined = []":                      {},
		"joined = [35, 34]":                {Joined: []tooth.Number{35, 34}},
		"held = \"bar\"\njoined = [35]":    {Joined: []tooth.Number{35}, Held: design.BarHeld},
		`held = "screw"`:                   {Held: design.ScrewHeld},
		"joined = [38]\nhold_ratio = 1.25": {Joined: []tooth.Number{38}, HoldRatio: 1.25},
	} {
		c, err := casefile.ReadCase("case.toml", withAnchor(text))
		if err != nil {
			t.Errorf("%q: %v", text, err)
			continue
		}
		if diff := cmp.Diff(want, c.Anchorage); diff != "" {
			t.Errorf("%q (-want +got):\n%s", text, diff)
		}
	}
	alone, err := casefile.ReadCase("case.toml", []byte(molarCase))
	if err != nil || alone.Anchorage.Joined != nil || alone.Anchorage.Held != design.NotHeld {
		t.Errorf("without the table: %+v (%v)", alone.Anchorage, err)
	}
}

func TestFaultyAnchoragesAreRefused(t *testing.T) {
	t.Parallel()
	for text, want := range map[string][]string{
		"joined = 35":                      {"anchor.joined: is a number, not an array", "[35, 34]"},
		"joined = [35, 39]":                {"anchor.joined[2]: 39 is no permanent tooth, allowed are 11–18"},
		"joined = [35.5]":                  {"anchor.joined[1]: 35.5 is no permanent tooth"},
		`joined = ["35"]`:                  {"anchor.joined[1]: is a text, not a tooth number", "without quotes"},
		"joined = [37]":                    {"anchor.joined[1]: 37 is the active tooth"},
		"joined = [35, 36]":                {"anchor.joined[2]: 36 is the anchor tooth itself"},
		"joined = [35, 34, 35]":            {"anchor.joined[3]: 35 is named twice"},
		"joined = [45]":                    {"anchor.joined[1]: 45 is lower right and the anchor tooth 36 lower left", "in one quadrant"},
		"joined = [45, 37, 99]":            {"anchor.joined[1]: ", "anchor.joined[2]: ", "anchor.joined[3]: "},
		`held = "screws"`:                  {`anchor.held: "screws" is not a known word here`, `"bar" or "screw"`},
		"hold_ratio = 0":                   {"anchor.hold_ratio: 0 is out of range, allowed is 0.1 to 50"},
		"hold_ratio = nan":                 {"anchor.hold_ratio: nan is not a finite number"},
		"held = \"screw\"\nhold_ratio = 2": {`anchor.hold_ratio: is given beside held = "screw"`},
		"joned = [35]":                     {"anchor.joned: is not a known key", "did you mean joined?"},
	} {
		_, err := casefile.ReadCase("case.toml", withAnchor(text))
		for _, part := range want {
			if err == nil || !strings.Contains(err.Error(), part) {
				t.Errorf("%q: got %v, want %q", text, err, part)
			}
		}
	}
	front := strings.NewReplacer("anchor = 36", "anchor = 33", "[travel]\n", "[anchor]\nheld = \"bar\"\n\n[travel]\n").Replace(molarCase)
	if _, err := casefile.ReadCase("case.toml", []byte(front)); err == nil || !strings.Contains(err.Error(), `anchor.held: "bar" does not suit tooth 33`) {
		t.Errorf("a bar from a canine: %v", err)
	}
}

func TestLimitsOfTheAnchorAreRead(t *testing.T) {
	t.Parallel()
	read := func(keys string) (design.Case, error) {
		return casefile.ReadCase("case.toml", []byte(strings.Replace(molarCase, "[target]\n", "[target]\n"+keys+"\n", 1)))
	}
	for keys, want := range map[string][2]float64{
		"": {}, "anchor_loss_mm = 0.5": {0.5, 0}, "anchor_loss_mm = 1\nanchor_tip_deg = 3": {1, 3},
	} {
		c, err := read(keys)
		if err != nil || c.Target.AnchorLossMM != want[0] || math.Abs(c.Target.AnchorTipRad*180/math.Pi-want[1]) > 1e-12 {
			t.Errorf("%q: %v mm and %v rad (%v)", keys, c.Target.AnchorLossMM, c.Target.AnchorTipRad, err)
		}
	}
	for keys, want := range map[string]string{
		"anchor_loss_mm = 0":    "target.anchor_loss_mm: 0 mm is out of range, allowed is 0.1 to 10 mm",
		"anchor_tip_deg = 60":   "target.anchor_tip_deg: 60 deg is out of range, allowed is 0.5 to 45 deg",
		"anchor_loss_mm = true": "target.anchor_loss_mm: is true or false, not a number",
	} {
		if _, err := read(keys); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: got %v, want %q", keys, err, want)
		}
	}
}

// What becomes of both teeth stands in a line of its own, or why it does not.
func TestRecordSaysWhatTheAnchorLoses(t *testing.T) {
	t.Parallel()
	lost := effect.AnchorShift{SlotMM: r3.Vec{X: -0.7, Z: 0.1}, Rotation: r3.Vec{Y: math.Pi / 30}}
	outcomes := []effect.AnchorOutcome{
		{HoldRatio: 1.25, Drift: effect.Drift{PlannedMM: 2, ReachedMM: 0.5, Planned: r3.Vec{Y: -math.Pi / 60}, ReachedRad: math.Pi / 180, End: effect.DriftDied, Steps: []effect.DriftStep{
			{Active: tooth.Load{CoupleNMM: r3.Vec{Y: 5}}, OnAnchor: tooth.Load{CoupleNMM: r3.Vec{Y: 5}}}, {Anchor: lost},
		}}},
		{Anchorage: design.Anchorage{Joined: []tooth.Number{35, 34}, Held: design.BarHeld}, HoldRatio: 3, Fault: errors.New("a <snap>")},
	}
	r := sampleRecord()
	written, err := casefile.WriteCaseRecord(origin, sampleWire, r, make([]effect.ResistanceLoads, len(r.Positions)), outcomes)
	if err != nil {
		t.Fatal(err)
	}
	const line = `  "drift": [{ "joined": [], "held": "", "hold_ratio": 1.25, "planned_mm": 2, "reached_mm": 0.5, "planned_deg": 3, "reached_deg": 1, "end": "spent", ` +
		`"anchor_slot_mm": [-0.7, 0, 0.1], "anchor_rotation_vector_deg": [0, 6, 0], "geometry_class": ["I", ""] }, ` +
		`{ "joined": [35, 34], "held": "bar", "hold_ratio": 3, "withheld": "a <snap>" }],` + "\n"
	if !json.Valid(written) || !strings.Contains(string(written), line) {
		t.Errorf("no such line:\n%s\nin\n%s", line, written)
	}
	compared, err := casefile.WriteComparison(origin, tooth.Pair{}, []effect.Candidate{{Name: "loop", Anchor: &outcomes[0]}})
	if err != nil || !json.Valid(compared) || !strings.Contains(string(compared), `      "drift": { "joined": [], `) {
		t.Errorf("%v in\n%s", err, compared)
	}
	outcomes[0].Drift.ReachedMM = math.NaN()
	if _, err := casefile.WriteCaseRecord(origin, sampleWire, r, make([]effect.ResistanceLoads, len(r.Positions)), outcomes); err == nil || !strings.Contains(err.Error(), "drift 1 of the record: reached_mm is NaN") {
		t.Errorf("NaN is written: %v", err)
	}
}
