package bent

import (
	"testing"

	"springwright/design/solve"
	"springwright/design/target"
)

// A spring is usable where the most likely one meets the target and half of those about it do too: one that meets
// it alone does so by luck, before a correction and after it.
func TestUsable(t *testing.T) {
	t.Parallel()
	outcome := func(met int, misses ...target.Miss) Outcome {
		return Outcome{Misses: misses, Trial: Trial{Springs: 100, Met: met}}
	}
	missed := target.Miss{}
	unfound := outcome(80)
	unfound.NoRest = solve.ErrNoContact
	for _, test := range []struct {
		name              string
		report            Report
		asBent, corrected bool
	}{
		{"meets it", Report{AsBent: outcome(50)}, true, false},
		{"meets it by luck", Report{AsBent: outcome(49)}, false, false},
		{"misses it by luck", Report{AsBent: outcome(90, missed)}, false, false},
		{"not found itself", Report{AsBent: unfound}, true, false},
		{"corrected", Report{AsBent: outcome(15, missed), One: &Corrected{Outcome: outcome(83)}}, false, true},
		{"corrected, by luck", Report{AsBent: outcome(5, missed), One: &Corrected{Outcome: outcome(15)}}, false, false},
		{"corrected at two places", Report{AsBent: outcome(5, missed), One: &Corrected{Outcome: outcome(15)}, Two: &Corrected{Outcome: outcome(60)}}, false, true},
	} {
		if asBent, corrected := test.report.Usable(); asBent != test.asBent || corrected != test.corrected {
			t.Errorf("%s: usable %v, corrected %v; want %v, %v", test.name, asBent, corrected, test.asBent, test.corrected)
		}
	}
}
