package casefile_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"springwright/design"
	"springwright/design/bent"
	"springwright/design/casefile"
	"springwright/design/casefile/schematest"
	"springwright/design/course"
	"springwright/design/effect"
	"springwright/design/notice"
	"springwright/design/photo"
	"springwright/design/report"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/timeline"
	"springwright/design/tooth"
	"springwright/design/wire"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
)

// fullRecord has everything that a record may have.
func fullRecord() spring.Record {
	state := spring.PlayState{Active: spring.SlotState{ThirdOrder: spring.Free, SecondOrder: spring.PlusWall, FirstOrder: spring.MinusWall}, SlidMM: 0.1}
	r := sampleRecord()
	r.Teeth = tooth.Pair{Anchor: 36, Active: 37}
	r.Verdict = everyShortfall()
	r.Shares = &spring.Shares{Springs: 24, AsBent: 10, Checked: 20, Corrected: 22, AsDrawn: 23}
	r.Positions[0].HookMM, r.Positions[0].Play = &r3.Vec{X: 1}, &state
	r.Positions[0].OtherRest = &spring.OtherRest{StressRatio: 0.2, Play: state}
	r.Spread = &spring.Spread{Springs: 10, Met: 5, High: 1, Influence: "angle", Positions: []spring.PositionSpread{{}}, Tolerances: []spring.Tolerance{{Less: 1, More: 1}, {Angle: true, Less: 1, More: 1}}}
	return r
}

// written are texts of all formats that the package writes.
func written(t *testing.T) map[string][]byte {
	t.Helper()
	flat := wire.Wire{EMPa: 65000, Poisson: 0.3, YieldMPa: 900, TangentMPa: 6000, StressRelieved: true, ThicknessMM: 0.4, WidthMM: 0.6, CornerRadiusMM: 0.05}
	full := fullRecord()
	atResistance := make([]effect.ResistanceLoads, len(full.Positions))
	drifts := []effect.AnchorOutcome{
		{HoldRatio: 1.2, Drift: effect.Drift{PlannedMM: 2, Steps: []effect.DriftStep{{}, {}}}},
		{Anchorage: design.Anchorage{Joined: []tooth.Number{35}}, Fault: errors.New("it snaps")},
	}
	candidates := []effect.Candidate{
		{Name: "loop", Title: "a loop", Anchor: &drifts[0], Evaluation: solve.Evaluation{Record: full}, Spring: spring.Spring{Teeth: full.Teeth, Wire: flat, Shortfall: full.Verdict}},
		{Name: "steel", Title: "a wire", Withheld: errors.New("it yields"), Spring: spring.Spring{Wire: sampleWire}},
		{Name: "straight", Title: "a wire", Straight: true, Argument: &effect.Argument{
			Next: 35, Loop: []effect.PlacedLoads{{TravelLeftMM: 2, Loads: effect.ArguedLoads{ForceN: 0.5, AnchorCoupleNMM: 5}}},
			Wires:        []effect.StraightFigure{{State: effect.StraightState{Data: effect.LowEnd, Next: 35, LetBack: true}, TravelLeftMM: 1}},
			AtEqualForce: []effect.StraightFigure{{State: effect.StraightState{Data: effect.HighEnd}, TravelLeftMM: 1.5, Loads: effect.ArguedLoads{ForceN: 0.5}}},
			Heard:        []effect.Heard{{Saying: effect.WireForceLarger, FromMM: 2, ToMM: 2, Holds: 1, Of: 2, Only: effect.GoesOn, Least: 1, Most: 2}, {Saying: effect.LargeTravelLoop, FromMM: 2, ToMM: 2, Of: 1}},
		}},
		{Name: "none", Title: "no spring was found", Withheld: errors.New("nothing")},
	}
	all := map[string][]byte{}
	put := func(name string, text []byte, err error) {
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		all[name] = text
	}
	text, err := casefile.WriteRecord(casefile.Origin{Program: "springwright 0"}, sampleWire, spring.Record{})
	put("least record", text, err)
	text, err = casefile.WriteRecord(origin, sampleWire, sampleRecord())
	put("record", text, err)
	text, err = casefile.WriteCaseRecord(origin, flat, full, atResistance, drifts)
	put("full record", text, err)
	text, err = casefile.WriteComparison(origin, full.Teeth, candidates)
	put("comparison", text, err)
	full.Chosen = notice.List{
		notice.KindChosen{Family: "T-loop", Task: notice.SpaceClosed},
		notice.WireChosen{Wire: notice.NameOf(flat), Among: 3},
		notice.WireChosen{Wire: notice.NamedWire{Alloy: "stainless steel", DiameterMM: 0.4}, Among: 2},
		notice.Shape{Family: "T-loop", UnevenMM: 1, LargestBendRad: 0.3, Nearer: &notice.NearerShape{Share: 0.4, TakenShare: 0.6}},
	}
	text, err = casefile.WriteDesignResult(origin, casefile.DesignResult{
		Case: "demo", Family: "loop", Wire: flat, Record: full, AtResistance: atResistance, Drifts: drifts, Directory: "out",
		Files: []casefile.File{{Name: "a.svg", Bytes: 3, SHA256: strings.Repeat("0f", 32)}, {Name: "b.svg", SHA256: strings.Repeat("1e", 32)}},
	})
	put("design", text, err)
	drawn := spring.Spring{Teeth: full.Teeth, Wire: sampleWire, Path: spring.PathOf(spring.StraightStep(3), spring.BendStep(1, 1))}
	text, err = casefile.WriteAdjustment(origin, drawn, sampleAdjustment(full))
	put("adjustment", text, err)
	text, err = casefile.WriteAdjustment(origin, spring.Spring{Wire: sampleWire}, bent.Report{AsBent: bent.Outcome{Trial: bent.Trial{Springs: 1}}})
	put("adjustment without a target", text, err)
	text, err = casefile.WriteVisit(origin, sampleVisits(full.Teeth))
	put("visit", text, err)
	order := casefile.OrderOutcome{
		Order: "A 17", Name: "A-17-0f1e2d", Input: "00ff", Row: 3, Due: "2026-11-27 14:00", State: "made", Lacking: []string{"few meet it"},
		Teeth: full.Teeth, Wire: "steel", CutMM: 52.3, Share: 0.4, Fingerprint: "0123456789",
	}
	text, err = casefile.WriteOrder(origin, order)
	put("order", text, err)
	text, err = casefile.WriteBatch(origin, casefile.BatchResult{
		List: "orders.csv", Part: "3/8", Directory: "out", Orders: []casefile.OrderOutcome{order, {Name: "b", State: "open", Share: -1}},
		Files: []casefile.File{{Name: "cover.pdf", SHA256: strings.Repeat("0f", 32)}},
	})
	put("batch", text, err)
	for name, c := range map[string]course.Class{"class": sampleClass(), "least class": {Case: design.Case{Teeth: full.Teeth}, Bands: sampleClass().Bands, Students: []course.Student{{Number: 1}}}} {
		text, err = casefile.WriteClass(origin, c)
		put(name, text, err)
	}
	text, err = casefile.WriteMarks(origin, sampleMarks())
	put("marks", text, err)
	return all
}

