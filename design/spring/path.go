package spring

import (
	"math"
	"slices"

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

// Steps is a list of steps as a file or a search has them, tidy or not. A search changes their
// numbers and knows each by its index, so that none may go lost on the way: see Path.
type Steps []Step

// WireLengthMM is the developed length of all steps.
func (s Steps) WireLengthMM() float64 {
	var sum float64
	for _, step := range s {
		sum += step.WireLengthMM()
	}
	return sum
}

// Pieces returns the steps as pieces of a rod, one for each, also for steps of no length, so
// that piece i is step i.
func (s Steps) Pieces() []beam.Piece {
	pieces := make([]beam.Piece, len(s))
	for i, step := range s {
		pieces[i] = step.piece()
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

// Path is a wire from the anchor slot to the active slot. It is tidy: it has no step that does
// nothing, no twist of no angle, and no two straights that nothing separates. So steps and bends
// have the same numbers wherever a path is looked at. The zero Path has no steps.
type Path struct{ steps Steps }

// PathOf returns the wire of steps, tidied: without steps that do nothing and with straights
// joined that nothing separates any more. A twist of no angle leaves its length as a straight.
func PathOf(steps ...Step) Path {
	path, _ := Tidied(steps)
	return path
}

// Tidied is PathOf with the index, for each step of the path, of the first of the steps that it is
// made of.
func Tidied(steps Steps) (path Path, from []int) {
	var tidy Steps
	for i, s := range steps {
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
		tidy, from = append(tidy, s), append(from, i)
	}
	return Path{tidy}, from
}

// Steps returns a copy of the path's steps.
func (p Path) Steps() Steps { return slices.Clone(p.steps) }

// WireLengthMM is the developed length of the path.
func (p Path) WireLengthMM() float64 { return p.steps.WireLengthMM() }

// Pieces returns the path as pieces of a rod, one for each step.
func (p Path) Pieces() []beam.Piece { return p.steps.Pieces() }

// BendNumbers returns the number of each step among the bends and twists of the path, counted
// together from 1 at the anchor slot; 0 for a straight. It is the number by which tables,
// drawings and warnings call a bend.
func (p Path) BendNumbers() []int {
	numbers := make([]int, len(p.steps))
	bends := 0
	for i, s := range p.steps {
		if s.Kind != Straight {
			bends++
			numbers[i] = bends
		}
	}
	return numbers
}

// Bends counts the bends and twists of the path, plain corners included.
func (p Path) Bends() int {
	return slices.Max(append(p.BendNumbers(), 0))
}
