package casefile_test

import (
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"springwright/design/casefile"
	"springwright/design/effect"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
)

// couples is a position with tipping couples on the active and the anchor tooth.
func couples(activeNMM, anchorNMM float64) spring.Position {
	return spring.Position{
		Active: tooth.Load{CoupleNMM: r3.Vec{Y: activeNMM}},
		Anchor: tooth.Load{ForceN: r3.Vec{Z: -0.5}, CoupleNMM: r3.Vec{Y: anchorNMM}},
	}
}

func TestWriteComparison(t *testing.T) {
	t.Parallel()
	candidates := []effect.Candidate{
		{Name: "loop", Title: "a <loop>", Evaluation: solve.Evaluation{Record: spring.Record{Positions: []spring.Position{couples(0, 6), couples(-6, 6)}}}},
		{Name: "steel", Title: "a wire", Withheld: errors.New("it yields")},
		{Name: "slack", Title: "nothing", Evaluation: solve.Evaluation{Record: spring.Record{Positions: []spring.Position{couples(0, 0)}}}},
	}
	text, err := casefile.WriteComparison(origin, tooth.Pair{Anchor: 36, Active: 37}, candidates)
	if err != nil {
		t.Fatal(err)
	}
	type load struct {
		Force  [3]float64 `json:"force_n"`
		Couple [3]float64 `json:"couple_nmm"`
	}
	var got struct {
		Candidates []struct {
			Name, Title, Withheld string
			Positions             []struct {
				At             *[3]float64 `json:"at_mm"`
				Active, Anchor load
				StressRatio    *float64 `json:"stress_ratio"`
				Class          *string  `json:"geometry_class"`
			}
		}
	}
	if err := json.Unmarshal(text, &got); err != nil {
		t.Fatalf("%v in\n%s", err, text)
	}
	if len(got.Candidates) != 3 || got.Candidates[0].Name != "loop" || got.Candidates[0].Title != "a <loop>" || len(got.Candidates[0].Positions) != 2 {
		t.Fatalf("got %+v", got)
	}
	for i, want := range []string{"IV", "VI"} {
		p := got.Candidates[0].Positions[i]
		if p.Class == nil || *p.Class != want || p.Anchor.Couple[1] != 6 || p.Anchor.Force[2] != -0.5 || p.At == nil || p.StressRatio == nil {
			t.Errorf("position %d is %+v, want class %s", i, p, want)
		}
	}
	if c := got.Candidates[1]; c.Withheld != "it yields" || c.Positions == nil || len(c.Positions) != 0 {
		t.Errorf("a withheld candidate is %+v, want its reason and no positions", c)
	}
	if class := got.Candidates[2].Positions[0].Class; *class != "" {
		t.Errorf("no couples are class %q", *class)
	}
	candidates[2].Evaluation.Record.Positions[0].StressRatio = math.NaN()
	if _, err := casefile.WriteComparison(origin, tooth.Pair{Anchor: 36, Active: 37}, candidates); err == nil || !strings.Contains(err.Error(), "position 1 of slack of the record: stress_ratio") {
		t.Errorf("NaN: got %v", err)
	}
}

// A comparison is read by people, too: small objects stand within a line, and the keys in their
// order.
func TestWriteComparisonLaysOut(t *testing.T) {
	t.Parallel()
	const want = `{
  "format": "springwright comparison",
  "version": 1,
  "program": "springwright test",
  "axes": {
    "origin": "where the wire leaves the anchor slot",
    "x": "along the arch, from the anchor to the active tooth",
    "y": "z × x",
    "z": "apical",
    "loads": "on the tooth",
    "couples": "about the centre of the tooth's slot, for a hook about the point where it is hooked",
    "x_towards": "distal",
    "y_towards": "buccal"
  },
  "teeth": { "active": 37, "anchor": 36 },
  "candidates": [
    {
      "name": "loop",
      "title": "a \"<loop>\", [1]",
      "teeth": { "active": 37, "anchor": 36 },
      "met": false,
      "misses": [
        { "quantity": "active force z", "value_n": 0.2, "min_n": 0.3, "travel_left_mm": 0 }
      ],
      "positions": [
        {
          "at_mm": [0, 0, 0],
          "rotation_vector_deg": [0, 0, 0],
          "travel_left_mm": 0,
          "active": { "force_n": [0, 0, 0], "couple_nmm": [0, -6, 0] },
          "anchor": { "force_n": [0, 0, -0.5], "couple_nmm": [0, 6, 0] },
          "geometry_class": "VI",
          "stress_ratio": 0
        }
      ]
    },
    {
      "name": "steel",
      "title": "a wire",
      "withheld": "it yields",
      "positions": []
    }
  ]
}
`
	miss := target.Miss{Quantity: target.OfActive(tooth.ForceZ), Value: 0.2, Window: target.Window{Min: 0.3, Max: math.Inf(1)}}
	got, err := casefile.WriteComparison(casefile.Origin{Program: "springwright test"}, tooth.Pair{Anchor: 36, Active: 37}, []effect.Candidate{
		{
			Name: "loop", Title: `a "<loop>", [1]`,
			Spring:     spring.Spring{Teeth: tooth.Pair{Anchor: 36, Active: 37}, Shortfall: &target.Shortfall{Misses: []target.Miss{miss}}},
			Evaluation: solve.Evaluation{Record: spring.Record{Positions: []spring.Position{couples(-6, 6)}}},
		},
		{Name: "steel", Title: "a wire", Withheld: errors.New("it yields")},
	})
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, string(got)); diff != "" {
		t.Errorf("comparison (-want +got):\n%s", diff)
	}
}

// A case's record is that of its spring with one more line a position.
func TestWriteCaseRecordAddsOneLine(t *testing.T) {
	t.Parallel()
	r := spring.Record{Title: "t", Positions: []spring.Position{couples(1, 2), couples(3, 4)}}
	plain, err := casefile.WriteRecord(origin, sampleWire, r)
	if err != nil {
		t.Fatal(err)
	}
	loads := []effect.ResistanceLoads{{Active: tooth.Load{CoupleNMM: r3.Vec{X: 7}}}, {Anchor: tooth.Load{ForceN: r3.Vec{Y: 8}}}}
	full, err := casefile.WriteCaseRecord(origin, sampleWire, r, loads, nil)
	if err != nil {
		t.Fatal(err)
	}
	if !json.Valid(full) {
		t.Fatalf("no JSON:\n%s", full)
	}
	var kept []string
	added := 0
	for _, line := range strings.SplitAfter(string(full), "\n") {
		if strings.Contains(line, `"at_resistance"`) {
			added++
			continue
		}
		kept = append(kept, line)
	}
	if added != 2 || strings.Join(kept, "") != string(plain) {
		t.Errorf("%d lines were added to\n%s\ngiving\n%s", added, plain, full)
	}
	if _, err := casefile.WriteCaseRecord(origin, sampleWire, r, loads[:1], nil); err == nil {
		t.Error("loads for one of two positions were taken")
	}
}