// sampleVisits is a report with all that there may be to tell.
func sampleVisits(teeth tooth.Pair) timeline.Report {
	at := time.Date(2026, 4, 6, 0, 0, 0, 0, time.UTC)
	visits := []design.Visit{
		{Number: 1, Date: at, Done: design.SeatedFirst, SpringFile: "spring.toml"},
		{Number: 2, Date: at.AddDate(0, 0, 35), Done: design.LeftAsIs, SpringFile: "spring.toml"},
	}
	return timeline.Report{
		Case: design.Case{Code: "demo", Teeth: teeth}, Worn: true, SpringFile: "spring.toml", Way: 2,
		Spring:  spring.Spring{Wire: sampleWire, Path: spring.PathOf(spring.StraightStep(3), spring.BendStep(1, 1))},
		Points:  []timeline.Point{{Visit: visits[0], SD: 0.1}, {Visit: visits[1], Days: 35, Closed: 0.5, SD: 0.2, Planned: 0.6, Expected: 0.6, ExpectedSD: 0.3, Told: true, Push: 0.4}},
		Planned: []timeline.Mark{{Days: 7, Closed: 0.1, Push: 0.5}}, Fitted: []timeline.Mark{{Days: 7, Closed: 0.1, Push: 0.5}},
		Loads: &timeline.Loads{StressRatio: 0.4}, Ahead: timeline.Ahead{Closed: 1, SD: 0.2, Days: 70, PerMonth: 0.4, Low: 0.3, High: 0.5},
		Anchor: timeline.Anchor{Moves: true}, Fits: []timeline.Fit{{Kind: timeline.RateFit, Prior: 0.8, PriorLow: 0.4, PriorHigh: 1.6, Value: 0.9, Low: 0.7, High: 1.1}},
		Doubts: []timeline.Doubt{{Visit: 2, Along: tooth.ForceZ, SDs: 5}},
		Verdict: timeline.Verdict{
			Advice: timeline.Reactivate, Reasons: []timeline.Reason{{Kind: timeline.Spent}, {Kind: timeline.AnchorTipped, Value: 0.1, Limit: 0.05}}, FromDays: 28, ToDays: 42, From: at, To: at,
			Ways: []timeline.Way{{Changes: []timeline.Change{{Step: 1, ByRad: 0.1}}, Chance: 0.9, WithLast: 1}},
		},
	}
}

