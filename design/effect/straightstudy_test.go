package effect

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// studied is an over-erupted second molar, slots so far apart centre to centre.
func studied(apartMM, stepMM float64) design.Case {
	return design.Case{
		Teeth:      tooth.Pair{Anchor: 36, Active: 37},
		AnchorSlot: spring.Slot{HeightMM: 0.5588, LengthMM: 4}, ActiveSlot: spring.Slot{HeightMM: 0.5588, LengthMM: 3.5},
		Now: design.Placement{CentreMM: r3.Vec{X: apartMM, Z: -stepMM}}, Goal: design.Placement{CentreMM: r3.Vec{X: apartMM}}, Positions: 4,
		Resistance: design.Resistances{Active: tooth.ResistanceOf(37), Anchor: tooth.ResistanceOf(36)},
	}
}

// loopOf is a loop of one force without a couple on the active tooth: what the anchor feels follows from
// statics.
func loopOf(c design.Case, forceN float64) []spring.Position {
	way := r3.Sub(c.Goal.CentreMM, c.Now.CentreMM)
	return []spring.Position{{
		TravelLeftMM: r3.Norm(way),
		Active:       tooth.Load{ForceN: r3.Vec{Z: forceN}},
		Anchor:       tooth.Load{ForceN: r3.Vec{Z: -forceN}, CoupleNMM: r3.Vec{Y: forceN * c.Goal.CentreMM.X}},
	}}
}

// When is what is usually said of a straight 0.014 in superelastic wire true: that its force is clearly larger than
// that of a loop of 0.4 to 0.5 N, and its couple on the anchor, too? go test -v prints the table. Held is the
// farthest distance of the slots at which force and couple are clearly larger, which Argument speaks of.
func TestStudyOfStraightWires(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("some seconds")
	}
	w, err := wire.ParseSpec("superelastic nickel-titanium 0.014in")
	if err != nil {
		t.Fatal(err)
	}
	loops := [...]float64{0.4, 0.5}
	var table strings.Builder
	fmt.Fprintln(&table, "apart  data      goes on  left     way       force  couple 36 |  times the loop's force, couple, moment about the centre of resistance of 36")
	fmt.Fprintln(&table, "   mm                     mm                   N       N·mm |        loop of 0.4 N        loop of 0.5 N")
	farthest := map[string][2][2]float64{} // by state and place: for each loop that of the force and of the couple
	for apart := 8.0; apart <= 13; apart++ {
		c := studied(apart, 3)
		figures, _, unsolved, err := straightFigures(t.Context(), c, w)
		if err != nil || unsolved > 0 {
			t.Fatalf("%g mm apart: %d states are unsolved, %v", apart, unsolved, err)
		}
		for _, f := range figures {
			state := fmt.Sprintf("%-8s  %-7s  %.0f   %-8s", f.State.Data, map[bool]string{true: "35"}[f.State.Next > 0], f.TravelLeftMM,
				map[bool]string{true: "let back", false: "put in"}[f.State.LetBack])
			fmt.Fprintf(&table, "%5.0f  %s  %7.2f %9.1f  |", apart, state, f.Loads.ForceN, f.Loads.AnchorCoupleNMM)
			for i, loopN := range loops {
				loop := newArguer(c).loads(loopOf(c, loopN)[0], tooth.Load{})
				force, couple := f.Loads.ForceN/loop.ForceN, math.Abs(f.Loads.AnchorCoupleNMM/loop.AnchorCoupleNMM)
				fmt.Fprintf(&table, "    %4.1f %5.1f %5.1f", force, couple, math.Abs(f.Loads.AnchorMomentNMM/loop.AnchorMomentNMM))
				far := farthest[state]
				for k, times := range [...]float64{force, couple} {
					if times >= ClearlyLarger {
						far[i][k] = apart
					}
				}
				farthest[state] = far
			}
			fmt.Fprintln(&table, map[bool]string{true: "  keeps a set"}[f.StressRatio > 1])
		}
	}
	fmt.Fprintln(&table, "\nclearly larger up to, mm                | loop of 0.4 N: force, couple | 0.5 N: force, couple")
	for _, state := range slices.Sorted(maps.Keys(farthest)) {
		far := farthest[state]
		fmt.Fprintf(&table, "%s     |  %4.0f %6.0f  |  %4.0f %6.0f\n", state, far[0][0], far[0][1], far[1][0], far[1][1])
	}
	t.Log("\n" + table.String())
	// Loop of 0.4 N: force, couple; of 0.5 N: force, couple. What lies nearest to ClearlyLarger is 0.7 % off.
	for state, want := range map[string][2][2]float64{
		"low end            2   let back": {{10, 8}, {9, 0}},
		"low end            2   put in  ": {{13, 9}, {12, 9}},
		"low end            3   put in  ": {{13, 10}, {12, 9}},
		"low end   35       2   let back": {{10, 0}, {9, 0}},
		"low end   35       2   put in  ": {{13, 8}, {12, 8}},
		"low end   35       3   put in  ": {{13, 9}, {12, 8}},
		"high end           2   let back": {{13, 9}, {12, 9}},
		"high end           2   put in  ": {{13, 12}, {13, 10}},
		"high end           3   put in  ": {{13, 12}, {13, 11}},
		"high end  35       2   let back": {{13, 8}, {12, 8}},
		"high end  35       2   put in  ": {{13, 10}, {13, 9}},
		"high end  35       3   put in  ": {{13, 10}, {13, 10}},
	} {
		if got := farthest[state]; got != want {
			t.Errorf("%s: clearly larger up to %v mm, want %v", state, got, want)
		}
	}
}

