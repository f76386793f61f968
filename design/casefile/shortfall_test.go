package casefile_test

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"springwright/design/casefile"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"

	"github.com/google/go-cmp/cmp"
)

// everyShortfall has every quantity and every limit, with all kinds of windows.
func everyShortfall() *target.Shortfall {
	s := &target.Shortfall{}
	for q := range target.Quantities {
		s.Misses = append(s.Misses,
			target.Miss{Quantity: q, Value: 0.1 + float64(q), Window: target.Window{Min: math.Inf(-1), Max: 1.0 / 30}, TravelLeftMM: 1.0 / 3},
			target.Miss{Quantity: q, Value: -0.25, Window: target.Window{Min: -0.125, Max: 0.5}, AtStart: true, TravelLeftMM: 2, AtResistance: q.Couple()},
			target.Miss{Quantity: q, Value: -3, Window: target.Window{Min: 0, Max: math.Inf(1)}},
		)
	}
	for l := target.OtherLimit; l <= target.StressLimit; l++ {
		s.Exceeded = append(s.Exceeded, target.Excess{Limit: l, Beyond: 0.25 + float64(l)})
	}
	return s
}

func TestUnmetSpringsSayWhatTheyMiss(t *testing.T) {
	t.Parallel()
	spring, err := casefile.ReadSpring("spring.toml", []byte(stepSpring))
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]*target.Shortfall{
		"met or not judged": nil,
		"everything":        everyShortfall(),
		"one limit":         {Exceeded: []target.Excess{{Limit: target.SelfLimit, Beyond: 0.4}}},
		"nothing told":      {Untold: true},
	} {
		spring.Shortfall = want
		written := casefile.WriteSpring(spring)
		if says := bytes.Contains(written, []byte("\nmet = false\n")); says != (want != nil) {
			t.Errorf("%s: met = false is in the file: %t", name, says)
		}
		again, err := casefile.ReadSpring("spring.toml", written)
		if err != nil {
			t.Errorf("%s: %v\n%s", name, err, written)
			continue
		}
		if diff := cmp.Diff(want, again.Shortfall, near); diff != "" {
			t.Errorf("%s: written and read again (-want +got):\n%s", name, diff)
		}
		if twice := casefile.WriteSpring(again); !bytes.Equal(written, twice) {
			t.Errorf("%s: the second writing differs:\n%s\n%s", name, written, twice)
		}
	}
}

func TestReadSpringRefusesFaultyVerdicts(t *testing.T) {
	t.Parallel()
	for _, test := range []struct{ keys, want string }{
		{"met = true", "met: is not taken from a file"},
		{"met = 0", "met: is a number, not false"},
		{"misses = []", "misses: is given without met = false"},
		{"exceeded = []", "exceeded: is given without met = false"},
		{"met = false\nmisses = 3", "misses: is a number, not an array"},
		{"met = false\nmisses = [3]", "misses[1]: is a number, not a table in braces"},
		{`met = false
misses = [ { quantity = "active force w", value_n = 1 } ]`, `misses[1].quantity: "active force w" is not a known word here`},
		{`met = false
misses = [ { quantity = "active force z", value_nmm = 1 } ]`, "misses[1].value_n: is missing"},
		{`met = false
misses = [ { quantity = "active force z", value_n = 0.4, min_n = 0.3, max_n = 0.6 } ]`, "misses[1].value_n: lies in its window"},
		{`met = false
misses = [ { quantity = "active force z", value_n = 0.4, min_n = 0.6, max_n = 0.5 } ]`, "misses[1].min_n: is above max_n"},
		{`met = false
misses = [ { quantity = "active force z", value_n = nan, min_n = 0.3 } ]`, "misses[1].value_n: nan is not a finite number"},
		{`met = false
misses = [ { quantity = "active force z", value_n = 0.2, min_n = 0.3, at_start = "yes" } ]`, "misses[1].at_start: is a text, not true or false"},
		{`met = false
misses = [ { quantity = "active force z", value_n = 0.2, min_n = 0.3, about = "centre of resistance" } ]`, "misses[1].about: does not go with active force z"},
		{`met = false
exceeded = [ { limit = "loop", beyond_mm = 0.4 } ]`, `exceeded[1].limit: "loop" is not a known word here`},
		{`met = false
exceeded = [ { limit = "number of bends", beyond_mm = 2 } ]`, "exceeded[1].beyond_bends: is missing"},
		{`met = false
exceeded = [ { limit = "loop width", beyond_mm = 0 } ]`, "exceeded[1].beyond_mm: 0 mm is out of range"},
	} {
		_, err := casefile.ReadSpring("spring.toml", []byte(test.keys+"\n"+stepSpring))
		if err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s:\nerror %v, want one that says %q", test.keys, err, test.want)
			continue
		}
		checkFaults(t, err)
	}
}

func TestRecordsSayWhetherTheTargetIsMet(t *testing.T) {
	t.Parallel()
	type verdict struct {
		Met      *bool            `json:"met"`
		Misses   []map[string]any `json:"misses"`
		Exceeded []map[string]any `json:"exceeded"`
	}
	read := func(r spring.Record) verdict {
		t.Helper()
		data, err := casefile.WriteRecord(origin, sampleWire, r)
		if err != nil {
			t.Fatal(err)
		}
		var v verdict
		if err := json.Unmarshal(data, &v); err != nil {
			t.Fatalf("%v\n%s", err, data)
		}
		return v
	}
	if v := read(spring.Record{Title: "a"}); v.Met != nil {
		t.Error("a record that nobody has judged says whether it is met")
	}
	if v := read(spring.Record{Title: "a", Verdict: &target.Shortfall{}}); v.Met == nil || !*v.Met || v.Misses != nil || v.Exceeded != nil {
		t.Errorf("a record that meets its target says %+v", v)
	}
	short := &target.Shortfall{
		Misses:   []target.Miss{{Quantity: target.OfAnchor(tooth.CoupleY), Value: -1.5, Window: target.Window{Min: -1, Max: math.Inf(1)}, TravelLeftMM: 0.5, AtResistance: true}},
		Exceeded: []target.Excess{{Limit: target.BendsLimit, Beyond: 2}},
	}
	v := read(spring.Record{Title: "a", Verdict: short})
	if v.Met == nil || *v.Met {
		t.Errorf("a record that misses its target says %+v", v)
	}
	if diff := cmp.Diff([]map[string]any{{
		"quantity": "anchor couple y", "value_nmm": -1.5, "min_nmm": -1.0, "travel_left_mm": 0.5, "about": "centre of resistance",
	}}, v.Misses); diff != "" {
		t.Errorf("misses (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff([]map[string]any{{"limit": "number of bends", "beyond_bends": 2.0}}, v.Exceeded); diff != "" {
		t.Errorf("exceeded (-want +got):\n%s", diff)
	}
	full, err := casefile.WriteRecord(origin, sampleWire, spring.Record{Title: "a", Verdict: everyShortfall()})
	if err != nil || !json.Valid(full) {
		t.Errorf("no valid JSON: %v\n%s", err, full)
	}
	short.Misses[0].Value = math.NaN()
	if _, err := casefile.WriteRecord(origin, sampleWire, spring.Record{Title: "a", Verdict: short}); err == nil {
		t.Error("NaN is written")
	}
}
