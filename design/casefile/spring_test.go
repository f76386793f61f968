package casefile_test

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"springwright/design/casefile"
	"springwright/design/solve"
	"springwright/design/spring"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
)

const stepSpring = `title = "step spring"
path = [
  { straight_mm = 2.0 },
  { bend_deg = 90, radius_mm = 0.6 },
  { bend_deg = -12, radius_mm = 0.6, order = 1 },
  { twist_deg = 15, over_mm = 2.0 },
  { straight_mm = 3.0 },
]

[wire]
alloy = "beta-titanium"
thickness_mm = 0.4318
width_mm = 0.635

[anchor]
slot_length_mm = 4.0

[active]
slot_length_mm = 3.5
heading = "back"
start = { at_mm = [8.0, 0.0, -3.0], tip_deg = 1, torque_deg = -2, rotation_deg = 3 }
end   = { at_mm = [8.0, 0.0,  0.0] }
positions = 7
`

// near allows for the rounding of a conversion of degrees.
var near = cmp.Comparer(func(a, b float64) bool {
	return a == b || math.Abs(a-b) <= 1e-13*max(math.Abs(a), math.Abs(b))
})

func TestReadSpring(t *testing.T) {
	t.Parallel()
	degree := math.Pi / 180
	want := spring.Spring{
		Title: "step spring",
		Path: spring.PathOf(
			spring.StraightStep(2),
			spring.BendStep(math.Pi/2, 0.6),
			spring.Step{Kind: spring.Bend, AngleRad: -12 * degree, RadiusMM: 0.6, Order: 1},
			spring.Step{Kind: spring.Twist, AngleRad: 15 * degree, LengthMM: 2},
			spring.StraightStep(3),
		),
		AnchorSlotLengthMM: 4,
		ActiveSlotLengthMM: 3.5,
		Heading:            spring.Back,
		Start:              spring.Seat{AtMM: r3.Vec{X: 8, Z: -3}, Rotation: r3.Vec{X: -2 * degree, Y: degree, Z: 3 * degree}},
		End:                spring.Seat{AtMM: r3.Vec{X: 8}},
		Positions:          7,
	}
	want.Wire.Alloy, want.Wire.EMPa, want.Wire.Poisson, want.Wire.YieldMPa = "beta-titanium", 65000, 0.30, 900
	want.Wire.ThicknessMM, want.Wire.WidthMM = 0.4318, 0.635

	got, err := casefile.ReadSpring("spring.toml", []byte(stepSpring))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, got, near, cmp.AllowUnexported(spring.Path{})); diff != "" {
		t.Errorf("spring (-want +got):\n%s", diff)
	}
}

func TestReadSpringTakesUnitsAndReplacesConstants(t *testing.T) {
	t.Parallel()
	text := strings.NewReplacer(
		`thickness_mm = 0.4318`, `thickness_mm = "0.017in"`,
		`width_mm = 0.635`, "width_mm = '0.025 in'\ne_gpa = \"69000 MPa\"\ntangent_mpa = 6500\ncorner_radius_mm = 0.05",
		`bend_deg = 90`, `bend_deg = "90°"`,
		"\n", "\r\n",
	).Replace(stepSpring)
	got, err := casefile.ReadSpring("spring.toml", []byte("\ufeff"+text))
	if err != nil {
		t.Fatal(err)
	}
	w := got.Wire
	if !cmp.Equal([]float64{w.ThicknessMM, w.WidthMM, w.EMPa, w.Poisson, w.TangentMPa, w.CornerRadiusMM}, []float64{0.4318, 0.635, 69000, 0.30, 6500, 0.05}, near) {
		t.Errorf("wire is %+v", w)
	}
	if a := got.Path.Steps()[1].AngleRad; !cmp.Equal(a, math.Pi/2, near) {
		t.Errorf("bend is %v, want π/2", a)
	}
}

