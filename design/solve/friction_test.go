package solve

import (
	"context"
	"math"
	"testing"

	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// Two slots at different heights, the wire across them straight: the couples and forces of the
// clamped beam are known, and with them what friction bears. Slots without play carry a couple by two
// forces at their edges.
func TestFrictionOfAStraightWire(t *testing.T) {
	t.Parallel()
	s := straightSpring()
	s.AnchorHold, s.ActiveHold = spring.SlotHold{}, spring.SlotHold{}
	s.Wire.Alloy = "beta-titanium"
	const offMM = 0.02
	s.Start.AtMM.Z = offMM
	bands, err := Frictions(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	// Clamped at the rims of the slots: the force is 12 EI off/L³ (1 + φ)⁻¹, the couple about the centre
	// of the active slot that force times half the wire and half the slot.
	section, length := s.Wire.Section(), s.Path.WireLengthMM()
	phi := 12 * section.EI2 / (section.GA3 * length * length)
	force := 12 * section.EI2 * offMM / (length * length * length * (1 + phi))
	couple := force * (length + s.ActiveSlotLengthMM) / 2
	want := 0.5 * math.Max(couple/(s.ActiveSlotLengthMM/2), force)
	within(t, "force that friction bears", bands[0].AxialN, want, 1e-4*want) // squares of the angles
	within(t, "widest force along the wire", bands[0].Active.Highest.ForceN.X-bands[0].Active.Lowest.ForceN.X, 2*want, 4e-3*want)
}

// The band of a loop that slides holds the loads without friction, is as wide as friction bears
// along the wire, and closes where the coefficient goes.
func TestFrictionBandHoldsTheSmoothLoads(t *testing.T) {
	t.Parallel()
	s := inTubes(intrudingLoop(), 0)
	s.Slide, s.Positions, s.Wire.Alloy = spring.SlideActive, 3, "beta-titanium"
	smooth := evaluated(t, s)
	titanium, err := Frictions(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	s.Wire.Alloy = "stainless steel" // the coefficient alone changes
	steel, err := Frictions(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	const rounding = 1e-7
	inside := func(what string, l tooth.Load, b LoadBand) {
		for _, pair := range [][3]r3.Vec{{b.Lowest.ForceN, l.ForceN, b.Highest.ForceN}, {b.Lowest.CoupleNMM, l.CoupleNMM, b.Highest.CoupleNMM}} {
			if over := r3.Sub(pair[1], pair[2]); math.Max(over.X, math.Max(over.Y, over.Z)) > rounding {
				t.Errorf("%s: %+v above %+v", what, l, b.Highest)
			}
			if under := r3.Sub(pair[0], pair[1]); math.Max(under.X, math.Max(under.Y, under.Z)) > rounding {
				t.Errorf("%s: %+v below %+v", what, l, b.Lowest)
			}
		}
	}
	for i, p := range smooth.Record.Positions {
		inside("active", p.Active, titanium[i].Active)
		inside("anchor", p.Anchor, titanium[i].Anchor)
		if a, b := steel[i].Active, titanium[i].Active; a.Lowest.ForceN.X < b.Lowest.ForceN.X-rounding || a.Highest.ForceN.X > b.Highest.ForceN.X+rounding {
			t.Errorf("along the wire: steel %+v, titanium %+v", a, b)
		}
		t.Logf("position %d: friction bears %.3f N; %+v to %+v", i+1, titanium[i].AxialN, titanium[i].Active.Lowest, titanium[i].Active.Highest)
	}
	if !(titanium[0].AxialN > 0.1) {
		t.Errorf("friction bears %g N", titanium[0].AxialN)
	}
	s.Slide = spring.NoSlide
	if bands, err := Frictions(context.Background(), s); bands != nil || err != nil {
		t.Errorf("a cinched wire: %v, %v", bands, err)
	}
}
