package casefile_test

import (
	"fmt"
	"math"
	"testing"

	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/spring"
	"springwright/design/tooth"
)

// Where the free end lies is said in words of the mouth: apical is +z, mesial and buccal as the teeth stand,
// and a turn that is anticlockwise for somebody at the cheek is one about the axis that points there; from
// the biting side that axis is −z, for somebody who looks along the arch −x.
func TestMeasuredEndInTheWordsOfTheMouth(t *testing.T) {
	t.Parallel()
	made, err := casefile.ReadSpring("s", []byte(stepSpring))
	if err != nil {
		t.Fatal(err)
	}
	const degree = math.Pi / 180
	for _, quadrant := range [...]tooth.Number{10, 20, 30, 40} {
		for _, pair := range [...]tooth.Pair{{Anchor: quadrant + 6, Active: quadrant + 7}, {Anchor: quadrant + 6, Active: quadrant + 3}} {
			made.Teeth = pair
			for _, test := range [...]struct {
				key   string
				along tooth.Component
				want  float64
			}{
				{"end_apical_mm", tooth.ForceZ, 1},
				{"end_occlusal_mm", tooth.ForceZ, -1},
				{"end_mesial_mm", tooth.ForceX, pair.MesialSign()},
				{"end_distal_mm", tooth.ForceX, -pair.MesialSign()},
				{"end_buccal_mm", tooth.ForceY, pair.BuccalSign()},
				{"end_palatal_mm", tooth.ForceY, -pair.BuccalSign()},
				{"end_anticlockwise_deg", tooth.CoupleY, degree * pair.BuccalSign()},
				{"end_clockwise_deg", tooth.CoupleY, -degree * pair.BuccalSign()},
				{"end_anticlockwise_from_biting_side_deg", tooth.CoupleZ, -degree},
				{"end_clockwise_along_arch_deg", tooth.CoupleX, degree},
			} {
				m, err := casefile.ReadMeasured("m.toml", fmt.Appendf(nil, "%s = 1", test.key), made, design.SkilledBender(), nil)
				if err != nil {
					t.Fatalf("%v, %s: %v", pair, test.key, err)
				}
				if len(m.End) != 1 || m.End[0].Along != test.along || math.Abs(m.End[0].Off-test.want) > 1e-15 {
					t.Errorf("%v, %s: %+v, want %v along %v", pair, test.key, m.End, test.want, test.along)
				}
			}
		}
	}
}

// Angles are read without a sign, in the sense that is drawn, and every form reads back as it is drawn.
func TestMeasuredFormReadsBackAsDrawn(t *testing.T) {
	t.Parallel()
	made, err := casefile.ReadSpring("s", []byte(stepSpring))
	if err != nil {
		t.Fatal(err)
	}
	steps := made.Path.Steps()
	keys := casefile.StepKeys(made.Path)
	var toml []byte
	table := []byte("name;measured\n")
	for i, s := range steps {
		value := s.LengthMM
		if s.Kind != spring.Straight {
			value = math.Abs(s.AngleRad) * 180 / math.Pi
		}
		toml = fmt.Appendf(toml, "%s = %v\n", keys[i], value)
		table = fmt.Appendf(table, "%s;%v\n", keys[i], value)
	}
	for name, data := range map[string][]byte{"m.toml": toml, "m.csv": table} {
		m, err := casefile.ReadMeasured(name, data, made, design.Bender{}, nil)
		if err != nil {
			t.Fatal(err)
		}
		if len(m.Steps) != len(steps) {
			t.Fatalf("%s: %d readings of %d steps", name, len(m.Steps), len(steps))
		}
		for i, r := range m.Steps {
			want := steps[i].LengthMM
			if steps[i].Kind != spring.Straight {
				want = steps[i].AngleRad
			}
			if r.Step != i || math.Abs(r.Value-want) > 1e-12 || !(r.SD > 0) {
				t.Errorf("%s, %s: %+v, want %v", name, keys[i], r, want)
			}
		}
	}
}
