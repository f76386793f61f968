package casefile_test

import (
	"math"
	"strings"
	"testing"

	"springwright/design/casefile"
)

func TestReadBands(t *testing.T) {
	t.Parallel()
	bands, err := casefile.ReadBands("b.toml", []byte("below = \"5\"\n[1]\nangle_deg = 2\nlength_mm = 0.4\nmeets_target = true\n[2]\nangle_deg = 4\nlength_mm = \"1mm\"\n"))
	if err != nil {
		t.Fatal(err)
	}
	if bands.Below != "5" || len(bands.List) != 2 || bands.List[0].Grade != "1" || !bands.List[0].Met || bands.List[1].Met || math.Abs(bands.List[1].AngleRad-4*math.Pi/180) > 1e-12 || bands.List[1].LengthMM != 1 {
		t.Errorf("%+v", bands)
	}
	for text, want := range map[string]string{
		"":                                   "holds no grade",
		"[A]\nangle_deg = 2\n":               "A.length_mm: is missing",
		"[A]\nangle_deg = -2\nlength_mm = 1": "A.angle_deg: ",
		"[A]\nangle_deg = 5\nlength_mm = 1\n[B]\nangle_deg = 2\nlength_mm = 2": "grade \"B\" is narrower",
		"A = 3":                             "A: is a number, not a table",
		"[A]\nangel_deg = 2\nlength_mm = 1": "did you mean angle_deg?",
		"[AAAAAAAAAAAAAA]\nangle_deg = 2":   "is too long for a grade",
		"[A]\nangle_deg = 2\nlength_mm = 1\nmeets_target = \"yes\"": "meets_target: is a text, not true or false",
	} {
		if _, err := casefile.ReadBands("b.toml", []byte(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}

func FuzzReadBands(f *testing.F) {
	f.Add([]byte("below = \"F\"\n[A]\nangle_deg = 2.5\nlength_mm = 0.5\n"))
	f.Add([]byte("[A.B]\n[[C]]\nD = { angle_deg = \"2deg\", length_mm = 1 }"))
	f.Fuzz(func(t *testing.T, data []byte) {
		bands, err := casefile.ReadBands("f", data)
		if err != nil {
			checkFaults(t, err)
			return
		}
		for _, b := range bands.List {
			checkFinite(t, b.AngleRad, b.LengthMM)
		}
	})
}
