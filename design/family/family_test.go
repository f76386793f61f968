package family_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/beam"
	"springwright/design/designtest"
	"springwright/design/family"
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

func TestEveryFamilyIsASpring(t *testing.T) {
	t.Parallel()
	names := map[string]bool{}
	for _, f := range design.Families() {
		if names[f.Name] {
			t.Errorf("%q comes twice", f.Name)
		}
		names[f.Name] = true
		for _, acrossMM := range []float64{0, 1} {
			c := designtest.FamilyCase(f)
			c.Now.CentreMM.Y = acrossMM
			p := designtest.FamilyPattern(t, c)
			if p.Family != f.Name {
				t.Errorf("%s calls itself %q", f.Name, p.Family)
			}
			checkFreedoms(t, p)
			steps := p.StepsFor(designtest.PlainValues(p))
			if steps[0].Kind != spring.Straight || steps[len(steps)-1].Kind != spring.Straight {
				t.Errorf("%s: no straight at an end to hold", f.Name)
			}
			// Without pre-activation the wire ends flat, in its plane, as it must enter.
			end := designtest.UnloadedEndOf(steps)
			if seat := (spring.Seat{AtMM: end.At}).Pose(spring.On); designtest.Far(end, seat) > 1e-12 {
				t.Errorf("%s ends as %+v", f.Name, end)
			}
			if math.Abs(end.At.Y) > 1e-12 {
				t.Errorf("%s ends %v mm out of its plane", f.Name, end.At.Y)
			}
			for _, passing := range p.Passings {
				checkPassing(t, f.Name, c, steps, passing)
			}
		}
	}
}

func checkFreedoms(t *testing.T, p spring.Pattern) {
	t.Helper()
	names := map[string]bool{}
	for _, f := range p.Freedoms {
		if names[f.Name] {
			t.Errorf("%s: freedom %q comes twice", p.Family, f.Name)
		}
		names[f.Name] = true
		if !(f.Min < f.Max) || f.Grid <= 0 || f.Angle && (f.Neutral <= f.Min || f.Neutral >= f.Max) || !f.Angle && f.Min <= 0 {
			t.Errorf("%s: %s from %v to %v, neutral %v, grid %v", p.Family, f.Name, f.Min, f.Max, f.Neutral, f.Grid)
		}
		step := p.Steps[f.Step]
		if bend := step.Kind == spring.Bend; f.Radius && !bend || f.Angle && step.Kind == spring.Straight || !f.Angle && !f.Radius && bend {
			t.Errorf("%s: %s is a number that step %d does not have", p.Family, f.Name, f.Step)
		}
	}
}

// checkPassing measures how near two ranges of steps come, densely sampled: beside each
// other with little between, and apart enough not to touch.
func checkPassing(t *testing.T, name string, c design.Case, steps spring.Steps, p spring.Passing) {
	t.Helper()
	solver := beam.NewSolver(beam.Rod{Section: c.Wire.Section(), Pieces: steps.Pieces()}, beam.Origin(), beam.Options{StepMM: 0.05, StepRad: 0.03})
	nodes := solver.AppendNodes(nil)
	nearest := math.Inf(1)
	in := func(step int, r [2]int) bool { return r[0] <= step && step <= r[1] }
	for _, a := range nodes {
		for _, b := range nodes {
			if in(a.Piece, p.One) && in(b.Piece, p.Other) {
				nearest = min(nearest, r3.Norm(r3.Sub(a.Pose.At, b.Pose.At)))
			}
		}
	}
	least := c.Wire.DepthMM() + family.PassingMM
	const offsetSpareMM, gridMM = 0.15, 0.1 // what the offset leaves, and what its length is rounded up to
	if nearest < least || nearest > least+offsetSpareMM+gridMM {
		t.Errorf("%s passes itself at %.3f mm, want %.3f mm and little more", name, nearest, least)
	}
}