// What is kept beside the files of an order is read again as it was.
func TestOrderIsReadAsItWasWritten(t *testing.T) {
	t.Parallel()
	for _, want := range []casefile.OrderOutcome{
		{Order: "ä/b", Name: "a-b-0f1e2d", Twin: true, Input: "00ff", State: "target missed", Lacking: []string{"x", "y"}, Teeth: tooth.Pair{Anchor: 36, Active: 37}, Wire: "w", CutMM: 50.25, Share: 0, Fingerprint: "0123456789"},
		{Order: "b", Name: "b", State: "made", Lacking: []string{}, Share: -1},
	} {
		text, err := casefile.WriteOrder(origin, want)
		if err != nil {
			t.Fatal(err)
		}
		got, err := casefile.ReadOrder(text)
		if diff := cmp.Diff(want, got); err != nil || diff != "" {
			t.Errorf("%v; (-want +got):\n%s", err, diff)
		}
	}
	for _, other := range []string{"", "{", "[]", `{"format": "springwright record", "version": 1}`, `{"format": "springwright order", "version": 2}`} {
		if _, err := casefile.ReadOrder([]byte(other)); err == nil {
			t.Errorf("%q was read as an order", other)
		}
	}
}

// sampleClass has everything that a class may have.
func sampleClass() course.Class {
	hardness := course.Hardness{Bends: 3, Share: 0.8, LargestAngleRad: 1.5, LeastToleranceRad: 0.05}
	path := spring.PathOf(spring.StraightStep(3), spring.BendStep(1, 1))
	student := func(number int, code string, a course.Answer) course.Student {
		return course.Student{Number: number, Case: design.Case{Code: code}, Spring: spring.Spring{Path: path}, Hardness: hardness, Answer: a}
	}
	return course.Class{
		Case: design.Case{Code: "demo", Teeth: tooth.Pair{Anchor: 36, Active: 37}}, Seed: 3, Tag: 0xabc, Hardness: hardness,
		Bands: course.Bands{List: []course.Band{{Grade: "A", AngleRad: 0.04, LengthMM: 0.5, Met: true}, {Grade: "B", AngleRad: 0.08, LengthMM: 1}}, Below: "F"},
		Tried: course.Tried{Drawn: 7, Unmet: 1, OtherKind: 1, OtherHardness: 2, Alike: 1}, LeastApart: course.Apart{AngleRad: 0.2, LengthMM: 1},
		Students: []course.Student{student(1, "demo-01", course.Answer{Class: 4, HasNothing: true, NothingMM: 3.5, Bend: 1, Seated: true}), student(2, "demo-02", course.Answer{Bend: 1})},
	}
}

// sampleMarks have everything that marks may have.
func sampleMarks() course.Marks {
	class := sampleClass()
	report := bent.Report{
		AsBent: bent.Outcome{Evaluation: solve.Evaluation{Record: spring.Record{Positions: make([]spring.Position, 1)}}, Trial: bent.Trial{Springs: 10, Met: 4}}, HasTarget: true,
		One: &bent.Corrected{Corrections: []bent.Correction{{Place: bent.Place{Step: 1}, ByRad: 0.1}}, Outcome: bent.Outcome{Trial: bent.Trial{Springs: 10, Met: 9}}},
	}
	one := course.Measure(class.Students[0], "a.jpg", []spring.StepReading{{Step: 0, Value: 3.2}, {Step: 1, Value: 0.9}})
	one.Report = &report
	two := course.Measure(class.Students[1], "b.jpg", []spring.StepReading{{Step: 0, Value: 3.2}})
	two.NotReckoned = errors.New("it cannot be seated")
	return course.Marks{
		Class: class, Bands: class.Bands, Marks: []course.Mark{one.Graded(class.Bands), two.Graded(class.Bands)},
		NotRead: []course.NotRead{{Source: "c.jpg", Code: "demo-03", Err: &photo.PictureError{Reason: photo.Blurred}}, {Source: "d.jpg", Err: errors.New("no picture")}}, Missing: []string{"demo-04"},
	}
}