// Nominal sizes stand for real ones where a file says so; the file that is written has the real
// ones in numbers, and old files give what they gave.
func TestSpringOfRealSizes(t *testing.T) {
	t.Parallel()
	const slot = "height_mm = \"0.018in\"\nslot_length_mm = "
	sized := func(word string) string {
		return strings.NewReplacer("width_mm = 0.635", "width_mm = 0.635\n"+word, "slot_length_mm = ", word+"\n"+slot).Replace(stepSpring)
	}
	plain, err := casefile.ReadSpring("spring.toml", []byte(sized("")))
	if err != nil {
		t.Fatal(err)
	}
	nominal, err := casefile.ReadSpring("spring.toml", []byte(sized(`size = "nominal"`)))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(plain, nominal, cmp.AllowUnexported(spring.Path{})); diff != "" || plain.Wire.CornerRadiusMM != 0 || !cmp.Equal(plain.AnchorHold.HeightMM, 0.4572, near) {
		t.Errorf("nominal (-left out +said):\n%s\n%+v", diff, plain)
	}
	real, err := casefile.ReadSpring("spring.toml", []byte(sized(`size = "real"`)))
	if err != nil {
		t.Fatal(err)
	}
	if real.Wire != plain.Wire.RealSize() || real.AnchorHold.HeightMM != 0.476 || real.ActiveHold.HeightMM != 0.476 {
		t.Errorf("real: %+v, %+v, %+v", real.Wire, real.AnchorHold, real.ActiveHold)
	}
	again, err := casefile.ReadSpring("spring.toml", casefile.WriteSpring(real))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(real, again, near, cmp.AllowUnexported(spring.Path{})); diff != "" {
		t.Errorf("written and read again (-want +got):\n%s", diff)
	}
}

// A size written in inches is a name in a case, and stands for what wires and slots of that name
// measure unless the case says otherwise; one in millimetres was measured.
func TestCaseOfRealSizes(t *testing.T) {
	t.Parallel()
	const edges = 0.22 * 0.4318
	for _, row := range []struct {
		name, wire, slot     string
		radiusMM, slotMM     float64
		thicknessMM, widthMM float64
	}{
		{"names", "", "", edges, 0.559, 0.4318, 0.635},
		{"real", "\nsize = \"real\"", "\nsize = \"real\"", edges, 0.559, 0.4318, 0.635},
		{"nominal", "\nsize = \"nominal\"", "\nsize = \"nominal\"", 0, 0.5588, 0.4318, 0.635},
		{"own edges", "\ncorner_radius_mm = 0.05", "", 0.05, 0.559, 0.4318, 0.635},
	} {
		text := strings.NewReplacer("width_mm = \"0.025in\"", "width_mm = \"0.025in\""+row.wire, "length_mm = 4.0", "length_mm = 4.0"+row.slot).Replace(molarCase)
		c, err := casefile.ReadCase("case.toml", []byte(text))
		if err != nil {
			t.Errorf("%s: %v", row.name, err)
			continue
		}
		if math.Abs(c.Wire.CornerRadiusMM-row.radiusMM) > 1e-12 || math.Abs(c.AnchorSlot.HeightMM-row.slotMM) > 1e-12 || c.Wire.ThicknessMM != row.thicknessMM || c.Wire.WidthMM != row.widthMM {
			t.Errorf("%s: %+v, %+v", row.name, c.Wire, c.AnchorSlot)
		}
	}
	measured := strings.NewReplacer(`thickness_mm = "0.017in"`, "thickness_mm = 0.4318", `height_mm = "0.022in"`, "height_mm = 0.5588").Replace(molarCase)
	c, err := casefile.ReadCase("case.toml", []byte(measured))
	if err != nil {
		t.Fatal(err)
	}
	if c.Wire.CornerRadiusMM != 0 || c.AnchorSlot.HeightMM != 0.5588 {
		t.Errorf("as measured: %+v, %+v", c.Wire, c.AnchorSlot)
	}
}

