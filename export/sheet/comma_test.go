package sheet

import "testing"

func TestDecimalCommas(t *testing.T) {
	for text, want := range map[string]string{
		"0.43 N (44 gf); 0.32 to 0.54 N.": "0,43 N (44 gf); 0,32 to 0,54 N.",
		"±0.5 mm, −12.5°":                 "±0,5 mm, −12,5°",
		"0.017×0.025 in":                  "0,017×0,025 in",
		"(0.017 × 0.025 in)":              "(0,017 × 0,025 in)",
		"springwright 0.1.0 · 2026-11-24": "springwright 0.1.0 · 2026-11-24",
		"a-1.2 and case3.4":               "a-1.2 and case3.4",
		"2.5:1":                           "2,5:1",
		"The end. 5 mm.":                  "The end. 5 mm.",
	} {
		if got := withCommas(text); got != want {
			t.Errorf("%q became %q, want %q", text, got, want)
		}
	}
}

// Texts are measured before their points become commas.
func TestCommaIsAsWideAsPoint(t *testing.T) {
	doc, err := NewDocument(100, 100)
	if err != nil {
		t.Fatal(err)
	}
	for _, bold := range [...]bool{false, true} {
		s := Style{SizePt: BodyPt, Bold: bold}
		if a, b := doc.WidthOf(",", s), doc.WidthOf(".", s); a != b {
			t.Errorf("bold %v: a comma is %v mm wide, a point %v mm", bold, a, b)
		}
	}
}