// sampleAdjustment is a spring as bent that misses its target, and corrections.
func sampleAdjustment(record spring.Record) bent.Report {
	band := make([][tooth.Components]spring.Band, len(record.Positions))
	outcome := bent.Outcome{Evaluation: solve.Evaluation{Record: record}, Misses: record.Verdict.Misses, Trial: bent.Trial{Springs: 10, Met: 4, Active: band, Anchor: band}}
	nan := math.NaN()
	one := &bent.Corrected{Corrections: []bent.Correction{{Place: bent.Place{Fresh: true}, ByRad: 0.1}, {Place: bent.Place{Step: 1}, ByRad: -0.05}}, WithLast: 0.7, Outcome: outcome}
	return bent.Report{
		Activation: &report.Activation{
			Off: [tooth.Components]float64{0, 0, -2, 0, 0.2, 0}, Times: 3, AllowedMM: 0.2, AllowedRad: 0.02, Sets: true,
			Beforehand: spring.Band{Low: 0.05, High: 0.1}, Loss: wire.Relaxation{Low: 0.05, High: 0.1, Source: "a source"},
		},
		Lost:   &bent.Lost{Lost: report.Lost{Off: [tooth.Components]float64{nan, nan, 0.3, nan, 0.02, nan}, Share: 0.15}, Back: one, Left: [tooth.Components]float64{0, 0, 0.1, 0, 0, 0}},
		Steps:  []bent.StepEstimate{{Drawn: 3, Estimate: bent.Estimate{Value: 3.1, SD: 0.1}, Measured: true}, {Drawn: 1, Estimate: bent.Estimate{Value: 1.1, SD: 0.02}}},
		AsBent: outcome, HasTarget: true, Allowed: 0.9, Stiffness: bent.Estimate{Value: 1, SD: 0.1},
		One: one,
	}
}

func TestWhatIsWrittenIsAsItsSchemaSays(t *testing.T) {
	t.Parallel()
	for name, text := range written(t) {
		if err := schematest.Check(text); err != nil {
			t.Errorf("%s: %v\n%s", name, err, text)
		}
		// What nobody has described is found, wherever it stands.
		for _, key := range []string{`"format": `, `"origin": `, `"e_gpa": `, `"at_mm": `, `"force_n": `} {
			more := bytes.Replace(text, []byte(key), []byte(`"unheard_of": 1, `+key), 1)
			if !bytes.Equal(more, text) && schematest.Check(more) == nil {
				t.Errorf("%s: a key beside %s that no schema names was taken", name, key)
			}
		}
	}
}

// Each key that a schema names is written by the program, and the limits are those that it knows:
// what it does not write any more goes.
func TestSchemasNameNothingElse(t *testing.T) {
	t.Parallel()
	keys := map[string]bool{}
	var collect func(value any)
	collect = func(value any) {
		switch v := value.(type) {
		case []any:
			for _, item := range v {
				collect(item)
			}
		case map[string]any:
			for key, item := range v {
				keys[key] = true
				collect(item)
			}
		}
	}
	for _, text := range written(t) {
		var value any
		if err := json.Unmarshal(text, &value); err != nil {
			t.Fatal(err)
		}
		collect(value)
	}
	definitions := definitionsOf(t, "record")
	for _, list := range []string{"wires", "property", "kinds", "presets", "jig"} { // these lists are not written here
		delete(definitions, list)
	}
	var unused []string
	var walk func(value any)
	walk = func(value any) {
		switch v := value.(type) {
		case []any:
			for _, item := range v {
				walk(item)
			}
		case map[string]any:
			properties, _ := v["properties"].(map[string]any)
			for key := range properties {
				if !keys[key] {
					unused = append(unused, key)
				}
			}
			for _, item := range v {
				walk(item)
			}
		}
	}
	walk(definitions)
	if slices.Sort(unused); len(unused) > 0 {
		t.Errorf("nothing writes %q", slices.Compact(unused))
	}

	var limits []any
	for l := target.OtherLimit; l <= target.StressLimit; l++ {
		limits = append(limits, l.String())
	}
	items := definitions["exceeded"].(map[string]any)["items"].(map[string]any)
	named := items["properties"].(map[string]any)["limit"].(map[string]any)["enum"]
	if diff := cmp.Diff(any(limits), named); diff != "" {
		t.Errorf("limits (-those of the program +those of the schema):\n%s", diff)
	}
}

func definitionsOf(t *testing.T, name string) map[string]any {
	t.Helper()
	text, err := casefile.Schema(name)
	if err != nil {
		t.Fatal(err)
	}
	var schema struct {
		Definitions map[string]any `json:"$defs"`
	}
	if err := json.Unmarshal([]byte(text), &schema); err != nil {
		t.Fatal(err)
	}
	return schema.Definitions
}

func TestSchemaOfNoName(t *testing.T) {
	t.Parallel()
	for _, name := range casefile.SchemaNames() {
		if definitionsOf(t, name)[name] == nil {
			t.Errorf("the schema of %s defines none", name)
		}
	}
	if _, err := casefile.Schema("records"); !errors.Is(err, casefile.ErrSchema) || !strings.Contains(err.Error(), `did you mean "record"?`) {
		t.Errorf("error %v", err)
	}
}
