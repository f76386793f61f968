package wire_test

import (
	"errors"
	"strings"
	"testing"

	"springwright/design/wire"
)

func TestParseSpec(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		text, alloy                string
		thickness, width, diameter float64
	}{
		{"nickel-titanium superelastic 0.014in", "superelastic nickel-titanium", 0, 0, 0.3556},
		{"superelastic nickel-titanium 0.014 in", "superelastic nickel-titanium", 0, 0, 0.3556},
		{"stainless steel 0.016x0.022in", "stainless steel", 0.4064, 0.5588, 0},
		{"Stainless_Steel .016 × .022 in", "stainless steel", 0.4064, 0.5588, 0},
		{"  beta-titanium 0.4mm ", "beta-titanium", 0, 0, 0.4},
	} {
		w, err := wire.ParseSpec(test.text)
		if err != nil {
			t.Errorf("%q: %v", test.text, err)
			continue
		}
		if w.Alloy != test.alloy || w.ThicknessMM != test.thickness || w.WidthMM != test.width || w.DiameterMM != test.diameter {
			t.Errorf("%q is %+v", test.text, w)
		}
		if alloy, _ := wire.LookUp(test.alloy); w.EMPa != alloy.EMPa.Value || w.IsSuperelastic() != alloy.IsSuperelastic() {
			t.Errorf("%q has not the constants of its alloy: %+v", test.text, w)
		}
	}
}

func TestParseSpecRefuses(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"":                              "names no wire",
		"stainless steel":               "does not end with a size",
		"stainless steel 0.016":         "does not end with a size",
		"0.016in":                       "names no alloy",
		"stainles steel 0.016in":        `did you mean "stainless steel"?`,
		"unobtainium 0.016in":           "known are ",
		"stainless steel 16in":          "has a side of 406.4 mm, allowed is 0.05 to 3 mm",
		"stainless steel 0.016x16in":    "has a side of 406.4 mm",
		"stainless steel 0mm":           "has a side of 0 mm",
		"stainless steel 0.016x0.022cm": "does not end with a size",
		"stainless steel -0.016in":      "has a '-' before its size",
	} {
		_, err := wire.ParseSpec(text)
		var spec *wire.SpecError
		if !errors.As(err, &spec) || !strings.Contains(err.Error()+": "+spec.Advice, want) {
			t.Errorf("%q: got %v, want %q", text, err, want)
		}
	}
}

// Whatever is read is a wire that can be used, and everything else is a SpecError.
func FuzzParseSpec(f *testing.F) {
	for _, seed := range []string{
		"stainless steel 0.016x0.022in", "nickel-titanium superelastic 0.014in", "beta-titanium .4mm", "x 1e9mm", "steel ×in", "0.016in",
		"cobalt-chromium 0.0000000000000000000000000000000001mm",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		w, err := wire.ParseSpec(text)
		if err != nil {
			var spec *wire.SpecError
			if !errors.As(err, &spec) || spec.Advice == "" {
				t.Fatalf("%q: %v has no advice", text, err)
			}
			return
		}
		if s := w.Section(); !(s.EI2 > 0) || !(s.GJ > 0) || w.HeightMM() > 3 {
			t.Fatalf("%q gives a wire of no use: %+v", text, w)
		}
	})
}
