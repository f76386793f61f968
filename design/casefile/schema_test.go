package casefile_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/bent"
	"springwright/design/casefile"
	"springwright/design/casefile/schematest"
	"springwright/design/course"
	"springwright/design/effect"
	"springwright/design/notice"
	"springwright/design/photo"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/target"
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
	for name, c := range map[string]course.Class{"class": sampleClass(), "least class": {Case: design.Case{Teeth: full.Teeth}, Bands: sampleClass().Bands, Students: []course.Student{{Number: 1}}}} {
		text, err = casefile.WriteClass(origin, c)
		put(name, text, err)
	}
	text, err = casefile.WriteMarks(origin, sampleMarks())
	put("marks", text, err)
	return all
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
	return bent.Report{
		Steps:  []bent.StepEstimate{{Drawn: 3, Estimate: bent.Estimate{Value: 3.1, SD: 0.1}, Measured: true}, {Drawn: 1, Estimate: bent.Estimate{Value: 1.1, SD: 0.02}}},
		AsBent: outcome, HasTarget: true, Allowed: 0.9, Stiffness: bent.Estimate{Value: 1, SD: 0.1},
		One: &bent.Corrected{Corrections: []bent.Correction{{Place: bent.Place{Fresh: true}, ByRad: 0.1}, {Place: bent.Place{Step: 1}, ByRad: -0.05}}, WithLast: 0.7, Outcome: outcome},
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
	for _, list := range []string{"wires", "property", "kinds", "presets"} { // these lists are not written here
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
