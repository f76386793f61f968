package lsq

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// Problem is one of n variables within bounds and m residuals.
type Problem interface {
	// Residuals fills r, and jacobian (m × n) unless it is nil. It returns false where the
	// residuals do not exist at x. Without a jacobian it may leave the rest of r at 0 as soon
	// as half the sum of squares is more than enough.
	Residuals(x, r []float64, jacobian *mat.Dense, enough float64) bool
	Size() (variables, residuals int)
}

// ToTheEnd wants all residuals, whatever they sum up to.
const ToTheEnd = math.MaxFloat64

// HalfSquares is half the sum of squares, which is what Minimise makes small.
func HalfSquares(r []float64) float64 {
	var sum float64
	for _, v := range r {
		sum += v * v
	}
	return sum / 2
}

// Box holds the bounds of every variable. A variable with equal bounds is fixed.
type Box struct{ Lower, Upper []float64 }

// Clip is the value nearest to v within the bounds of variable i.
func (b Box) Clip(i int, v float64) float64 { return min(max(v, b.Lower[i]), b.Upper[i]) }

// Fixed tells whether variable i is.
func (b Box) Fixed(i int) bool { return b.Lower[i] == b.Upper[i] }

// Hold returns a box of its own in which variable i is fixed at v.
func (b Box) Hold(i int, v float64) Box {
	held := b.Clone()
	held.Lower[i], held.Upper[i] = v, v
	return held
}

// Clone returns a box of its own with the same bounds.
func (b Box) Clone() Box { return Box{slices.Clone(b.Lower), slices.Clone(b.Upper)} }
