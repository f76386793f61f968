package desk

import (
	"encoding/json"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/notice"
	"springwright/design/wire"
	"springwright/presets"
)

func formOf(t *testing.T, q formRequest) formAnswer {
	t.Helper()
	body, err := json.Marshal(q)
	if err != nil {
		t.Fatal(err)
	}
	w := httptest.NewRecorder()
	(&api{}).form(w, httptest.NewRequest("POST", "/", strings.NewReader(string(body))))
	var out formAnswer
	if err := json.Unmarshal(w.Body.Bytes(), &out); err != nil || w.Code != 200 {
		t.Fatalf("%d %v: %s", w.Code, err, w.Body)
	}
	return out
}

// TestFormOfEveryPreset: the form of a case that comes with the program has no fault, shows every number
// that the file gives for one of its fields, and leaves the file as it is.
func TestFormOfEveryPreset(t *testing.T) {
	for _, name := range presets.Names() {
		text, _, err := presets.Case(name)
		if err != nil {
			t.Fatal(err)
		}
		out := formOf(t, formRequest{Text: string(text), Lang: "en"})
		if len(out.Faults) > 0 || out.Text != string(text) {
			t.Errorf("%s: faults %v, text changed %v", name, out.Faults, out.Text != string(text))
		}
		var keys []string
		for _, groups := range [][]group{out.Measure, out.Want, out.Kind} {
			for _, g := range groups {
				for _, f := range g.Fields {
					keys = append(keys, f.all()...)
				}
			}
		}
		for key := range out.Values {
			table, _, _ := strings.Cut(key, ".")
			if table != "now" && table != "goal" && !strings.HasPrefix(key, "target.start.") {
				continue
			}
			base := key
			for _, end := range []string{".min", ".max", ".value", ".tolerance", ".weight"} {
				base = strings.TrimSuffix(base, end)
			}
			if !slices.Contains(keys, base) && !slices.ContainsFunc(sameSide(base), func(o string) bool { return slices.Contains(keys, o) }) {
				t.Errorf("%s: no field shows %s", name, key)
			}
		}
	}
}

// A side that the file names by its other word is shown, and not written a second time.
func TestFormKnowsBothWordsOfASide(t *testing.T) {
	text := "[teeth]\nactive = 11\nanchor = 16\n[now]\nalong_mm = 20\nbuccal_mm = 1.5\n"
	out := formOf(t, formRequest{Text: text, Lang: "en"})
	if got := out.Values["now.labial_mm"]; got != "1.5" || out.Senses["now.C"] != "now.labial_mm" {
		t.Errorf("shown is %q as %q", got, out.Senses["now.C"])
	}
	out = formOf(t, formRequest{Text: text, Lang: "en", Set: []entry{{Key: "now.labial_mm", Value: "2"}}})
	if strings.Contains(out.Text, "buccal_mm") || !strings.Contains(out.Text, "labial_mm = 2") {
		t.Errorf("the file holds\n%s", out.Text)
	}
}

// Wires to choose from and a wire of one's own take each other's place.
func TestFormHasOneWire(t *testing.T) {
	text, _, err := presets.Case(presets.Demo)
	if err != nil {
		t.Fatal(err)
	}
	out := formOf(t, formRequest{Text: string(text), Lang: "en", Set: []entry{{Key: "wire.choose", Value: "usual"}}})
	if len(out.Faults) > 0 || out.Values["wire.alloy"] != "" {
		t.Errorf("faults %v, alloy %q", out.Faults, out.Values["wire.alloy"])
	}
	out = formOf(t, formRequest{Text: out.Text, Lang: "en", Set: []entry{{Key: "wire.alloy", Value: "beta-titanium"}, {Key: "wire.thickness_mm", Value: "0.017in"}, {Key: "wire.width_mm", Value: "0.025in"}}})
	if len(out.Faults) > 0 || out.Values["wire.choose"] != "" {
		t.Errorf("faults %v, choose %q", out.Faults, out.Values["wire.choose"])
	}
}

// A force beyond what is usual is cautioned of at once.
func TestFormCautions(t *testing.T) {
	text, _, err := presets.Case(presets.Demo)
	if err != nil {
		t.Fatal(err)
	}
	if out := formOf(t, formRequest{Text: string(text), Lang: "en"}); len(out.Cautions) != 0 {
		t.Errorf("of the demo %q", out.Cautions)
	}
	out := formOf(t, formRequest{Text: string(text), Lang: "en", Set: []entry{{Key: "target.start.intrusive_n", Window: &[2]string{"0.5", "100gf"}}}})
	if len(out.Cautions) != 1 || !strings.Contains(out.Cautions[0], "0.98 N") {
		t.Errorf("of 100 gf %q", out.Cautions)
	}
}

// TestWaysFillCases: every way out that fills fields leaves a case without faults, with what the notice
// says; what only measuring can tell fills none.
func TestWaysFillCases(t *testing.T) {
	text, c, err := presets.Case(presets.Demo)
	if err != nil {
		t.Fatal(err)
	}
	round := notice.NamedWire{Alloy: "stainless steel", DiameterMM: 0.4064}
	for _, test := range []struct {
		n    notice.Notice
		want map[string]string // nil: nothing is filled in
	}{
		{notice.LimitRelief{Limit: notice.LoopWidthLimit, From: 12, To: 14}, map[string]string{"limits.loop_width_mm": "14"}},
		{notice.LimitRelief{Limit: notice.BendsLimit, From: 6, To: 7}, map[string]string{"limits.most_bends": "7"}},
		{notice.PreBendRelief{FromRad: 0.1, ToRad: 0.3490658503988659}, map[string]string{"limits.largest_pre_bend_deg": "20"}},
		{notice.WireRelief{Size: wire.Size{ThicknessMil: 16, WidthMil: 22}}, map[string]string{"wire.thickness_mm": "0.4064", "wire.width_mm": "0.5588", "wire.alloy": "beta-titanium"}},
		{notice.FamilyRelief{Family: design.TLoopName}, map[string]string{"spring": "T-loop", "active_slot.enter": ""}},
		{notice.EntryRelief{FromBehind: false}, map[string]string{"active_slot.enter": "from the anchor"}},
		{notice.TwoSpringsRelief{ReactivateMM: 1}, map[string]string{"goal.occlusal_mm": "1", "goal.apical_mm": "", "goal.along_mm": "12.5"}},
		{notice.TwoSpringsRelief{ReactivateMM: 1, Wire: &round}, map[string]string{"goal.occlusal_mm": "1", "wire.diameter_mm": "0.4064", "wire.thickness_mm": "", "wire.alloy": "stainless steel"}},
		{notice.LimitRelief{Limit: notice.FoldLimit, From: 10, To: 12}, nil},
		{notice.LimitRelief{Limit: notice.RoomMesialLimit, From: 7, To: 9}, nil},
		{notice.HeightRelief{FromMM: 6, ToMM: 8}, nil},
		{notice.NoRelief{}, nil},
	} {
		way := wayOut{Set: []entry{}}
		way.fill(c, test.n)
		if test.want == nil {
			if len(way.Set) > 0 {
				t.Errorf("%v fills %v", test.n, way.Set)
			}
			continue
		}
		out := formOf(t, formRequest{Text: string(text), Lang: "en", Set: way.Set})
		if len(out.Faults) > 0 {
			t.Errorf("%v: faults %v", test.n, out.Faults)
		}
		for key, want := range test.want {
			if got := out.Values[key]; got != want {
				t.Errorf("%v: %s is %q, want %q", test.n, key, got, want)
			}
		}
	}
}
