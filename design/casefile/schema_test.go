package casefile_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/casefile/schematest"
	"springwright/design/effect"
	"springwright/design/notice"
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
	for name, a := range map[string]casefile.Adjustment{"adjustment": sampleAdjustment(full), "adjustment without a target": {Spring: spring.Spring{Wire: sampleWire}, AsBent: casefile.AdjustedOutcome{Springs: 1}}} {
		text, err = casefile.WriteAdjustment(origin, a)
		put(name, text, err)
	}
	for name, c := range map[string]casefile.ClassFile{"class": sampleClass(), "least class": {Teeth: full.Teeth, Bands: sampleClass().Bands, Students: make([]casefile.ClassStudent, 1)}} {
		if len(c.Students) == 1 {
			c.Students[0].Number = 1
		}
		text, err = casefile.WriteClass(origin, c)
		put(name, text, err)
	}
	text, err = casefile.WriteMarks(origin, sampleMarks())
	put("marks", text, err)
	return all
}

// sampleClass has everything that a class may have.
func sampleClass() casefile.ClassFile {
	nothing := 3.5
	hardness := casefile.ClassHardness{Bends: 3, Share: 0.8, LargestAngleRad: 1.5, LeastToleranceRad: 0.05}
	return casefile.ClassFile{
		Case: "demo", Teeth: tooth.Pair{Anchor: 36, Active: 37}, Seed: 3, Tag: 0xabc, Below: "F", Hardness: hardness,
		Bands: []casefile.ClassBand{{Grade: "A", AngleRad: 0.04, LengthMM: 0.5, Met: true}, {Grade: "B", AngleRad: 0.08, LengthMM: 1}},
		Drawn: casefile.ClassDrawn{Variants: 7, Unmet: 1, OtherKind: 1, OtherHardness: 2, Alike: 1}, LeastApart: casefile.ClassApart{AngleRad: 0.2, LengthMM: 1},
		Students: []casefile.ClassStudent{
			{Number: 1, Code: "demo-01", CaseFile: "case-1.toml", SpringFile: "spring-1.toml", Hardness: hardness, GeometryClass: "IV", NoCoupleMM: &nothing, WhatIf: &casefile.ClassWhatIf{Bend: 3, Active: &tooth.Load{}, Anchor: &tooth.Load{}}},
			{Number: 2, Code: "demo-02", CaseFile: "case-2.toml", SpringFile: "spring-2.toml", Hardness: hardness, WhatIf: &casefile.ClassWhatIf{Bend: 3}},
		},
	}
}

// sampleMarks have everything that marks may have.
func sampleMarks() casefile.Marks {
	steps := spring.Steps{spring.StraightStep(3), spring.BendStep(1, 1)}
	keys := []string{"straight_1_mm", "bend_1_deg"}
	one := casefile.StudentMark{
		Number: 1, Code: "demo-01", Source: "a.jpg", Grade: "B", Keys: keys, Path: steps, Met: true, Chance: 0.8, Bent: &[2]tooth.Load{},
		Steps:      []casefile.MarkedStep{{Step: 0, Drawn: 3, Measured: 3.2, Off: 0.2}, {Step: 1, Drawn: 1, Measured: 0.9, Off: -0.1}},
		Correction: &casefile.AdjustedChange{Step: 1, ByRad: 0.1}, Then: 0.9,
	}
	return casefile.Marks{
		Case: "demo", Teeth: tooth.Pair{Anchor: 36, Active: 37}, Bands: sampleClass().Bands, Below: "F",
		Students: []casefile.StudentMark{one, {Number: 2, Code: "demo-02", Source: "b.jpg", Keys: keys, Path: steps, Why: "it cannot be seated"}},
		NotRead:  []casefile.NotRead{{Source: "c.jpg", Code: "demo-03", Reason: "it is blurred", Hint: "take it again"}, {Source: "d.jpg", Reason: "no picture"}}, Missing: []string{"demo-04"},
		Steps: []casefile.StepMarks{{Key: keys[0], Measured: 1, MeanOff: 0.2, ByGrade: []int{1, 0, 0}}, {Key: keys[1], Angle: true, Measured: 1, MeanOff: -0.1, ByGrade: []int{0, 1, 0}, Worst: 1}},
	}
}

// sampleAdjustment is a spring as bent that misses its target, and corrections.
func sampleAdjustment(record spring.Record) casefile.Adjustment {
	band := make([][tooth.Components]spring.Band, len(record.Positions))
	outcome := casefile.AdjustedOutcome{Record: record, Shortfall: record.Verdict, Springs: 10, Met: 4, Active: band, Anchor: band}
	return casefile.Adjustment{
		Spring: spring.Spring{Teeth: record.Teeth, Wire: sampleWire, Path: spring.PathOf(spring.StraightStep(3), spring.BendStep(1, 1))},
		Steps:  []casefile.AdjustedStep{{Drawn: 3, Value: 3.1, SD: 0.1, Measured: true}, {Drawn: 1, Value: 1.1, SD: 0.02}},
		AsBent: outcome, HasTarget: true, Allowed: 0.9, Stiffness: 1, StiffnessSD: 0.1,
		Corrections: []casefile.AdjustedCorrections{{Changes: []casefile.AdjustedChange{{Step: 0, Fresh: true, ByRad: 0.1}, {Step: 1, ByRad: -0.05}}, WithLast: 0.7, Outcome: outcome}},
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
