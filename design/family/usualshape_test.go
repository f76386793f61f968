package family_test

import (
	"math"
	"testing"

	"springwright/design"
	"springwright/design/designtest"
)

// With the lengths alike that are alike in its kind's own shape, and no pre-activation, a loop has
// level legs; each pair is needed for that or is a pair of arms.
func TestOwnShapeHasLevelLegs(t *testing.T) {
	t.Parallel()
	loops := 0
	for _, f := range design.Families() {
		c := designtest.FamilyCase(f)
		p := designtest.FamilyPattern(t, c)
		if len(p.Alike) == 0 {
			continue
		}
		loops++
		x := designtest.PlainValues(p)
		for _, a := range p.Alike {
			one, other := p.Freedoms[a.One], p.Freedoms[a.Other]
			if one.Angle || other.Angle {
				t.Errorf("%s: %s and %s are no lengths", f.Name, one.Name, other.Name)
			}
			x[a.Other] = 3 // not what it is by chance
			x[a.One] = x[a.Other] + a.MoreMM
		}
		if end := designtest.UnloadedEndOf(p.StepsFor(x)); math.Abs(end.At.Z) > 1e-9 {
			t.Errorf("%s: one leg lies %v mm above the other", f.Name, end.At.Z)
		}
		for _, free := range p.Freedoms {
			if free.UsualMax != 0 && !(free.UsualMin >= 0 && free.UsualMin <= free.UsualMax && free.UsualMin <= free.Max && free.UsualMax >= free.Min) {
				t.Errorf("%s: usual for %s is %v to %v mm, allowed %v to %v", f.Name, free.Name, free.UsualMin, free.UsualMax, free.Min, free.Max)
			}
		}
	}
	if loops < 5 {
		t.Errorf("only %d kinds have lengths that are alike", loops)
	}
}
