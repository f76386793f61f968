package hand

import (
	"context"
	"errors"
	"math"
	"testing"

	"springwright/design"
	"springwright/design/beam"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/wire"
	"springwright/optimize/internal/invented"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/gonum/stat"
)

// demoSpring is a spring that meets the demo's target, as a search once found it.
func demoSpring(t testing.TB, b design.Bender) (design.Case, spring.Spring) {
	t.Helper()
	c := demoCase(t)
	c.Bender = b
	var steps spring.Steps
	for i, lengthMM := range [...]float64{2.5, 3, 5.5, 9.5, 5, 1.5, 1} {
		steps = append(steps, spring.StraightStep(lengthMM))
		if bends := [...]float64{17, 90, -120, -73, -102, 10}; i < len(bends) {
			steps = append(steps, spring.BendStep(invented.Degree(bends[i]), c.Limits.BendRadiusMM))
		}
	}
	return c, c.SpringFor(spring.PathOf(steps...))
}

// spatialSpring leaves the plane and has a twist.
func spatialSpring(b design.Bender) (design.Case, spring.Spring) {
	c := invented.Spatial()
	c.Bender = b
	radiusMM := c.Limits.BendRadiusMM
	return c, c.SpringFor(spring.PathOf(
		spring.StraightStep(3.3),
		spring.Step{Kind: spring.Bend, AngleRad: invented.Degree(5), RadiusMM: radiusMM, Order: 1},
		spring.StraightStep(3.1), spring.BendStep(invented.Degree(88), radiusMM), spring.StraightStep(5.3), spring.BendStep(invented.Degree(-97), radiusMM),
		spring.StraightStep(8.8), spring.BendStep(invented.Degree(-86), radiusMM), spring.StraightStep(4.3), spring.BendStep(invented.Degree(-91), radiusMM),
		spring.StraightStep(1.3),
		spring.Step{Kind: spring.Twist, LengthMM: 2, AngleRad: invented.Degree(-6)},
		spring.StraightStep(1.2),
	))
}

func mustBend(t testing.TB, c design.Case, s spring.Spring, n int, seed uint64, workers int) Robustness {
	t.Helper()
	r, err := Bent(t.Context(), c, s, n, seed, workers)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// fine is accurate enough for differences; no length or angle of the springs here lies at a
// whole number of its largest steps.
var fine = beam.Options{StepMM: 1.53, StepRad: 0.41, Tolerance: 1e-13}

// The slopes by every source, seat and check included, are those of central differences
// over the whole way from a standard normal number to a judged load.
func TestPropagationAgainstDifferences(t *testing.T) {
	t.Parallel()
	checked := design.SkilledBender()
	loose := checked
	loose.Checks = false
	hookedCase, hooked := spatialSpring(checked)
	hookedCase.ActiveSlot.LengthMM, hookedCase.ActiveSlot.Hook = 0, true
	hooked = hookedCase.SpringFor(hooked.Path)
	slidingCase := hookedCase
	slidingCase.Slide = spring.SlideActive
	sliding := slidingCase.SpringFor(hooked.Path)
	seated := func(anchor, active spring.Seating) func() (design.Case, spring.Spring) {
		return func() (design.Case, spring.Spring) {
			c, s := spatialSpring(checked)
			c.AnchorSlot.Seating, c.ActiveSlot.Seating = anchor, active
			return c, c.SeatedSpring(s.Path)
		}
	}
	for _, test := range []struct {
		name string
		pair func() (design.Case, spring.Spring)
	}{
		{"slid to rest in tubes", seated(spring.Seating{}, spring.Seating{Kind: spring.Tube, Before: spring.ToRest})},
		{"left to slide", seated(spring.Seating{}, spring.Seating{Kind: spring.Tube, Tie: spring.LeftToSlide})},
		{"in a bracket", seated(spring.Seating{Kind: spring.Bracket}, spring.Seating{Before: spring.AsMeasured})},
		{"in the plane", func() (design.Case, spring.Spring) { return demoSpring(t, checked) }},
		{"spatial", func() (design.Case, spring.Spring) { return spatialSpring(checked) }},
		{"without a check", func() (design.Case, spring.Spring) { return spatialSpring(loose) }},
		{"hooked", func() (design.Case, spring.Spring) { return hookedCase, hooked }},
		{"hook that slides", func() (design.Case, spring.Spring) { return slidingCase, sliding }},
		{"at the centre of resistance", func() (design.Case, spring.Spring) {
			c, s := spatialSpring(checked)
			c.Target.AtResistance = true
			c.Resistance.Active.ApicalMM, c.Resistance.Active.InwardMM = 8, 5
			return c, s
		}},
	} {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			h := New(test.pair())
			l, ok := h.propagate(pathFor(t, &h, fine))
			if !ok {
				t.Fatal("cannot be seated")
			}
			// Of a standard deviation: second-order errors are near 1e-6 of a load.
			const step = 1e-3
			b := benchFor(t, &h)
			b.path = pathFor(t, &h, fine)
			for j, s := range h.sources {
				var loads [2][]float64
				for k, z := range [...]float64{-step, step} {
					one := newTrials(&h, 1)
					clear(b.normal)
					b.normal[j] = z
					if b.try(one, 0); !one.seated[0] {
						t.Fatalf("%s: cannot be seated", s.name)
					}
					for i := range l.Terms {
						loads[k] = append(loads[k], one.judged[i][0])
					}
				}
				for i, term := range l.Terms {
					want := (loads[1][i] - loads[0][i]) / (2 * step)
					if got := l.Changes[i][j]; math.Abs(got-want) > 1e-5*(1+math.Abs(want)) {
						t.Errorf("%s, position %d, component %d: got %v, want %v", s.name, term.Position, term.Quantity, got, want)
					}
				}
			}
		})
	}
}

