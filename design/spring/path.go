package spring

import (
	"math"

	"springwright/design/beam"

	"gonum.org/v1/gonum/spatial/r3"
)

// StepKind tells what one step of a path does to the wire.
type StepKind int

const (
	Straight StepKind = iota // LengthMM
	Bend                     // AngleRad, RadiusMM, Order 1 or 2
	Twist                    // AngleRad over LengthMM
)

// Step is one step of bending a wire, in the order a hand meets them.
type Step struct {
	Kind     StepKind
	LengthMM float64 // of a straight, or the length a twist is spread over; 0 for a bend
	AngleRad float64 // of a bend or twist, signed as the package comment says
	RadiusMM float64 // of a bend, to the wire's centreline
	Order    int     // of a bend: 1 or 2
}

// StraightStep is a straight of lengthMM.
func StraightStep(lengthMM float64) Step { return Step{Kind: Straight, LengthMM: lengthMM} }

// BendStep is a second-order bend.
func BendStep(angleRad, radiusMM float64) Step {
	return Step{Kind: Bend, AngleRad: angleRad, RadiusMM: radiusMM, Order: 2}
}

// WireLengthMM is how much wire the step uses up.
func (s Step) WireLengthMM() float64 {
	if s.Kind == Bend {
		return math.Abs(s.AngleRad) * s.RadiusMM
	}
	return s.LengthMM
}

// Path is a wire from the anchor slot to the active slot.
type Path []Step

// WireLengthMM is the developed length of the path.
func (p Path) WireLengthMM() float64 {
	var sum float64
	for _, s := range p {
		sum += s.WireLengthMM()
	}
	return sum
}

// Pieces returns the path as pieces of a rod, one for each step, also for steps of no
// length, so that piece i is step i.
func (p Path) Pieces() []beam.Piece {
	pieces := make([]beam.Piece, len(p))
	for i, s := range p {
		pieces[i] = s.piece()
	}
	return pieces
}

func (s Step) piece() beam.Piece {
	piece := beam.Piece{LengthMM: s.WireLengthMM()}
	switch {
	case s.Kind == Twist:
		piece.Curvature = r3.Vec{X: s.AngleRad / s.LengthMM}
	case s.Kind == Bend && s.Order == 1:
		piece.Curvature = r3.Vec{Z: math.Copysign(1/s.RadiusMM, s.AngleRad)}
	case s.Kind == Bend:
		// Turning d1 towards +d3 is a negative turn about d2 = d3 × d1.
		piece.Curvature = r3.Vec{Y: -math.Copysign(1/s.RadiusMM, s.AngleRad)}
	}
	return piece
}

// Tidy returns the path without steps that do nothing and with straights joined that
// nothing separates any more. A twist of no angle leaves its length as a straight.
func (p Path) Tidy() Path {
	var tidy Path
	for _, s := range p {
		if s.Kind == Twist && s.AngleRad == 0 {
			s = StraightStep(s.LengthMM)
		}
		if s.WireLengthMM() == 0 {
			continue
		}
		if last := len(tidy) - 1; s.Kind == Straight && last >= 0 && tidy[last].Kind == Straight {
			tidy[last].LengthMM += s.LengthMM
			continue
		}
		tidy = append(tidy, s)
	}
	return tidy
}
