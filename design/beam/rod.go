package beam

import "gonum.org/v1/gonum/spatial/r3"

// Section is the stiffness of the wire's cross-section. A stiffness of +Inf removes
// that deformation (an inextensible or unshearable wire).
type Section struct {
	EA  float64 // N, extension along d1
	GA2 float64 // N, shear along d2
	GA3 float64 // N, shear along d3
	GJ  float64 // N·mm², twist about d1
	EI2 float64 // N·mm², bending about d2: turns the wire in the d1–d3 plane
	EI3 float64 // N·mm², bending about d3: turns the wire in the d1–d2 plane
}

// Piece is a stretch of wire with one constant curvature when unloaded.
type Piece struct {
	LengthMM  float64
	Curvature r3.Vec // rad/mm on the section frame: twist rate, κ2, κ3
}

// Rod is the unloaded wire from its first end to its last.
type Rod struct {
	Section Section
	Pieces  []Piece
}

// LengthMM is the developed length of the rod.
func (r Rod) LengthMM() float64 {
	var sum float64
	for _, p := range r.Pieces {
		sum += p.LengthMM
	}
	return sum
}
