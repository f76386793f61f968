package effect

import (
	"math"
	"testing"

	"springwright/design"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/design/wire"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
)

// Figures made up so that each saying is true in some, all or none of them.
func TestSayingsFollowTheFigures(t *testing.T) {
	t.Parallel()
	wire := func(data WireData, back bool, leftMM, forceN, coupleNMM, momentNMM float64) StraightFigure {
		return StraightFigure{StraightState{Data: data, LetBack: back}, leftMM, ArguedLoads{
			ForceN: forceN, AnchorForceN: forceN, ActiveCoupleNMM: 2, AnchorCoupleNMM: coupleNMM, AnchorMomentNMM: momentNMM,
		}, 0}
	}
	a := Argument{
		Loop: []PlacedLoads{
			{2, ArguedLoads{ForceN: 0.5, AnchorForceN: 0.5, AnchorCoupleNMM: 5, AnchorMomentNMM: 4}},
			{1, ArguedLoads{ForceN: 0.2, AnchorForceN: 0.2, AnchorCoupleNMM: 2, AnchorMomentNMM: 0.05}},
		},
		Wires: []StraightFigure{
			wire(LowEnd, false, 2, 0.7, 4, 2),
			wire(LowEnd, false, 1, 0.55, 3, 2), // beside the first loads of the spring
			wire(LowEnd, true, 1, 0.3, -1, 2),  // beside those with 1 mm left
			wire(HighEnd, false, 2, 1, 6.5, 3),
			wire(HighEnd, false, 1, 0.7, 4, 2),
			{StraightState{Next: 35}, 1, ArguedLoads{ForceN: 0.16}, 1.2}, // less than a third of what the spring does
		},
	}
	a.hear(0)
	if n := a.Strained(); n != 1 {
		t.Errorf("%d figures of a wire that keeps a set, want 1", n)
	}
	want := []Heard{
		{WireForceLarger, 2, 2, 2, 2, NoCondition, 1.4, 2},
		{WireCoupleLarger, 2, 2, 1, 2, StrongestData, 0.8, 1.3},
		{WireMomentLarger, 2, 2, 0, 2, NoCondition, 0.5, 0.75},
		{BothTipAlike, 1, 2, 4, 5, IsPutIn, 0, 0},
		{SmallTravelWire, 1, 1, 1, 3, WeakestData, 0, 0},
		{LargeTravelLoop, 2, 2, 2, 2, NoCondition, 0, 0},
	}
	if diff := cmp.Diff(want, a.Heard); diff != "" {
		t.Errorf("heard (-want +got):\n%s", diff)
	}
	// What the case allows is not too much.
	a.Heard = nil
	a.hear(0.7)
	for _, h := range a.Heard {
		if want := map[Saying]int{SmallTravelWire: 2, LargeTravelLoop: 1}[h.Saying]; h.Saying >= SmallTravelWire && h.Holds != want {
			t.Errorf("0.7 N allowed: %q holds in %d, want %d", h.Saying, h.Holds, want)
		}
	}
}

// The place at which a wire has come down to a force, and what it does there.
func TestWayAtAForce(t *testing.T) {
	t.Parallel()
	w := way{leftMM: []float64{2, 1, 0}, loads: []ArguedLoads{{ForceN: 0.8, AnchorCoupleNMM: 4}, {ForceN: 0.4, AnchorCoupleNMM: 3}, {}}}
	left, ok := w.whereForce(0.5)
	if at := w.at(left); !ok || math.Abs(left-1.25) > 1e-12 || math.Abs(at.ForceN-0.5) > 1e-12 || math.Abs(at.AnchorCoupleNMM-3.25) > 1e-12 {
		t.Errorf("0.5 N with %v mm left, %v: %+v", left, ok, at)
	}
	if _, ok := w.whereForce(0.9); ok {
		t.Error("a force that the wire never has was found")
	}
	if got := w.at(2.5); got != w.loads[0] {
		t.Errorf("before the start: %+v", got)
	}
}

