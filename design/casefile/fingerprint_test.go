package casefile_test

import (
	"testing"

	"springwright/design"
	"springwright/design/casefile"
)

func TestFingerprintFollowsCaseAndSettings(t *testing.T) {
	settings := design.Search{Seed: 1, LengthStepMM: 0.5, AngleStepRad: 0.01}
	base := casefile.Fingerprint([]byte("case"), settings)
	if again := casefile.Fingerprint([]byte("case"), settings); again != base || len(base) != 10 {
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
		seen[casefile.Fingerprint([]byte("case"), o)] = true
	}
	seen[casefile.Fingerprint([]byte("Case"), settings)] = true
	if len(seen) != len(others)+2 {
		t.Errorf("%d different fingerprints, want %d", len(seen), len(others)+2)
	}
}