// What the bends hold is written and read, and says nothing where it was left out before.
func TestSpringTellsWhatItsBendsHold(t *testing.T) {
	t.Parallel()
	for word, relieved := range map[string]bool{"as bent": false, "stress-relieved": true, "": false} {
		text := stepSpring
		if word != "" {
			text = strings.Replace(text, "width_mm = 0.635", "width_mm = 0.635\nbends = \""+word+"\"", 1)
		}
		got, err := casefile.ReadSpring("spring.toml", []byte(text))
		if err != nil || got.Wire.StressRelieved != relieved {
			t.Fatalf("%q: stress-relieved %v, %v", word, got.Wire.StressRelieved, err)
		}
		written := casefile.WriteSpring(got)
		again, err := casefile.ReadSpring("spring.toml", written)
		if err != nil || again.Wire.StressRelieved != relieved || bytes.Contains(written, []byte("bends =")) != relieved {
			t.Errorf("%q: written and read again %v, %v\n%s", word, again.Wire.StressRelieved, err, written)
		}
	}
}

func TestReadSpringDefaults(t *testing.T) {
	t.Parallel()
	got, err := casefile.ReadSpring("spring.toml", []byte(`path = [{ straight_mm = 10 }]
wire = { e_gpa = 200, poisson = 0.3, yield_mpa = 1400, diameter_mm = 0.4 }
active = { heading = "on", start = { at_mm = [10, 0, 1] }, positions = 1 }
`))
	if err != nil {
		t.Fatal(err)
	}
	if got.Title != "" || got.AnchorSlotLengthMM != 0 || got.ActiveSlotLengthMM != 0 || got.End != got.Start || got.Wire.Alloy != "" || !got.Wire.Round() {
		t.Errorf("defaults: got %+v", got)
	}
}

func TestWriteSpringStandsAloneAndReturns(t *testing.T) {
	t.Parallel()
	first, err := casefile.ReadSpring("spring.toml", []byte(stepSpring))
	if err != nil {
		t.Fatal(err)
	}
	first.Title = `with "quotes" and \ and ü`
	first.Start.AtMM.Y = 1.0 / 3
	steps := first.Path.Steps()
	steps[1].AngleRad = 1
	first.Path = spring.PathOf(steps...)
	written := casefile.WriteSpring(first)
	for _, want := range []string{"e_gpa = 65\n", "poisson = 0.3\n", "yield_mpa = 900\n"} {
		if !bytes.Contains(written, []byte(want)) {
			t.Errorf("%q is missing in\n%s", want, written)
		}
	}
	again, err := casefile.ReadSpring("spring.toml", written)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(first, again, near, cmp.AllowUnexported(spring.Path{})); diff != "" {
		t.Errorf("written and read again (-want +got):\n%s", diff)
	}
	if twice := casefile.WriteSpring(again); !bytes.Equal(written, twice) {
		t.Errorf("the second writing differs:\n%s\n%s", written, twice)
	}
}

// A wire is the same in whatever steps a file tells of it: with steps that do nothing it is read,
// slides and is solved as without them.
func TestStepsThatDoNothingChangeNothing(t *testing.T) {
	t.Parallel()
	recordOf := func(steps string) spring.Record {
		t.Helper()
		spring, err := casefile.ReadSpring("spring.toml", []byte("slide = \"active\"\npath = ["+steps+`]
wire = { alloy = "beta-titanium", thickness_mm = 0.4318, width_mm = 0.635 }
[active]
slot_length_mm = 3.5
heading = "on"
start = { at_mm = [11.5, 0.0, 4.0] }
end = { at_mm = [11.5, 0.0, 5.5] }
positions = 3
`))
		if err != nil {
			t.Fatal(err)
		}
		e, err := solve.Evaluate(t.Context(), spring, solve.Options{AllowYield: true})
		if err != nil {
			t.Fatal(err)
		}
		return e.Record
	}
	want := recordOf("{ straight_mm = 3 }, { bend_deg = 60, radius_mm = 0.97 }, { straight_mm = 7 }, { bend_deg = -60, radius_mm = 0.97 }, { straight_mm = 4 }")
	got := recordOf("{ straight_mm = 2 }, { bend_deg = 0, radius_mm = 0.97 }, { straight_mm = 1 }, { bend_deg = 60, radius_mm = 0.97 }, { straight_mm = 5 }, { twist_deg = 0, over_mm = 2 }, { bend_deg = -60, radius_mm = 0.97 }, { straight_mm = 4 }, { straight_mm = 0 }")
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-tidy +untidy):\n%s", diff)
	}
}
