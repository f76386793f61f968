package casefile_test

import (
	"strings"
	"testing"

	"springwright/design/casefile"
	"springwright/design/fault"
	"springwright/design/tooth"
)

const stepTeeth = "[teeth]\nactive = 37\nanchor = 36\n\n"

// A spring file keeps its teeth when it is read and written, and needs none.
func TestSpringFileKeepsItsTeeth(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]tooth.Pair{
		stepSpring: {},
		strings.Replace(stepSpring, "[wire]", stepTeeth+"[wire]", 1): {Anchor: 36, Active: 37},
	} {
		s, err := casefile.ReadSpring("spring.toml", []byte(text))
		if err != nil || s.Teeth != want {
			t.Fatalf("teeth %v, want %v (%v)", s.Teeth, want, err)
		}
		again, err := casefile.ReadSpring("again.toml", casefile.WriteSpring(s))
		if err != nil || again.Teeth != want {
			t.Errorf("read again: teeth %v, want %v (%v)", again.Teeth, want, err)
		}
	}
}

// The teeth of a spring file have the faults of those of a case.
func TestTeethOfASpringFileAreChecked(t *testing.T) {
	t.Parallel()
	for bad, want := range map[string]string{
		"active = 37\nanchor = 36\ntooth = 35": "teeth.tooth: is not a known key",
		"active = 37":                          "teeth.anchor: is missing",
		"active = 37\nanchor = 37":             "teeth.anchor: 37 is the active tooth, too",
		"active = 37\nanchor = 46":             "teeth.anchor: 46 is lower right and the active tooth 37 lower left",
		"active = 59\nanchor = 36":             "teeth.active: 59 is no permanent tooth",
		"active = \"37\"\nanchor = 36":         "teeth.active: is a text, not a tooth number",
	} {
		text := strings.Replace(stepSpring, "[wire]", "[teeth]\n"+bad+"\n\n[wire]", 1)
		_, err := casefile.ReadSpring("spring.toml", []byte(text))
		list, ok := err.(fault.List)
		if !ok || len(list) != 1 || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: got %v, want %q", bad, err, want)
		}
	}
}

// A spring file with a free path may name teeth, too.
func TestFreePathMayNameTeeth(t *testing.T) {
	t.Parallel()
	text := strings.Replace(stepSpring, "straight_mm = 2.0", "straight_mm = { min = 1, max = 3 }", 1)
	text = strings.Replace(text, "[wire]", stepTeeth+"[wire]", 1)
	if _, err := casefile.ReadPattern("spring.toml", []byte(text)); err != nil {
		t.Error(err)
	}
}

func TestRecordNamesTheTeeth(t *testing.T) {
	t.Parallel()
	record := sampleRecord()
	without, err := casefile.WriteRecord(origin, sampleWire, record)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		teeth tooth.Pair
		lines []string
	}{
		{tooth.Pair{Anchor: 36, Active: 37}, []string{",\n    \"x_towards\": \"distal\",\n    \"y_towards\": \"buccal\"", "  \"teeth\": { \"active\": 37, \"anchor\": 36 },\n"}},
		{tooth.Pair{Anchor: 37, Active: 36}, []string{",\n    \"x_towards\": \"mesial\",\n    \"y_towards\": \"lingual\"", "  \"teeth\": { \"active\": 36, \"anchor\": 37 },\n"}},
	} {
		record.Teeth = c.teeth
		with, err := casefile.WriteRecord(origin, sampleWire, record)
		if err != nil {
			t.Fatal(err)
		}
		bare := string(with)
		for _, line := range c.lines {
			bare = strings.Replace(bare, line, "", 1)
		}
		if len(bare) == len(with) || bare != string(without) {
			t.Errorf("with teeth:\n%s\nwithout:\n%s", with, without)
		}
	}
}

// An accent written as a mark of its own is the letter with that accent.
func TestTitlesAreComposed(t *testing.T) {
	t.Parallel()
	const apart, composed = "intrusa\u0303o", "intrus\u00e3o"
	c, err := casefile.ReadCase("case.toml", []byte(`title = "`+apart+"\"\n"+strings.Replace(molarCase, "title = ", "# title = ", 1)))
	if err != nil || c.Title != composed {
		t.Errorf("case: title %+q (%v)", c.Title, err)
	}
	s, err := casefile.ReadSpring("spring.toml", []byte(strings.Replace(stepSpring, "step spring", apart, 1)))
	if err != nil || s.Title != composed {
		t.Errorf("spring: title %+q (%v)", s.Title, err)
	}
}
