package casefile_test

import (
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/tooth"

	"github.com/google/go-cmp/cmp"
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
