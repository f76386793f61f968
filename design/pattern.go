package design

import (
	"math"

	"springwright/design/beam"
)

// Pattern is a kind of spring with its numbers left open: a path, and the numbers of it
// that a search may choose. It is how a spring family presents itself to the search.
type Pattern struct {
	Family   string
	Path     Path
	Freedoms []Freedom
	// LoopFirst and LoopLast are the steps that form the loop, both included; the limits
	// on room apply to them and not to the legs.
	LoopFirst, LoopLast int
	// FrontFirst and FrontLast are the steps that must stay in front of the active slot,
	// on the anchor's side of it; both 0 where there are none.
	FrontFirst, FrontLast int
}

// Freedom is one number of a path that a search may choose.
type Freedom struct {
	Name     string // as printed, such as "loop height"
	Step     int    // the step it belongs to
	Angle    bool   // an angle in rad; else a length in mm
	Min, Max float64
	Grid     float64 // bendable values are whole multiples of it
	Neutral  float64 // of an angle: its value with no pre-activation
}

// PathFor returns the pattern's path with its freedoms set to values, one each.
func (p Pattern) PathFor(values []float64) Path {
	path := append(Path(nil), p.Path...)
	for i, f := range p.Freedoms {
		if f.Angle {
			path[f.Step].AngleRad = values[i]
		} else {
			path[f.Step].LengthMM = values[i]
		}
	}
	return path
}

// Parameters returns what a unit of each freedom does to the rod's pieces, for the path of
// PathFor. A bend keeps its radius, so its angle changes the length of its arc.
func (p Pattern) Parameters(path Path) []beam.Parameter {
	parameters := make([]beam.Parameter, len(p.Freedoms))
	for i, f := range p.Freedoms {
		step := path[f.Step]
		parameter := beam.Parameter{Piece: f.Step, LengthMM: 1}
		switch {
		case step.Kind == Twist && f.Angle:
			parameter.LengthMM = 0
			parameter.Curvature.X = 1 / step.LengthMM
		case f.Angle:
			parameter.LengthMM = math.Copysign(step.RadiusMM, step.AngleRad)
		}
		parameters[i] = parameter
	}
	return parameters
}
