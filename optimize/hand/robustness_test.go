package hand

import (
	"math"
	"testing"

	"springwright/design"
	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/target"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"gonum.org/v1/gonum/spatial/r3"
)

func TestInfluences(t *testing.T) {
	t.Parallel()
	only := func(b design.Bender) string {
		c, spring := demoSpring(t, b)
		r := mustBend(t, c, spring, 1, 1, 1)
		var sum float64
		for i, in := range r.Influences {
			sum += in.Share
			if i > 0 && in.Share > r.Influences[i-1].Share {
				t.Error("influences are not in order")
			}
		}
		if math.Abs(sum-1) > 1e-12 {
			t.Errorf("influences sum to %v", sum)
		}
		return r.Spread.Influence
	}
	if got := only(design.Bender{StiffnessSD: 0.1}); got != "stiffness of the wire" {
		t.Errorf("only the wire is off, largest influence is %q", got)
	}
	// Along the arch a loop is as soft as in height, but its force window is a ninth as wide.
	if got := only(design.Bender{SlotSDMM: 0.1}); got != "measured place of the active slot along the arch" {
		t.Errorf("only the slot is off, largest influence is %q", got)
	}
	// What is not bent is no bend, and has no number that the bend table would not have.
	sources := sourcesOf(design.Bender{AngleSDRad: 1, LengthSDMM: 1}, spring.PathOf(
		spring.StraightStep(1), spring.BendStep(1, 1), spring.BendStep(0, 1), spring.StraightStep(1), spring.BendStep(0, 1),
		spring.StraightStep(1), spring.Step{Kind: spring.Twist, AngleRad: 0.5, LengthMM: 1}, spring.StraightStep(2),
	))
	var names []string
	for _, s := range sources[len(sources)-5:] {
		names = append(names, s.name)
	}
	if diff := cmp.Diff([]string{"length before bend 1", "angle at bend 1", "length before bend 2", "angle at bend 2", "length up to the active slot"}, names); diff != "" {
		t.Errorf("names (-want +got):\n%s", diff)
	}
}

// What a spring misses is what judge finds in its record.
func TestMissedAgainstJudge(t *testing.T) {
	t.Parallel()
	c, s := demoSpring(t, design.SkilledBender())
	h := New(c, s)
	const springs = 20
	count := map[target.Quantity]float64{}
	met := 0
	b := benchFor(t, &h)
	for i := range springs {
		b.draw(uint64(i), 4)
		h.bend(&b.bent, b.normal)
		// The same spring, as one of a case whose slot is where it really is.
		one := s
		one.Path = spring.PathOf(b.bent.steps...)
		one.Wire.EMPa *= b.bent.stiffness
		record := spring.Record{}
		solver := beam.NewSolver(one.Rod(), beam.Origin(), beam.Options{})
		for k := range h.seats {
			seat := s.SeatAt(k)
			at := h.seatFor(&b.bent, k)
			if err := solver.Follow(beam.Clamp(at)); err != nil {
				t.Fatal(err)
			}
			record.Positions = append(record.Positions, spring.Position{
				Seat:         seat,
				TravelLeftMM: r3.Norm(r3.Sub(s.End.AtMM, seat.AtMM)),
				Active:       one.ActiveLoad(solver.EndLoad(), solver.End().At, at),
			})
		}
		misses := c.Misses(record)
		names := map[target.Quantity]bool{}
		for _, m := range misses {
			names[m.Quantity] = true
		}
		for name := range names {
			count[name] += 1.0 / springs
		}
		if len(misses) == 0 {
			met++
		}
	}
	r := mustBend(t, c, s, springs, 4, 2)
	got := map[target.Quantity]float64{}
	for _, m := range r.Missed {
		got[m.Quantity] = m.Share
	}
	if diff := cmp.Diff(count, got, cmpopts.EquateApprox(1e-12, 0)); diff != "" || met != r.Spread.Met {
		t.Errorf("%d met, want %d; missed (-judge +bent):\n%s", r.Spread.Met, met, diff)
	}
}

// Newcombe (Stat Med 1998;17:857, table I, from memory) gives these intervals by Wilson's
// method to four decimals.
func TestWilson(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		met, n    int
		low, high float64
	}{
		{81, 263, 0.2553, 0.3662},
		{15, 148, 0.0624, 0.1605},
		{0, 20, 0, 0.1611},
		{1, 29, 0.0061, 0.1718},
		{20, 20, 1 - 0.1611, 1},
	} {
		low, high := wilson(test.met, test.n)
		if math.Abs(low-test.low) > 5.01e-5 || math.Abs(high-test.high) > 5.01e-5 {
			t.Errorf("%d of %d: got %.5f to %.5f, want %v to %v", test.met, test.n, low, high, test.low, test.high)
		}
	}
}

// BenchmarkTolerance10k bends 10,000 springs of seven positions.
func BenchmarkTolerance10k(b *testing.B) {
	c, spring := demoSpring(b, design.SkilledBender())
	for b.Loop() {
		mustBend(b, c, spring, 10000, 1, 0)
	}
}

// BenchmarkFragility is what a finalist costs in the search.
func BenchmarkFragility(b *testing.B) {
	c, spring := demoSpring(b, design.SkilledBender())
	sample := SampleFor(c.Bender, len(spring.Path.Steps()))
	for b.Loop() {
		h := New(c, spring)
		l, ok := h.Linear()
		if !ok || l.Share(sample) < 0 {
			b.Fatal("cannot be seated")
		}
	}
}
