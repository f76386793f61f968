package spring_test

import (
	"fmt"
	"math"
	"testing"

	"springwright/design"
	"springwright/design/designtest"
	"springwright/design/family"
	"springwright/design/spring"
	"springwright/design/target"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
)

// values are numbers for a pattern well inside its bounds; every angle off its neutral
// value by a different amount, and none of them 0.
func values(p spring.Pattern) []float64 {
	x := make([]float64, len(p.Freedoms))
	for i, f := range p.Freedoms {
		if f.Angle {
			x[i] = f.Neutral + 0.07*float64(1+i%3)*float64(1-2*(i%2))
		} else {
			x[i] = f.Min + 1.5 + 0.25*float64(i)
		}
	}
	return x
}

// A parameter changes a piece exactly as its freedom changes the path.
func TestParametersMatchDifferences(t *testing.T) {
	t.Parallel()
	spatial := designtest.LoopCase()
	spatial.Now.CentreMM.Y = 1
	for _, c := range []design.Case{designtest.LoopCase(), spatial} {
		pattern := family.RectangularLoop(c)
		designtest.CheckParameters(t, pattern, values(pattern))
	}
}

// At an angle of 0 a bend can only be derived towards one side; it must be that of its turn.
func TestParameterOfABendOfNoAngle(t *testing.T) {
	t.Parallel()
	pattern := spring.Pattern{
		Steps:    spring.Steps{spring.BendStep(0, 0.6)},
		Freedoms: []spring.Freedom{{Angle: true, Min: -1, Max: 1}},
	}
	for _, zero := range []float64{0, math.Copysign(0, -1)} {
		steps := pattern.StepsFor([]float64{zero})
		parameter := pattern.Parameters(steps)[0]
		turn := r3.Scale(parameter.LengthMM, steps.Pieces()[0].Curvature)
		if r3.Norm(r3.Sub(turn, r3.Vec{Y: -1})) > 1e-12 { // towards +d3 is a negative turn about d2
			t.Errorf("angle %v: a radian of bend turns the wire by %v", zero, turn)
		}
	}
}

func TestPathForLeavesThePatternAlone(t *testing.T) {
	t.Parallel()
	pattern := family.RectangularLoop(designtest.LoopCase())
	before := append(spring.Steps(nil), pattern.Steps...)
	pattern.PathFor(values(pattern))
	if diff := cmp.Diff(before, pattern.Steps); diff != "" {
		t.Error(diff)
	}
}

func TestRectangularLoopIsALoop(t *testing.T) {
	t.Parallel()
	for _, heading := range []spring.Heading{spring.On, spring.Back} {
		for _, acrossMM := range []float64{0, 1} {
			t.Run(fmt.Sprint(heading, acrossMM), func(t *testing.T) {
				t.Parallel()
				c := designtest.LoopCase()
				c.Heading = heading
				c.Now.CentreMM.Y = acrossMM
				checkLoop(t, c)
			})
		}
	}
}

