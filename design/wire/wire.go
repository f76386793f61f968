// Package wire holds what orthodontic wires are made of and how stiff and strong their
// sections are. It knows nothing of springs or teeth.
package wire

// Wire is an alloy drawn to a section. A round wire has DiameterMM and neither
// ThicknessMM nor WidthMM.
type Wire struct {
	Alloy       string  // name as in files, "" for a wire given by its moduli alone
	EMPa        float64 // Young's modulus
	Poisson     float64
	YieldMPa    float64 // 0.2 % proof stress
	TangentMPa  float64 // slope past yield; 0: the wire is taken as elastic
	ThicknessMM float64 // the side that bends in second-order bends
	WidthMM     float64 // across it
	DiameterMM  float64 // of a round wire

	// Superelastic is set for a wire that turns into martensite instead of yielding; then
	// YieldMPa is the start of its plateau.
	Superelastic Superelastic

	// StressRelieved tells that the finished spring was heated so that its bends hold no stress;
	// else they hold what bending left in them.
	StressRelieved bool

	// CornerRadiusMM rounds the four edges of a rectangular wire; 0 leaves them sharp, and
	// no more than half the thinner side is used.
	CornerRadiusMM float64
}

// Round tells whether the wire is round.
func (w Wire) Round() bool { return w.DiameterMM > 0 }

// IsSuperelastic tells whether the wire follows a superelastic law rather than yielding.
func (w Wire) IsSuperelastic() bool { return w.Superelastic.LoadStartMPa > 0 }

// HeightMM is the extent of the section along its thickness.
func (w Wire) HeightMM() float64 {
	if w.Round() {
		return w.DiameterMM
	}
	return w.ThicknessMM
}

// DepthMM is the extent of the section along its width.
func (w Wire) DepthMM() float64 {
	if w.Round() {
		return w.DiameterMM
	}
	return w.WidthMM
}