func TestEveryFamilysParametersMatchDifferences(t *testing.T) {
	t.Parallel()
	var patterns []spring.Pattern
	for _, f := range design.Families() {
		c := designtest.FamilyCase(f)
		c.Now.CentreMM.Y = 1
		patterns = append(patterns, designtest.FamilyPattern(t, c))
	}
	patterns = append(patterns, spring.Pattern{
		Family: "every kind of number",
		Steps: spring.Steps{
			{Kind: spring.Bend, AngleRad: 0.5, RadiusMM: 1, Order: 1},
			{Kind: spring.Bend, AngleRad: -0.7, RadiusMM: 1, Order: 1},
			{Kind: spring.Bend, AngleRad: 1, RadiusMM: 1, Order: 2},
			{Kind: spring.Bend, AngleRad: -2, RadiusMM: 1, Order: 2},
			{Kind: spring.Twist, AngleRad: -0.4, LengthMM: 2},
		},
		Freedoms: []spring.Freedom{
			{Name: "first-order radius", Step: 0, Radius: true, Min: 0.6, Max: 3, Neutral: 1},
			{Name: "the other way", Step: 1, Radius: true, Min: 0.6, Max: 3, Neutral: 1},
			{Name: "radius", Step: 2, Radius: true, Min: 0.6, Max: 3, Neutral: 1},
			{Name: "its angle", Step: 2, Angle: true, Min: 0.5, Max: 2, Neutral: 1},
			{Name: "radius down", Step: 3, Radius: true, Min: 0.6, Max: 3, Neutral: 1},
			{Name: "twist", Step: 4, Angle: true, Min: -1, Max: 1},
			{Name: "its length", Step: 4, Min: 1, Max: 5},
		},
	})
	for _, p := range patterns {
		x := designtest.PlainValues(p)
		for i, f := range p.Freedoms {
			x[i] += 0.03 * float64(1+i%3)
			if f.Angle && i%2 == 0 {
				x[i] -= 0.2
			}
		}
		designtest.CheckParameters(t, p, x)
	}
}

func TestFamilyOfNamesTheNearest(t *testing.T) {
	t.Parallel()
	if f, err := design.FamilyOf(""); err != nil || f.Name != design.RectangularLoopName {
		t.Errorf("no name is %q, %v", f.Name, err)
	}
	_, err := design.FamilyOf("T-lop")
	if !errors.Is(err, design.ErrFamily) || !strings.Contains(err.Error(), `"T-loop"`) || !strings.Contains(err.Error(), "uprighting spring") {
		t.Errorf("got %v, want the nearest name and the list", err)
	}
}

func TestPatternForRefusesWhatDoesNotSuit(t *testing.T) {
	t.Parallel()
	for name, change := range map[string]func(*design.Case){
		"a cantilever in a slot":   func(c *design.Case) { c.Family = "cantilever" },
		"a hooked T-loop":          func(c *design.Case) { c.Family, c.ActiveSlot.Hook = "T-loop", true },
		"a T-loop from behind":     func(c *design.Case) { c.Family, c.Heading = "T-loop", spring.Back },
		"a file that was not read": func(c *design.Case) { c.SpringFile = "free.toml" },
		"a bend sharper than wire": func(c *design.Case) { c.FreePath.Steps = spring.Steps{spring.BendStep(1, 0.1)} },
		"an edgewise bend too": func(c *design.Case) {
			c.FreePath.Steps = spring.Steps{{Kind: spring.Bend, AngleRad: 1, RadiusMM: 0.3, Order: 1}}
		},
	} {
		c := designtest.FamilyCase(design.Families()[0])
		change(&c)
		if _, err := family.PatternFor(c); !errors.Is(err, family.ErrUnfit) {
			t.Errorf("%s: got %v", name, err)
		}
	}
	c := designtest.FamilyCase(design.Families()[0])
	c.FreePath = spring.Pattern{
		Steps:    spring.Steps{spring.StraightStep(3), spring.BendStep(1, 0.6)},
		Freedoms: []spring.Freedom{{Min: 3, Max: 5}, {Step: 1, Angle: true, Min: 0, Max: 1, Grid: 0.1}, {Step: 1, Angle: true, Min: 0, Max: 1}},
	}
	p, err := family.PatternFor(c)
	if err != nil || p.Freedoms[0].Grid != c.Search.LengthStepMM || p.Freedoms[1].Grid != 0.1 || p.Freedoms[2].Grid != c.Search.AngleStepRad {
		t.Errorf("steps are %+v, %v", p.Freedoms, err)
	}
	if c.FreePath.Freedoms[0].Grid != 0 {
		t.Error("the case's own path was changed")
	}
}