// For small errors, springs solved one by one have the means and the covariance of the
// linear model, within the error of a sample of their number.
func TestLinearModelAgainstBentSprings(t *testing.T) {
	t.Parallel()
	c, spring := demoSpring(t, invented.Shrunk(design.SkilledBender(), 0.05))
	h := New(c, spring)
	l, ok := h.propagate(pathFor(t, &h, Accuracy))
	if !ok {
		t.Fatal("cannot be seated")
	}
	const springs = 2000
	sample := newTrials(&h, springs)
	b := benchFor(t, &h)
	for i := range springs {
		b.spring(sample, i, 5)
	}
	expected := covariance(l)
	for i := range l.Terms {
		for j := range i + 1 {
			sdI, sdJ := math.Sqrt(expected.At(i, i)), math.Sqrt(expected.At(j, j))
			got := stat.Covariance(sample.judged[i], sample.judged[j], nil)
			// Four standard errors of a covariance of normal values, and what is not linear.
			if d := math.Abs(got - expected.At(i, j)); d > 4*math.Sqrt2/math.Sqrt(springs)*sdI*sdJ+1e-9 {
				t.Errorf("covariance of terms %d and %d is %v, want %v", i, j, got, expected.At(i, j))
			}
		}
		mean, sd := stat.Mean(sample.judged[i], nil), math.Sqrt(expected.At(i, i))
		if d := math.Abs(mean - l.Values[i]); d > 4*sd/math.Sqrt(springs)+1e-4 {
			t.Errorf("mean of term %d is %v, as designed %v", i, mean, l.Values[i])
		}
	}
}

// covariance is that of the values of all terms.
func covariance(l Linear) *mat.SymDense {
	cov := mat.NewSymDense(len(l.Terms), nil)
	for i := range l.Terms {
		for j := i; j < len(l.Terms); j++ {
			cov.SetSym(i, j, floats.Dot(l.Changes[i], l.Changes[j]))
		}
	}
	return cov
}

// The share of the linear model is that of springs solved one by one, for the errors of a
// skilled hand.
func TestLinearShare(t *testing.T) {
	t.Parallel()
	for _, by := range []float64{0.3, 1} {
		c, spring := demoSpring(t, invented.Shrunk(design.SkilledBender(), by))
		h := New(c, spring)
		l, _ := h.propagate(pathFor(t, &h, Accuracy))
		share := l.Share(SampleFor(c.Bender, len(spring.Path.Steps())))
		r := mustBend(t, c, spring, 1000, 3, 0)
		if by < 1 && (share < 0.5 || share > 0.99) {
			t.Fatalf("a share of %v tells little", share)
		}
		const model = 0.04 // the sample's own error, and what is not linear
		if share < r.Spread.Low-model || share > r.Spread.High+model {
			t.Errorf("errors times %v: linear share %v, bent springs %v to %v", by, share, r.Spread.Low, r.Spread.High)
		}
	}
}