// By a statically exact case: about half of force times distance is left on the anchor by a straight wire that ends
// there, and less where it goes on, which bears on the next tooth and adds to the anchor's force.
func TestArgumentOfARealCase(t *testing.T) {
	t.Parallel()
	w, err := wire.ParseSpec("superelastic nickel-titanium 0.014in")
	if err != nil {
		t.Fatal(err)
	}
	c := studied(11, 1)
	a, err := argue(t.Context(), c, loopOf(c, 0.45), w)
	if err != nil || a.Unsolved > 0 {
		t.Fatalf("%d states are unsolved, %v", a.Unsolved, err)
	}
	if len(a.Wires) != 4 || a.Next != 35 || len(a.Loop) != 1 {
		t.Fatalf("%d figures, next tooth %d, %d places: want both ends of the range with and without tooth 35, put in over 1 mm", len(a.Wires), a.Next, len(a.Loop))
	}
	forces := map[StraightState]float64{}
	for _, f := range a.Wires {
		forces[f.State] = f.Loads.ForceN
		l := f.Loads
		if f.State.Next == 0 {
			// Both slots share the couple as their plays and lengths do, which differ by an eighth.
			if half := l.ForceN * 11 / 2; math.Abs(l.AnchorCoupleNMM-half) > 0.1*half || l.NextForceN != 0 {
				t.Errorf("%+v: %v N·mm on the anchor, half of force times distance is %v", f.State, l.AnchorCoupleNMM, half)
			}
			continue
		}
		if math.Abs(l.AnchorForceN-l.ForceN-l.NextForceN) > 1e-5 || !(l.NextForceN > 0.1) {
			t.Errorf("%+v does not balance: %+v", f.State, l)
		}
		without := f.State
		without.Next = 0
		for _, g := range a.Wires {
			if g.State == without && !(l.AnchorCoupleNMM < 0.8*g.Loads.AnchorCoupleNMM) {
				t.Errorf("%+v: %v N·mm on the anchor, %v where it ends there", f.State, l.AnchorCoupleNMM, g.Loads.AnchorCoupleNMM)
			}
		}
	}
	if low, high := forces[StraightState{Data: LowEnd}], forces[StraightState{Data: HighEnd}]; !(high > 1.3*low && low > 0.1) {
		t.Errorf("%v N with the weakest data, %v with the strongest", low, high)
	}
	for _, e := range a.AtEqualForce {
		if math.Abs(e.Loads.ForceN-0.45) > 1e-9 {
			t.Errorf("at equal force %+v", e)
		}
	}
}

func TestNothingIsArguedWhereThereIsNothingToArgue(t *testing.T) {
	t.Parallel()
	w, err := wire.ParseSpec("superelastic nickel-titanium 0.014in")
	if err != nil {
		t.Fatal(err)
	}
	for name, change := range map[string]func(*design.Case){
		"a buccal step":  func(c *design.Case) { c.Now.CentreMM.Y = 1 },
		"along the arch": func(c *design.Case) { c.Now.CentreMM = r3.Vec{X: 11} },
		"a turn alone":   func(c *design.Case) { c.Now = c.Goal; c.Now.Rotation = r3.Vec{Y: 0.1} },
		"a hook":         func(c *design.Case) { c.ActiveSlot = spring.Slot{HeightMM: 0.5588, Hook: true} },
		"no travel":      func(c *design.Case) { c.Now = c.Goal },
	} {
		c := studied(10, 1)
		change(&c)
		loop := Candidate{}
		loop.Evaluation.Record.Positions = loopOf(c, 0.45)
		got, err := Candidate{Straight: true, Spring: StraightSpring(c, "", w)}.Argued(t.Context(), c, loop)
		if err != nil || got.Argument != nil {
			t.Errorf("%s: %+v, %v", name, got.Argument, err)
		}
	}
}

// The next tooth is the one on the other side of the anchor.
func TestNextSlotIsBeyondTheAnchor(t *testing.T) {
	t.Parallel()
	for _, k := range []struct {
		teeth tooth.Pair
		want  tooth.Number
		atMM  float64
	}{
		{tooth.Pair{Anchor: 36, Active: 37}, 35, 9},
		{tooth.Pair{Anchor: 16, Active: 13}, 17, 9.5},
		{tooth.Pair{Anchor: 17, Active: 16}, 0, 0}, // only a third molar lies beyond
		{tooth.Pair{Anchor: 11, Active: 12}, 0, 0}, // the midline
	} {
		c := studied(10, 1)
		c.Teeth = k.teeth
		slot, number, ok := NextSlot(c)
		if ok != (k.want > 0) || number != k.want || slot.DistanceMM != k.atMM {
			t.Errorf("%v: tooth %d, %v mm away, want %d, %v", k.teeth, number, slot.DistanceMM, k.want, k.atMM)
		}
	}
}

// A tooth that is tipped as it comes: the entry of its slot goes another way than the centre, from which the
// travel is counted.
func TestPlacesAreThoseOfTheSlotsCentre(t *testing.T) {
	t.Parallel()
	c := studied(10, 2)
	c.Now.Rotation = r3.Vec{Y: 0.35}
	s := c.SpringFor(spring.Path{})
	positions := []spring.Position{
		{TravelLeftMM: r3.Norm(r3.Sub(s.End.AtMM, s.Start.AtMM)), Active: tooth.Load{ForceN: r3.Vec{Z: 0.6}}},
		{Active: tooth.Load{ForceN: r3.Vec{Z: 0.2}}},
	}
	if math.Abs(positions[0].TravelLeftMM-2) < 0.1 {
		t.Fatal("the entry goes as far as the centre: nothing is tried")
	}
	w := newArguer(c).way(solve.Continued{Positions: positions}, 2)
	for left, want := range map[float64]float64{2: 0.6, 1: 0.4, 0: 0.2} {
		if got := w.at(left).ForceN; math.Abs(got-want) > 1e-12 {
			t.Errorf("%v N with %v mm left, want %v", got, left, want)
		}
	}
}
