package optimize

import (
	"math"
	"testing"

	"springwright/design"
)

// A target at the centre of resistance asks for another couple at the slot: the force
// times the centre's distance from it.
func TestTargetAtTheCentreOfResistance(t *testing.T) {
	t.Parallel()
	c := demoCase(t)
	c.Target.AtResistance = true
	// The couple at the slot has to fall with the force, which is more than to keep it at
	// nothing: windows a little wider than the demo's.
	tip := within(0, 0.8)
	c.Target.Travel.ForceN[0] = within(0, 0.1)
	c.Target.Travel.CoupleNMM = [3]design.Window{design.FreeWindow(), tip, design.FreeWindow()}
	r := search(t, c, Options{})
	if !r.Met() {
		t.Fatalf("misses %v, exceeded %v", r.Misses, r.Exceeded)
	}
	arm := c.Resistance.Active.DistalMM
	for i, p := range r.Evaluation.Record.Positions {
		// A lower left second molar does not turn here: the offset stays, and lies along +x.
		judged := p.Active.CoupleNMM.Y - (c.Resistance.Active.ApicalMM*p.Active.ForceN.X - arm*p.Active.ForceN.Z)
		if judged < tip.Min || judged > tip.Max {
			t.Errorf("position %d: %v N·mm at the centre of resistance, outside %v to %v", i, judged, tip.Min, tip.Max)
		}
	}
	if first := r.Evaluation.Record.Positions[0].Active; math.Abs(first.CoupleNMM.Y) < 0.5*arm*first.ForceN.Z {
		t.Errorf("the couple at the slot is %v N·mm with %v N: no other than for a target there", first.CoupleNMM.Y, first.ForceN.Z)
	}
}
