package beam

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Advance returns the pose reached from p after lengthMM of unloaded wire with a constant
// curvature (exact).
func (p Pose) Advance(curvature r3.Vec, lengthMM float64) Pose {
	turn := r3.Scale(lengthMM, curvature)
	_, b, c := rotationCoefficients(r3.Norm2(turn))
	tangent := r3.Vec{X: 1}
	cross := r3.Cross(turn, tangent)
	// ∫ exp(s·turn) ds applied to d1 = t + b ω×t + c ω×(ω×t)
	local := r3.Add(tangent, r3.Add(r3.Scale(b, cross), r3.Scale(c, r3.Cross(turn, cross))))
	next := Pose{At: r3.Add(p.At, p.ToGlobal(r3.Scale(lengthMM, local)))}
	next.D1 = p.ToGlobal(Rotate(turn, r3.Vec{X: 1}))
	next.D2 = p.ToGlobal(Rotate(turn, r3.Vec{Y: 1}))
	next.D3 = p.ToGlobal(Rotate(turn, r3.Vec{Z: 1}))
	return next
}

// UnloadedEnd returns the pose of the far end of the unloaded rod that starts at start.
func (r Rod) UnloadedEnd(start Pose) Pose {
	for _, piece := range r.Pieces {
		start = start.Advance(piece.Curvature, piece.LengthMM)
	}
	return start
}

// divisions is how many equal parts of at most maxMM and maxTurnRad a piece is cut into.
func (p Piece) divisions(maxMM, maxTurnRad float64) int {
	turn := r3.Norm(p.Curvature) * p.LengthMM
	return max(1, int(math.Ceil(p.LengthMM/maxMM-1e-9)), int(math.Ceil(turn/maxTurnRad-1e-9)))
}
