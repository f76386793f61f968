package casefile_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"springwright/design/casefile"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/design/wire"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
)

var (
	origin     = casefile.Origin{Program: "springwright 0", Fingerprint: "0123456789"}
	sampleWire = wire.Wire{Alloy: "stainless steel", EMPa: 200000, Poisson: 0.3, YieldMPa: 1400, DiameterMM: 0.4}
)

// recordHead is what a record of that origin begins with, and recordWire the sample wire.
const (
	recordHead = `{
  "format": "springwright record",
  "version": 1,
  "program": "springwright 0",
  "fingerprint": "0123456789",
  "axes": {
    "origin": "where the wire leaves the anchor slot",
    "x": "along the arch, from the anchor to the active tooth",
    "y": "z × x",
    "z": "apical",
    "loads": "on the tooth",
    "couples": "about the centre of the tooth's slot, for a hook about the point where it is hooked"
  },
`
	recordWire = `  "wire": {
    "alloy": "stainless steel",
    "e_gpa": 200,
    "poisson": 0.3,
    "yield_mpa": 1400,
    "diameter_mm": 0.4
  },
`
)

func sampleRecord() spring.Record {
	return spring.Record{
		Title: `step "spring" <1>`,
		Positions: []spring.Position{
			{
				Seat:         spring.Seat{AtMM: r3.Vec{X: 8, Z: -3}, Rotation: r3.Vec{Y: math.Pi / 6, Z: math.Copysign(0, -1)}},
				TravelLeftMM: 3,
				Active:       tooth.Load{ForceN: r3.Vec{X: -1e-12, Z: 0.5}, CoupleNMM: r3.Vec{Y: 1.0 / 3}},
				Anchor:       tooth.Load{ForceN: r3.Vec{Z: -0.5}, CoupleNMM: r3.Vec{Y: 100}},
				StressRatio:  0.25,
			},
			{Seat: spring.Seat{AtMM: r3.Vec{X: 8}}},
		},
	}
}

// Where a hook that slides hangs stands beside the tooth's point, about which its couple is.
func TestRecordSaysWhereAHookHangs(t *testing.T) {
	t.Parallel()
	record := sampleRecord()
	record.Positions[0].HookMM = &r3.Vec{X: 8.75, Z: -3}
	text, err := casefile.WriteRecord(origin, sampleWire, record)
	if err != nil {
		t.Fatal(err)
	}
	var got struct {
		Positions []struct {
			At   []float64 `json:"at_mm"`
			Hook []float64 `json:"hook_at_mm"`
		}
	}
	if err := json.Unmarshal(text, &got); err != nil {
		t.Fatal(err)
	}
	first, second := got.Positions[0], got.Positions[1]
	if diff := cmp.Diff([]float64{8.75, 0, -3}, first.Hook); diff != "" || first.At[0] != 8 || second.Hook != nil {
		t.Errorf("at %v with the hook at %v, then %v", first.At, first.Hook, second.Hook)
	}
	record.Positions[0].HookMM.X = math.NaN()
	if _, err := casefile.WriteRecord(origin, sampleWire, record); err == nil || !strings.Contains(err.Error(), "hook_at_mm") {
		t.Errorf("a hook nowhere: %v", err)
	}
}

func TestWriteRecord(t *testing.T) {
	t.Parallel()
	const want = recordHead + `  "title": "step \"spring\" <1>",
` + recordWire + `  "positions": [
    {
      "at_mm": [8, 0, -3],
      "rotation_vector_deg": [0, 30, 0],
      "travel_left_mm": 3,
      "active": { "force_n": [0, 0, 0.5], "couple_nmm": [0, 0.333333333, 0] },
      "anchor": { "force_n": [0, 0, -0.5], "couple_nmm": [0, 100, 0] },
      "stress_ratio": 0.25
    },
    {
      "at_mm": [8, 0, 0],
      "rotation_vector_deg": [0, 0, 0],
      "travel_left_mm": 0,
      "active": { "force_n": [0, 0, 0], "couple_nmm": [0, 0, 0] },
      "anchor": { "force_n": [0, 0, 0], "couple_nmm": [0, 0, 0] },
      "stress_ratio": 0
    }
  ]
}
`
	got, err := casefile.WriteRecord(origin, sampleWire, sampleRecord())
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, string(got)); diff != "" {
		t.Errorf("record (-want +got):\n%s", diff)
	}
}

func TestWriteRecordIsJSONWithTheNumbersOfTheRecord(t *testing.T) {
	t.Parallel()
	type load struct {
		Force  [3]float64 `json:"force_n"`
		Couple [3]float64 `json:"couple_nmm"`
	}
	var read struct {
		Format, Program, Fingerprint string
		Version                      int
		Axes, Wire                   map[string]any
		Title                        string
		Positions                    []struct {
			At          [3]float64 `json:"at_mm"`
			Rotation    [3]float64 `json:"rotation_vector_deg"`
			Left        float64    `json:"travel_left_mm"`
			Active      load
			Anchor      load
			StressRatio float64 `json:"stress_ratio"`
		}
	}
	record := sampleRecord()
	written, err := casefile.WriteRecord(origin, sampleWire, record)
	if err != nil {
		t.Fatal(err)
	}
	d := json.NewDecoder(strings.NewReader(string(written)))
	d.DisallowUnknownFields()
	if err := d.Decode(&read); err != nil {
		t.Fatal(err)
	}
	if read.Title != record.Title || len(read.Positions) != len(record.Positions) {
		t.Fatalf("read back %+v", read)
	}
	vec := func(a [3]float64) r3.Vec { return r3.Vec{X: a[0], Y: a[1], Z: a[2]} }
	got := make([]spring.Position, len(read.Positions))
	for i, p := range read.Positions {
		got[i] = spring.Position{
			Seat:         spring.Seat{AtMM: vec(p.At), Rotation: r3.Scale(math.Pi/180, vec(p.Rotation))},
			TravelLeftMM: p.Left,
			Active:       tooth.Load{ForceN: vec(p.Active.Force), CoupleNMM: vec(p.Active.Couple)},
			Anchor:       tooth.Load{ForceN: vec(p.Anchor.Force), CoupleNMM: vec(p.Anchor.Couple)},
			StressRatio:  p.StressRatio,
		}
	}
	// Half of the last of 9 decimals.
	rounded := cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) <= 5.0001e-10 })
	if diff := cmp.Diff(record.Positions, got, rounded); diff != "" {
		t.Errorf("positions (-want +got):\n%s", diff)
	}
}

func TestWriteRecordRefusesWhatIsNotFinite(t *testing.T) {
	t.Parallel()
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		r := sampleRecord()
		r.Positions[1].Anchor.CoupleNMM.Y = bad
		out, err := casefile.WriteRecord(origin, sampleWire, r)
		if out != nil || err == nil || !strings.Contains(err.Error(), "position 2 of the record: anchor.couple_nmm") {
			t.Errorf("%v: got %q, %v", bad, out, err)
		}
	}
}

func TestWriteRecordWithoutPositions(t *testing.T) {
	t.Parallel()
	got, err := casefile.WriteRecord(origin, sampleWire, spring.Record{})
	if want := recordHead + "  \"title\": \"\",\n" + recordWire + "  \"positions\": []\n}\n"; err != nil || string(got) != want {
		t.Errorf("got %q, %v, want %q", got, err, want)
	}
}
