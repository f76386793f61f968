package main

import (
	"testing"
	"time"

	"springwright/design"
)

func TestSheetDate(t *testing.T) {
	today := time.Date(2026, 3, 4, 23, 30, 0, 0, time.UTC)
	for _, c := range []struct {
		epoch string
		set   bool
		want  string // "" for an error
	}{
		{"", false, "2026-03-04"},
		{"0", true, "1970-01-01"},
		{"1767225600", true, "2026-01-01"},
		{"", true, ""},
		{"yesterday", true, ""},
		{"12 March", true, ""},
		{"-1", true, ""},
	} {
		lookup := func(string) (string, bool) { return c.epoch, c.set }
		got, err := sheetDate(lookup, func() time.Time { return today })
		if (err != nil) != (c.want == "") || got != c.want {
			t.Errorf("SOURCE_DATE_EPOCH %q (set %v): %v, %v, want %q", c.epoch, c.set, got, err, c.want)
		}
	}
}

func TestFingerprintFollowsCaseAndSettings(t *testing.T) {
	settings := design.Search{Seed: 1, LengthStepMM: 0.5, AngleStepRad: 0.01}
	base := fingerprint([]byte("case"), settings)
	if again := fingerprint([]byte("case"), settings); again != base || len(base) != 10 {
		t.Errorf("fingerprints %q and %q of one case, want one of 10 digits", base, again)
	}
	seen := map[string]bool{base: true}
	others := []design.Search{
		{Seed: 2, LengthStepMM: 0.5, AngleStepRad: 0.01},
		{Seed: 1, LengthStepMM: 0.25, AngleStepRad: 0.01},
		{Seed: 1, LengthStepMM: 0.5, AngleStepRad: 0.02},
		{Seed: 1, LengthStepMM: 0.5, AngleStepRad: 0.01, Starts: 3},
	}
	for _, o := range others {
		seen[fingerprint([]byte("case"), o)] = true
	}
	seen[fingerprint([]byte("Case"), settings)] = true
	if len(seen) != len(others)+2 {
		t.Errorf("%d different fingerprints, want %d", len(seen), len(others)+2)
	}
}
