package optimize

import (
	"testing"

	"springwright/presets"
)

// Every preset is one that a hand can bend: of 400 springs bent in trial, really seated, four of five meet the target.
// The estimate is good to 2 % (one standard deviation of 400 draws at 0.8); the presets were chosen to lie well above.
func TestEveryPresetIsBentByHand(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("long: 400 springs of every preset")
	}
	const least = 0.8
	for _, name := range presets.Names() {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			c := presetCase(t, name)
			c.Bender.Springs = 400
			r, err := SearchChoices(t.Context(), c, Options{})
			if err != nil {
				t.Fatal(err)
			}
			if !r.Met() {
				t.Errorf("misses its target: %v, %v", r.Misses, r.Exceeded)
			}
			spread := r.Robust.Spread
			t.Logf("%d of %d meet the target (%.0f to %.0f %%)", spread.Met, spread.Springs, 100*spread.Low, 100*spread.High)
			if spread.Springs != 400 || spread.Share() < least {
				t.Errorf("%d of %d bent springs meet the target, want %.0f %%", spread.Met, spread.Springs, 100*least)
			}
		})
	}
}
