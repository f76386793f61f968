package spring

import (
	"math"
	"slices"

	"springwright/design/beam"

	"gonum.org/v1/gonum/spatial/r3"
)

// Pattern is a kind of spring with its numbers left open: the steps of a wire, and the numbers
// of them that a search may choose. It is how a spring family presents itself to the search.
type Pattern struct {
	Family   string
	Steps    Steps
	Freedoms []Freedom
	// LoopFirst and LoopLast are the steps that form the loop, both included; the limits
	// on room apply to them and not to the legs.
	LoopFirst, LoopLast int
	// FrontFirst and FrontLast are the steps that must stay in front of the active slot,
	// on the anchor's side of it; both 0 where there are none.
	FrontFirst, FrontLast int
	// BetweenSlots tells that the loop stands between the slots: on the anchor's side it has
	// all the room up to the anchor slot.
	BetweenSlots bool
	// Passings are the places where the wire has to pass itself closely.
	Passings []Passing
	// Alike are the lengths that are alike in the shape that gives the kind its name.
	Alike []Alike
}

// Alike is two freedoms, by their indices, of which the first is longer than the other by so much
// (or shorter, below 0) where the spring has its kind's own shape.
type Alike struct {
	One, Other int
	MoreMM     float64
}

// Passing is two ranges of steps, first and last included, that pass one another closely:
// side by side, with little more than the wire's own width between their centrelines.
type Passing struct{ One, Other [2]int }

// Freedom is one number of a path that a search may choose.
type Freedom struct {
	Name     string // as printed, such as "loop height"
	Step     int    // the step it belongs to
	Angle    bool   // an angle in rad; else a length in mm
	Radius   bool   // the length is the radius of a bend
	Min, Max float64
	Grid     float64 // bendable values lie whole multiples of it from Neutral
	Neutral  float64 // of an angle: its value with no pre-activation
	// UsualMin and UsualMax are between what a length mostly lies; both 0: anything is usual.
	UsualMin, UsualMax float64
}

// StepsFor returns the pattern's steps with its freedoms set to values, one each.
func (p Pattern) StepsFor(values []float64) Steps {
	steps := slices.Clone(p.Steps)
	for i, f := range p.Freedoms {
		step := &steps[f.Step]
		switch {
		case f.Angle:
			step.AngleRad = values[i]
		case f.Radius:
			step.RadiusMM = values[i]
		default:
			step.LengthMM = values[i]
		}
	}
	return steps
}

// PathFor returns the wire of StepsFor.
func (p Pattern) PathFor(values []float64) Path { return PathOf(p.StepsFor(values)...) }

// Parameters returns what a unit of each freedom does to the rod's pieces, for the steps of
// StepsFor. A bend keeps its radius, so its angle changes the length of its arc; its radius
// changes length and curvature, as the angle stays. A twist keeps its angle when its length
// changes.
func (p Pattern) Parameters(steps Steps) []beam.Parameter {
	parameters := make([]beam.Parameter, len(p.Freedoms))
	for i, f := range p.Freedoms {
		step := steps[f.Step]
		parameter := beam.Parameter{Piece: f.Step, LengthMM: 1}
		switch {
		case step.Kind == Twist && f.Angle:
			parameter.LengthMM = 0
			parameter.Curvature.X = 1 / step.LengthMM
		case step.Kind == Twist:
			parameter.Curvature.X = -step.AngleRad / (step.LengthMM * step.LengthMM)
		case f.Radius:
			parameter.LengthMM = math.Abs(step.AngleRad)
			parameter.Curvature = r3.Scale(-1/step.RadiusMM, step.piece().Curvature)
		case f.Angle:
			parameter.LengthMM = math.Copysign(step.RadiusMM, step.AngleRad)
		}
		parameters[i] = parameter
	}
	return parameters
}
