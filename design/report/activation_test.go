package report

import (
	"math"
	"testing"

	"springwright/design"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/design/wire"
)

// A straight wire that enters a slot 2 mm off is activated by 2 mm; what may be bent in beforehand leaves, after
// the first day, what was asked for.
func TestActivation(t *testing.T) {
	t.Parallel()
	s := spring.Spring{Path: spring.PathOf(spring.StraightStep(10))}
	s.Start.AtMM.X, s.Start.AtMM.Z, s.Positions = 10, -2, 2
	first := tooth.Load{}
	first.ForceN.Z = 0.4
	record := spring.Record{Positions: []spring.Position{{Active: first, StressRatio: 0.5}, {}}, FirstDayLoss: wire.Relaxation{Low: 0.05, High: 0.1, Source: "invented"}}
	var c design.Case
	a, ok := ActivationOf(c, s, solve.Evaluation{Record: record})
	if !ok || a.Times != ActivationTimes || math.Abs(a.Off[tooth.ForceZ]+2) > 1e-9 || a.Sets {
		t.Fatalf("%v, %+v", ok, a)
	}
	for _, side := range [...]struct{ loss, in float64 }{{0.05, a.Beforehand.Low}, {0.1, a.Beforehand.High}} {
		if after, _ := record.BentIn(side.in).AfterFirstDay(0, side.loss); math.Abs(after.ForceN.Z-0.4) > 1e-12 {
			t.Errorf("%v N after the first day, want 0.4", after.ForceN.Z)
		}
	}
	// A target whose limit is a little above the load leaves no room for more at first.
	c.Target.Start.ForceN[2] = target.Window{Min: 0.3, Max: 0.42}
	if a, _ = ActivationOf(c, s, solve.Evaluation{Record: record}); len(a.Beyond) != 1 || a.Beforehand != (spring.Band{}) {
		t.Errorf("a load beyond its target at first is bent in: %+v", a)
	}
	record.Positions[0].StressRatio = 1.2
	if _, ok = ActivationOf(c, s, solve.Evaluation{Record: record}); ok {
		t.Error("a wire that yields is tried, and nobody knows what it keeps")
	}
	s.Start.AtMM.Z = -0.2
	if _, ok = ActivationOf(c, s, solve.Evaluation{Record: record}); ok {
		t.Error("0.2 mm are tried")
	}
}

// What moved towards the slot is a share of the activation, in the directions that were read.
func TestLostOf(t *testing.T) {
	t.Parallel()
	a := Activation{Off: [tooth.Components]float64{0, 0, -2, 0, 0.2, 0}, AllowedMM: 0.2, AllowedRad: 0.02}
	l, ok := a.LostOf([]spring.EndReading{{Along: tooth.ForceZ, Off: -0.5, SD: 0.1}})
	if !ok || math.Abs(l.Share-0.25) > 1e-12 || l.Within || !math.IsNaN(l.Off[tooth.ForceX]) {
		t.Errorf("%v, %+v", ok, l)
	}
	if l, _ = a.LostOf([]spring.EndReading{{Along: tooth.ForceZ, Off: -0.1, SD: 0.1}, {Along: tooth.CoupleY, Off: 0.01, SD: 0.01}}); !l.Within || math.Abs(l.Share-0.05) > 1e-12 {
		t.Errorf("%+v", l)
	}
	if _, ok = a.LostOf(nil); ok {
		t.Error("nothing read, and something told")
	}
}
