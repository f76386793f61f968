package effect

import (
	"errors"
	"fmt"
	"math"

	"springwright/design"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Root is how a tooth's root, or what stands for one, holds against moving.
type Root struct {
	OffsetMM r3.Vec // centre of resistance from the slot's centre, as the teeth stand now
	LeverMM2 float64
	// Ratio is how many times as firmly it holds against being shifted as the active tooth does.
	Ratio float64
}

// AnchorBody is all that moves with the anchor slot, as one stiff piece. The zero value does not
// move.
type AnchorBody struct {
	// Ratio is how many times as firmly it holds against being shifted as the active tooth does;
	// 0: it does not move.
	Ratio    float64
	OffsetMM r3.Vec // of its centre of resistance from the anchor slot's centre, as the teeth stand now
	// turns is the turn of the body about its centre by a couple of 1 N·mm about each axis while a
	// force of 1 N shifts the active tooth by 1 mm: columns, rad, as the teeth stand now.
	turns [3]r3.Vec
}

// NewAnchorBody joins roots to one body. Against being shifted their holds add up, and its centre
// of resistance is the mean of theirs, weighed by them. Against being turned about that centre
// each adds its own hold and that of its lever, as the moments of inertia of masses add up:
//
//	Σ ratio · (LeverMM2·1 + d²·1 − d dᵀ), d from the centre of the body to that of the root
//
// The root of one tooth holds the same against shifts all ways.
func NewAnchorBody(roots ...Root) (AnchorBody, error) {
	if len(roots) == 0 {
		return AnchorBody{}, errors.New("nothing holds the anchor")
	}
	var b AnchorBody
	for i, r := range roots {
		for _, v := range [...]float64{r.LeverMM2, r.Ratio} {
			if !(v > 0) || math.IsInf(v, 0) {
				return AnchorBody{}, fmt.Errorf("hold of root %d of the anchor: lever %.3g mm², ratio %.3g (must be above 0)", i+1, r.LeverMM2, r.Ratio)
			}
		}
		b.Ratio += r.Ratio
		b.OffsetMM = r3.Add(b.OffsetMM, r3.Scale(r.Ratio, r.OffsetMM))
	}
	b.OffsetMM = r3.Scale(1/b.Ratio, b.OffsetMM)
	if len(roots) == 1 { // exactly as the active tooth
		b.OffsetMM = roots[0].OffsetMM
		about := 1 / (b.Ratio * roots[0].LeverMM2)
		b.turns = [3]r3.Vec{{X: about}, {Y: about}, {Z: about}}
		return b, nil
	}
	hold := mat.NewSymDense(3, nil)
	for _, r := range roots {
		d := r3.Sub(r.OffsetMM, b.OffsetMM)
		at := [3]float64{d.X, d.Y, d.Z}
		for i := range 3 {
			for j := i; j < 3; j++ {
				own := 0.0
				if i == j {
					own = r.LeverMM2 + r3.Norm2(d)
				}
				hold.SetSym(i, j, hold.At(i, j)+r.Ratio*(own-at[i]*at[j]))
			}
		}
	}
	var factors mat.Cholesky
	var inverse mat.SymDense
	if !factors.Factorize(hold) || factors.InverseTo(&inverse) != nil {
		return AnchorBody{}, errors.New("the anchor's hold against turning is none")
	}
	for j := range 3 {
		b.turns[j] = r3.Vec{X: inverse.At(0, j), Y: inverse.At(1, j), Z: inverse.At(2, j)}
	}
	return b, nil
}

// AnchorBodyOf is what holds the anchor of a case.
func AnchorBodyOf(c design.Case) (AnchorBody, error) {
	if !c.Anchorage.Moves() {
		return AnchorBody{}, nil
	}
	var roots []Root
	sum := 0.0
	for _, r := range c.AnchorRoots() {
		roots = append(roots, Root{OffsetMM: r.OffsetMM, LeverMM2: r.LeverMM2, Ratio: r.Surface.AreaMM2})
		sum += r.Surface.AreaMM2
	}
	for i := range roots {
		roots[i].Ratio *= c.HoldRatio() / sum
	}
	return NewAnchorBody(roots...)
}

// Moves tells whether it gives way at all.
func (b AnchorBody) Moves() bool { return b.Ratio > 0 }

// give is how far a body moves under a load about its centre, on its own axes, with a mobility of
// mm of the active tooth a newton.
func (b AnchorBody) give(mobility float64, forceN, coupleNMM r3.Vec) (shiftMM, turn r3.Vec) {
	shiftMM = r3.Scale(mobility/b.Ratio, forceN)
	turn = r3.Add(r3.Scale(coupleNMM.X, b.turns[0]), r3.Add(r3.Scale(coupleNMM.Y, b.turns[1]), r3.Scale(coupleNMM.Z, b.turns[2])))
	return shiftMM, r3.Scale(mobility, turn)
}
