package optimize

import (
	"testing"

	"springwright/design/target"
	"springwright/design/tooth"
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
	c.Target.Travel.CoupleNMM = [3]target.Window{target.FreeWindow(), tip, target.FreeWindow()}
	r := search(t, c, Options{})
	if !r.Met() {
		t.Fatalf("misses %v, exceeded %v", r.Misses, r.Exceeded)
	}
	// A lower left second molar that does not turn: the offset stays, and lies along +x.
	judged := func(l tooth.Load) float64 {
		return l.CoupleNMM.Y - c.Resistance.Active.ApicalMM*l.ForceN.X + c.Resistance.Active.DistalMM*l.ForceN.Z
	}
	for i, p := range r.Evaluation.Record.Positions {
		if couple := judged(p.Active); couple < tip.Min || couple > tip.Max {
			t.Errorf("position %d: %v N·mm at the centre of resistance, outside %v to %v", i, couple, tip.Min, tip.Max)
		}
	}

	c.Target.AtResistance = false
	atSlot := search(t, c, Options{})
	if couple := judged(atSlot.Evaluation.Record.Positions[0].Active); couple >= tip.Min && couple <= tip.Max {
		t.Errorf("a spring for the same window at the slot has %v N·mm at the centre of resistance, too: the case tells nothing", couple)
	}
}
