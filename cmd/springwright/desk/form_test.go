package desk

import (
	"encoding/json"
	"math"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/notice"
	"springwright/design/wire"
	"springwright/presets"

	"gonum.org/v1/gonum/spatial/r3"
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

// How a slot really holds the wire takes the place of what the file said of it, which the page has no
// field for.
func TestFormHasOneSeating(t *testing.T) {
	text, _, err := presets.Case(presets.Demo)
	if err != nil {
		t.Fatal(err)
	}
	own := strings.Replace(string(text), "\n[active_slot]\n", "\n[active_slot]\nhold = \"tied\"\n", 1)
	out := formOf(t, formRequest{Text: own, Lang: "en", Set: []entry{{Key: "active_slot.kind", Value: "tube"}, {Key: "active_slot.tie", Value: "left to slide"}}})
	if len(out.Faults) > 0 || out.Values["active_slot.hold"] != "" {
		t.Errorf("faults %v, hold %q", out.Faults, out.Values["active_slot.hold"])
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
		{notice.TwoSpringsRelief{ReactivateMM: 0.75}, map[string]string{"goal.occlusal_mm": "0.75", "goal.apical_mm": "", "goal.along_mm": "12.5"}},
		{notice.TwoSpringsRelief{ReactivateMM: 0.75, Wire: &round}, map[string]string{"goal.occlusal_mm": "0.75", "wire.diameter_mm": "0.4064", "wire.thickness_mm": "", "wire.alloy": "stainless steel"}},
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

// No letter of the measuring sheet lies on another, in any case that comes with the program.
func TestLettersLieApart(t *testing.T) {
	for _, name := range presets.Names() {
		text, _, err := presets.Case(name)
		if err != nil {
			t.Fatal(err)
		}
		letters := formOf(t, formRequest{Text: string(text), Lang: "en"}).Mouth.Letters
		if len(letters) != len("ABCDEFGHIJK") {
			t.Errorf("%s: %d letters", name, len(letters))
		}
		const circleMM = 2.0 // across, nearly
		for i, a := range letters {
			for _, b := range letters[:i] {
				if d := math.Hypot(a.At[0]-b.At[0], a.At[1]-b.At[1]); d < circleMM {
					t.Errorf("%s: %s lies on %s, %.1f mm apart", name, a.Letter, b.Letter, d)
				}
			}
		}
	}
}

// Of an empty case each part that is missing is said once, in the step and by the words of the page; a
// fault of a field keeps its hint.
func TestFormPlacesFaults(t *testing.T) {
	out := formOf(t, formRequest{Text: "case = \"a\"\n", Lang: "en"})
	steps := map[string]int{}
	for _, f := range out.Faults {
		steps[f.Step]++
		if f.Label == "" || strings.Contains(f.Text+f.Hint, "[") {
			t.Errorf("%s is said to be %q (%q) at %q", f.Key, f.Text, f.Hint, f.Label)
		}
		if f.Key == "limits" && f.Label != "room for the spring" {
			t.Errorf("what is missing of the room is shown at %q", f.Label)
		}
	}
	if steps["measure"] < 5 || steps["want"] != 1 || steps["kind"] != 1 || steps[""] != 0 {
		t.Errorf("faults by steps: %v", steps)
	}
	out = formOf(t, formRequest{Text: "case = \"a\"\n[now]\nalong_mm = -3\n", Lang: "en"})
	at := slices.IndexFunc(out.Faults, func(f faultJSON) bool { return f.Key == "now.along_mm" })
	if at < 0 || out.Faults[at].Step != "measure" || out.Faults[at].Label != "slot to slot along the arch, centre to centre" {
		t.Errorf("a wrong distance is shown as %+v", out.Faults)
	}
}

// Half of the way lies in the middle, on every side and for every kind of movement.
func TestHalfWayLiesInTheMiddle(t *testing.T) {
	for _, name := range presets.Names() {
		text, c, err := presets.Case(name)
		if err != nil {
			t.Fatal(err)
		}
		out := formOf(t, formRequest{Text: string(text), Lang: "en", Set: halfWay(c)})
		if len(out.Faults) > 0 {
			t.Errorf("%s: %v", name, out.Faults)
			continue
		}
		half, err := (&caseCache{}).get(out.Text)
		if err != nil {
			t.Fatal(err)
		}
		off := func(got, now, goal r3.Vec) float64 { return r3.Norm(r3.Sub(got, r3.Scale(0.5, r3.Add(now, goal)))) }
		// A field has four digits, of mm and of degrees.
		if d, turned := off(half.Goal.CentreMM, c.Now.CentreMM, c.Goal.CentreMM), off(half.Goal.Rotation, c.Now.Rotation, c.Goal.Rotation); d > 1e-4 || turned > 1e-5 || half.Now != c.Now {
			t.Errorf("%s: from %v to %v half is %v", name, c.Now, c.Goal, half.Goal)
		}
	}
}
