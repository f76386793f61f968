package target_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/target"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// A force towards +x and a couple about +y, which takes the crown towards −x and the root
// towards +x, make a positive ratio; it keeps its sign when both turn.
func TestRatioIsPositiveWhereTheRootGoesWithTheForce(t *testing.T) {
	t.Parallel()
	for _, sign := range []float64{1, -1} {
		var wanted target.Target
		wanted.Travel.ForceN[0] = target.Window{Min: min(sign*0.2, sign), Max: max(sign*0.2, sign)}
		wanted.MomentToForceMM = target.Window{Min: 5, Max: 9}
		at := func(forceN, coupleNMM float64) float64 {
			return wanted.Value(target.MomentToForce, target.Judged{Active: tooth.Load{ForceN: r3.Vec{X: forceN}, CoupleNMM: r3.Vec{Y: coupleNMM}}})
		}
		if got := at(sign*0.5, sign*3.5); math.Abs(got-7) > 1e-12 {
			t.Errorf("sign %v: ratio %v mm, want 7", sign, got)
		}
		// Below half of the least force asked for, the ratio is taken over that half.
		for _, force := range []float64{sign * 0.05, 0, -sign * 0.3} {
			if got := at(force, sign*3.5); math.Abs(got-35) > 1e-9 {
				t.Errorf("sign %v, force %v N: ratio %v mm, want 35", sign, force, got)
			}
		}
	}
}

func TestRatioAndRateAreAskedForWhereTheyMakeSense(t *testing.T) {
	t.Parallel()
	wanted := target.Target{ForceUntilMM: 0.5, MaxRateNPerMM: 0.3, MomentToForceMM: target.Window{Min: 5, Max: 9}}
	wanted.Anchor.ForceN[2] = target.Window{Min: -0.4, Max: math.Inf(1)}
	if w := wanted.WindowAt(target.MomentToForce, 2, false); !w.Free() {
		t.Errorf("a ratio without a force along the arch is asked to be %+v", w)
	}
	wanted.Travel.ForceN[0] = target.Window{Min: 0.2, Max: 1}
	for _, test := range []struct {
		q       target.Quantity
		leftMM  float64
		atStart bool
		asked   bool
	}{
		{target.MomentToForce, 2, false, true},
		{target.MomentToForce, 0.4, false, false},
		{target.MomentToForce, 2, true, false},
		{target.Rate, 0, false, true},
		{target.Rate, 1, false, false},
		{target.OfAnchor(tooth.ForceZ), 1, false, true},
		{target.OfAnchor(tooth.ForceZ), 1, true, false},
		{target.OfAnchor(tooth.ForceZ), 0.2, false, false},
		{target.OfAnchor(tooth.CoupleY), 1, false, false},
	} {
		if got := !wanted.WindowAt(test.q, test.leftMM, test.atStart).Free(); got != test.asked {
			t.Errorf("quantity %d, %v mm left, start %v: asked for %v, want %v", test.q, test.leftMM, test.atStart, got, test.asked)
		}
	}
}

func TestEveryQuantityHasAComponentOrAName(t *testing.T) {
	t.Parallel()
	c := design.Case{Teeth: tooth.Pair{Anchor: 36, Active: 37}}
	seen := map[string]bool{}
	for q := range target.Quantities {
		name := c.QuantityName(q, 1, fmt.Sprintf)
		if seen[name] {
			t.Errorf("%q names two quantities", name)
		}
		seen[name] = true
		if k, anchor, ok := q.Component(); ok && (anchor && target.OfAnchor(k) != q || !anchor && target.OfActive(k) != q) {
			t.Errorf("quantity %d is component %d, anchor %v", q, k, anchor)
		}
	}
	if name, sign := naming(c, target.OfAnchor(tooth.ForceZ), -0.3); name != "extrusive force on anchor tooth 36" || sign != -1 {
		t.Errorf("%q with sign %v", name, sign)
	}
	c.Teeth.Active = 33 // +x is mesial, +y lingual
	if name, _ := naming(c, target.OfActive(tooth.ForceY), -0.3); name != "labial force" {
		t.Errorf("%q on the canine", name)
	}
	if name, _ := naming(c, target.OfAnchor(tooth.ForceY), -0.3); name != "buccal force on anchor tooth 36" {
		t.Errorf("%q on its anchor", name)
	}
	c.Target.AtResistance = true
	if name, _ := naming(c, target.OfAnchor(tooth.CoupleY), -1); name != "crown-distal couple on anchor tooth 36 at the centre of resistance" && name != "crown-mesial couple on anchor tooth 36 at the centre of resistance" {
		t.Errorf("%q", name)
	}
}

// A load is named by the sense in which the target asks for it, whatever its value: one that
// fails to be distal has a value below 0 beside a window above it.
func TestNamesFollowTheTarget(t *testing.T) {
	t.Parallel()
	c := design.Case{Teeth: tooth.Pair{Anchor: 15, Active: 13}} // +x is mesial
	asked := func(low, high float64) design.Case {
		c := c
		c.Target.Travel.ForceN[0] = target.Window{Min: low, Max: high}
		c.Target.Anchor.ForceN[0] = target.Window{Min: low, Max: high}
		return c
	}
	inf := math.Inf(1)
	for _, test := range []struct {
		low, high, value float64
		active, anchor   string
	}{
		{-1.5, -0.8, -1.1, "distal force", "distal force on anchor tooth 15"},
		{-1.5, -0.8, 0.1, "distal force", "distal force on anchor tooth 15"},
		{-inf, 0, -1.1, "distal force", "distal force on anchor tooth 15"},
		{0.1, inf, -0.1, "mesial force", "mesial force on anchor tooth 15"},
		{-0.2, 0.2, -0.1, "mesial force", "distal force on anchor tooth 15"},
		{-inf, 0.2, 0.1, "mesial force", "mesial force on anchor tooth 15"},
	} {
		c := asked(test.low, test.high)
		for q, want := range map[target.Quantity]string{target.OfActive(tooth.ForceX): test.active, target.OfAnchor(tooth.ForceX): test.anchor} {
			name, sign := naming(c, q, test.value)
			if wantSign := map[bool]float64{true: 1, false: -1}[strings.HasPrefix(want, "mesial")]; name != want || sign != wantSign {
				t.Errorf("asked %v to %v, is %v: %v %q, want %q", test.low, test.high, test.value, sign, name, want)
			}
		}
	}
}

// naming is the name of a quantity whose value is shown by SignOf, and that sign.
func naming(c design.Case, q target.Quantity, value float64) (name string, sign float64) {
	sign = c.SignOf(q, value)
	return c.QuantityName(q, sign, fmt.Sprintf), sign
}