func TestPerfectBender(t *testing.T) {
	t.Parallel()
	c, s := demoSpring(t, design.Bender{})
	r := mustBend(t, c, s, 40, 1, 2)
	if r.Spread.Met != 40 || r.Spread.Share() != 1 || r.Spread.Unseated != 0 || r.Spread.High != 1 || r.Influences != nil {
		t.Errorf("got %+v", r.Spread)
	}
	evaluation, err := solve.Evaluate(t.Context(), s, solve.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range r.Spread.Positions {
		want := evaluation.Record.Positions[i]
		for _, pair := range []struct {
			band spring.Band
			want float64
		}{
			{p.ActiveForceZN, want.Active.ForceN.Z},
			{p.ActiveCoupleYNMM, want.Active.CoupleNMM.Y},
			{p.AnchorForceZN, want.Anchor.ForceN.Z},
			{p.AnchorCoupleYNMM, want.Anchor.CoupleNMM.Y},
		} {
			// The search's accuracy, of the largest load of its kind.
			if pair.band.Low != pair.band.High || math.Abs(pair.band.Median-pair.want) > 5e-3 {
				t.Errorf("position %d: band %+v, evaluated %v", i, pair.band, pair.want)
			}
		}
	}
}

func TestBentDependsOnSeedOnly(t *testing.T) {
	t.Parallel()
	c, spring := demoSpring(t, design.SkilledBender())
	one := mustBend(t, c, spring, 100, 7, 1)
	for _, workers := range []int{2, 5} {
		if diff := cmp.Diff(one, mustBend(t, c, spring, 100, 7, workers)); diff != "" {
			t.Errorf("%d workers (-1 +%d):\n%s", workers, workers, diff)
		}
	}
	other := mustBend(t, c, spring, 100, 8, 2)
	if cmp.Equal(one.Judged, other.Judged) {
		t.Error("another seed gives the same springs")
	}
	if diff := cmp.Diff(one.Influences, other.Influences); diff != "" {
		t.Errorf("influences depend on the seed:\n%s", diff)
	}
}

func TestBentThatCannotBeSeated(t *testing.T) {
	t.Parallel()
	c, spring := demoSpring(t, design.Bender{AngleSDRad: 1.5, LengthSDMM: 3, SlotSDMM: 5, SlotSDRad: 1})
	r := mustBend(t, c, spring, 200, 1, 0)
	if s := r.Spread; s.Unseated == 0 || s.Unseated == s.Springs || s.Met > s.Springs-s.Unseated || len(s.Positions) != c.Positions {
		t.Errorf("got %d met, %d unseated of %d", s.Met, s.Unseated, s.Springs)
	}
	for _, j := range r.Judged {
		if !(j.Band.Low <= j.Band.Median && j.Band.Median <= j.Band.High) {
			t.Errorf("band %+v", j.Band)
		}
	}
}

func TestBentRefusals(t *testing.T) {
	t.Parallel()
	c, spring := demoSpring(t, design.SkilledBender())
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := Bent(ctx, c, spring, 100, 1, 2); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
	if r := mustBend(t, c, spring, 0, 1, 2); r.Spread.Springs != 0 {
		t.Errorf("no springs: %+v", r.Spread)
	}
	spring.Wire.Superelastic = wire.Superelastic{LoadStartMPa: 400}
	if _, err := Bent(t.Context(), c, spring, 100, 1, 2); !errors.Is(err, ErrSuperelastic) {
		t.Errorf("superelastic: %v", err)
	}
}

// A wire that is stiffer by a share pushes harder by exactly that share.
func TestLoadsScaleWithStiffness(t *testing.T) {
	t.Parallel()
	const stiffer = 1.25
	c, spring := spatialSpring(design.Bender{StiffnessSD: stiffer - 1})
	h := New(c, spring)
	got := newTrials(&h, 1)
	b := benchFor(t, &h)
	b.path = pathFor(t, &h, fine)
	b.normal[0] = 1
	b.try(got, 0)

	stiff := spring
	stiff.Wire.EMPa *= stiffer
	solver := beam.NewSolver(stiff.Rod(), beam.Origin(), fine)
	for i, seat := range h.seats {
		if err := solver.Follow(beam.Clamp(seat)); err != nil {
			t.Fatal(err)
		}
		load := stiff.ActiveLoad(solver.EndLoad(), solver.End().At, seat)
		if d := math.Abs(got.shown[shownLoads*i][0] - load.ForceN.Z); d > 1e-10*r3.Norm(load.ForceN) {
			t.Errorf("position %d: force %v, want %v", i, got.shown[shownLoads*i][0], load.ForceN.Z)
		}
	}
}

// A spring that is checked without misreading ends where the template shows it, but for
// what is not linear; unchecked springs are off by much more.
func TestNeutralCheckPutsTheEndRight(t *testing.T) {
	t.Parallel()
	bender := invented.Shrunk(design.SkilledBender(), 0.2)
	bender.CheckSDMM, bender.CheckSDRad = 0, 0
	off := func(checks bool) float64 {
		bender.Checks = checks
		c, spring := demoSpring(t, bender)
		h := New(c, spring)
		b := benchFor(t, &h)
		want := spring.Rod().UnloadedEnd(beam.Origin())
		var worst float64
		for i := range 50 {
			b.draw(uint64(i), 11)
			h.bend(&b.bent, b.normal)
			made := beam.Rod{Section: spring.Wire.Section(), Pieces: b.bent.steps.Pieces()}
			worst = max(worst, r3.Norm(r3.Sub(made.UnloadedEnd(beam.Origin()).At, want.At)))
		}
		return worst
	}
	// Angles of up to 0.75° over some 10 mm: to second order about 1e-3 mm a bend.
	if loose, checked := off(false), off(true); checked > 5e-3 || loose < 20*checked {
		t.Errorf("passive ends are off by up to %v mm, unchecked %v mm", checked, loose)
	}
}

// A spring's share by the linear model has to count windows on the anchor tooth, too.
func TestPropagationOfAnchorRatioAndRate(t *testing.T) {
	t.Parallel()
	c := invented.AskingAll()
	c.Bender = design.SkilledBender()
	c.Bender.Checks = false
	radiusMM := c.Limits.BendRadiusMM
	out := func(angleRad float64) spring.Step {
		return spring.Step{Kind: spring.Bend, AngleRad: angleRad, RadiusMM: radiusMM, Order: 1}
	}
	twist := func(angleRad float64) spring.Step {
		return spring.Step{Kind: spring.Twist, LengthMM: 2, AngleRad: angleRad}
	}
	// As a search has it on its way: far from its target, so that every load is off.
	spring := c.SpringFor(spring.PathOf(
		spring.StraightStep(1), spring.BendStep(-1.044, radiusMM), out(1.044), twist(0.67),
		spring.StraightStep(3.44), spring.BendStep(2.615, radiusMM), spring.StraightStep(7.71), spring.BendStep(-0.527, radiusMM),
		spring.StraightStep(5.55), spring.BendStep(-1.992, radiusMM), spring.StraightStep(7.7), spring.BendStep(-2.368, radiusMM),
		spring.StraightStep(1.1), twist(1.044), out(0.05), spring.BendStep(0.296, radiusMM), spring.StraightStep(1.1),
	))
	h := New(c, spring)
	exact := Accuracy
	exact.Tolerance = 1e-12
	l, ok := h.propagate(pathFor(t, &h, exact))
	if !ok {
		t.Fatal("cannot be propagated")
	}
	b := benchFor(t, &h)
	b.path = pathFor(t, &h, exact)
	trial := newTrials(&h, 2)
	for j, source := range h.sources {
		if source.sd == 0 {
			continue
		}
		const step = 1e-4
		for i, sign := range [...]float64{1, -1} {
			clear(b.normal)
			b.normal[j] = sign * step
			b.try(trial, i)
		}
		for i, term := range h.terms {
			got, want := l.Changes[i][j], (trial.judged[i][0]-trial.judged[i][1])/(2*step)
			// The solver's tolerance over the step, and truncation.
			if math.Abs(got-want) > 1e-4*(1+math.Abs(want)) {
				t.Errorf("%s, position %d, quantity %d: got %v, want %v", source.name, term.Position, term.Quantity, got, want)
			}
		}
	}
}
