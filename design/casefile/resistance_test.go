package casefile_test

import (
	"strings"
	"testing"

	"springwright/design/casefile"
	"springwright/design/tooth"

	"github.com/google/go-cmp/cmp"
)

func withResistance(text string) []byte {
	return []byte(strings.Replace(molarCase, "[travel]\n", text+"\n[travel]\n", 1))
}

func TestCentresOfResistanceAreReadOrUsual(t *testing.T) {
	t.Parallel()
	c, err := casefile.ReadCase("case.toml", []byte(molarCase))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(tooth.ResistanceOf(37), c.Resistance.Active); diff != "" {
		t.Errorf("left out (-want +got):\n%s", diff)
	}
	if c.Target.AtResistance {
		t.Error("the target holds at the centre of resistance without being asked to")
	}

	c, err = casefile.ReadCase("case.toml", withResistance(`[resistance.active]
inward_mm = 4.2
distal_mm = "-0.1in"
apical_mm = 7
lever_mm2 = 11
[resistance.anchor]
apical_mm = 9.5
`))
	if err != nil {
		t.Fatal(err)
	}
	want := tooth.Resistance{InwardMM: 4.2, DistalMM: -2.54, ApicalMM: 7, LeverMM2: 11, Source: "the case file"}
	if diff := cmp.Diff(want, c.Resistance.Active); diff != "" {
		t.Errorf("active (-want +got):\n%s", diff)
	}
	got, usual := c.Resistance.Anchor, tooth.ResistanceOf(36)
	if got.ApicalMM != 9.5 || got.InwardMM != usual.InwardMM || !got.Guess || !got.LeverGuess || got.SpreadMM[2] != 0 || got.SpreadMM[0] != usual.SpreadMM[0] {
		t.Errorf("anchor is %+v, want the usual one with 9.5 mm apical, still a guess", got)
	}
}

func TestTargetsHoldWhereTheCaseSays(t *testing.T) {
	t.Parallel()
	for word, want := range map[string]bool{"slot": false, "centre of resistance": true} {
		c, err := casefile.ReadCase("case.toml", []byte(strings.Replace(molarCase, "[target]\n", "[target]\nat = \""+word+"\"\n", 1)))
		if err != nil {
			t.Fatal(err)
		}
		if c.Target.AtResistance != want {
			t.Errorf("at = %q gives %v", word, c.Target.AtResistance)
		}
	}
}

func TestFaultyCentresOfResistanceAreRefused(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"[resistance.active]\ninward_mm = 40":    "resistance.active.inward_mm: 40 mm is out of range, allowed is -15 to 15 mm",
		"[resistance.active]\napical_mm = -1":    "resistance.active.apical_mm: -1 mm is out of range, allowed is 0 to 25 mm",
		"[resistance.anchor]\nlever_mm2 = 0":     "resistance.anchor.lever_mm2: 0 is out of range, allowed is above 0 to 200",
		"[resistance.anchor]\ndistal_mm = nan":   "resistance.anchor.distal_mm: nan is not a finite number",
		"[resistance.active]\nbuccal_mm = 1":     "resistance.active.buccal_mm: is not a known key",
		"[resistance.passive]\ninward_mm = 1":    "resistance.passive: is not a known key",
		"[resistance]\nactive = 1":               "resistance.active: is a number, not a table",
		"[resistance.active]\nlever_mm2 = \"8\"": "resistance.active.lever_mm2: is a text, not a number",
	} {
		_, err := casefile.ReadCase("case.toml", withResistance(text))
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: got %v, want %q", text, err, want)
		}
	}
	_, err := casefile.ReadCase("case.toml", []byte(strings.Replace(molarCase, "[target]\n", "[target]\nat = \"root\"\n", 1)))
	if err == nil || !strings.Contains(err.Error(), `target.at: "root" is not a known word here`) {
		t.Errorf("at = root: got %v", err)
	}
}