// A straight 0.014 in nickel-titanium arch on an upper second molar 2.5 mm high and tipped 20°, on load cells (Am J
// Orthod Dentofacial Orthop 2018, doi 10.1016/j.ajodo.2017.07.021, abstract: tipped mesially 0.53 N and 2.08 N·mm
// on the first molar, a couple of 0.15 N·mm on the second and "similar" forces of arch and loop there; tipped distally 1.10 N
// and 4.18 N·mm on the first, 0.92 N and 4.25 N·mm on the second). Neither distances nor the wire's data are told: with the
// weakest data and slots 10 mm and a quarter apart all loads come out within a half, most within a third, and the first
// molar feels more force than the second by what the arch puts on the tooth in front.
func TestStraightArchAgainstLoadCells(t *testing.T) {
	t.Parallel()
	w, err := wire.ParseSpec("superelastic nickel-titanium 0.014in")
	if err != nil {
		t.Fatal(err)
	}
	low, _, _ := w.SuperelasticEnds()
	const nearly, apartMM = 1.5, 10.25
	for _, m := range []struct {
		name                               string
		tipRad                             float64
		firstN, firstNMM, moreN, secondNMM float64
	}{
		{"tipped mesially", 20 * math.Pi / 180, 0.53, 2.08, 0.12, 0.15},
		{"tipped distally", -20 * math.Pi / 180, 1.10, 4.18, 0.18, 4.25},
	} {
		c := studied(apartMM, 2.5)
		c.Teeth = tooth.Pair{Anchor: 16, Active: 17}
		c.Now.Rotation = r3.Vec{Y: m.tipRad}
		next, _, _ := NextSlot(c)
		solved, err := straightWay(t.Context(), c, low, &next, 0, 1)
		if err != nil {
			t.Fatal(err)
		}
		got := newArguer(c).way(solved, 2.5).loads[0]
		for _, k := range []struct {
			name            string
			got, want, more float64
		}{
			{"force on the first molar", got.AnchorForceN, m.firstN, 0},
			{"couple on the first molar", got.AnchorCoupleNMM, m.firstNMM, 0},
			{"more force there", got.AnchorForceN - got.ForceN, m.moreN, 0.05}, // differences of figures of two digits
			{"couple on the second molar", got.ActiveCoupleNMM, m.secondNMM, 0.6},
		} {
			t.Logf("%s: %s %.2f, measured %.2f", m.name, k.name, k.got, k.want)
			if k.got < k.want/nearly-k.more || k.got > k.want*nearly+k.more {
				t.Errorf("%s: %s %.2f, measured %.2f", m.name, k.name, k.got, k.want)
			}
		}
	}
}