func checkLoop(t *testing.T, c design.Case) {
	t.Helper()
	p := family.RectangularLoop(c)
	used := map[int]bool{}
	names := map[string]bool{}
	x := make([]float64, len(p.Freedoms))
	for i, f := range p.Freedoms {
		if used[f.Step] || names[f.Name] {
			t.Errorf("freedom %q comes twice", f.Name)
		}
		used[f.Step], names[f.Name] = true, true
		if !(f.Min < f.Max) || f.Grid <= 0 || f.Angle && (f.Neutral <= f.Min || f.Neutral >= f.Max) {
			t.Errorf("%s has bounds %v to %v, neutral %v, grid %v", f.Name, f.Min, f.Max, f.Neutral, f.Grid)
		}
		x[i] = f.Neutral
		if !f.Angle {
			x[i] = 4
		}
	}
	// With no pre-activation and all straights of one length, the wire ends as it must
	// enter the slot.
	end := designtest.UnloadedEnd(p.PathFor(x))
	if seat := (spring.Seat{AtMM: end.At}).Pose(c.Heading); designtest.Far(end, seat) > 1e-12 {
		t.Errorf("the neutral loop ends as %+v, the slot needs %+v", end, seat)
	}
	// The wire alternates: two bends or twists with no straight between cannot be bent,
	// except a first-order bend and a twist at the same spot of a leg.
	steps := p.StepsFor(x)
	if steps[0].Kind != spring.Straight || steps[len(steps)-1].Kind != spring.Straight {
		t.Error("no straight at an end to hold in a slot")
	}
	for i, step := range steps[p.LoopFirst : p.LoopLast+1] {
		if want := [...]spring.StepKind{spring.Bend, spring.Straight}[i%2]; step.Kind != want {
			t.Errorf("loop step %d is %v, want %v", i, step.Kind, want)
		}
	}
	first := designtest.UnloadedEndOf(steps[:p.LoopFirst])
	if first.D1 != (r3.Vec{X: 1}) {
		t.Errorf("the loop begins along %v", first.D1)
	}
	if back := c.Heading == spring.Back; (p.FrontLast > 0) != back {
		t.Errorf("steps in front of the slot are %d to %d, entered %v", p.FrontFirst, p.FrontLast, c.Heading)
	}
	spatial := false
	for _, step := range steps {
		spatial = spatial || step.Kind == spring.Twist || step.Kind == spring.Bend && step.Order == 1
	}
	if spatial != (c.Now.CentreMM.Y != 0) {
		t.Errorf("leaves its plane: %v, with the tooth %v mm across", spatial, c.Now.CentreMM.Y)
	}
}

// Whatever asks for something across the arch needs bends out of the plane; what only
// limits it does not.
func TestRectangularLoopLeavesThePlaneOnlyWhenAsked(t *testing.T) {
	t.Parallel()
	leaves := func(change func(*design.Case)) bool {
		c := designtest.LoopCase()
		change(&c)
		for _, step := range family.RectangularLoop(c).Steps {
			if step.Kind == spring.Twist {
				return true
			}
		}
		return false
	}
	for name, change := range map[string]func(*design.Case){
		"buccal goal":       func(c *design.Case) { c.Goal.CentreMM.Y = -0.5 },
		"torque":            func(c *design.Case) { c.Now.Rotation.X = 0.1 },
		"rotation":          func(c *design.Case) { c.Now.Rotation.Z = 0.1 },
		"goal rotation":     func(c *design.Case) { c.Goal.Rotation.Z = 0.1 },
		"buccal force":      func(c *design.Case) { c.Target.Start.ForceN[1] = target.Window{Min: 0.1, Max: 0.2} },
		"torque couple":     func(c *design.Case) { c.Target.Travel.CoupleNMM[0] = target.Window{Min: -2, Max: -1} },
		"rotational couple": func(c *design.Case) { c.Target.Travel.CoupleNMM[2] = target.Window{Min: 1, Max: math.Inf(1)} },
	} {
		if !leaves(change) {
			t.Errorf("%s: the pattern has no twist", name)
		}
	}
	for name, change := range map[string]func(*design.Case){
		"nothing":             func(*design.Case) {},
		"tip":                 func(c *design.Case) { c.Now.Rotation.Y = 0.1 },
		"no buccal force":     func(c *design.Case) { c.Target.Travel.ForceN[1] = target.Window{Min: -0.1, Max: 0.1, Aimed: true} },
		"tip couple":          func(c *design.Case) { c.Target.Travel.CoupleNMM[1] = target.Window{Min: 1, Max: 2} },
		"no couple of torque": func(c *design.Case) { c.Target.Travel.CoupleNMM[0] = target.Window{Min: 0, Max: 1} },
	} {
		if leaves(change) {
			t.Errorf("%s: the pattern leaves its plane", name)
		}
	}
}
