package wire

import (
	"errors"
	"fmt"
	"math"
)

// ErrElasticBend means that a bend springs back to nothing: the wire does not yield at
// that radius.
var ErrElasticBend = errors.New("the bend is wholly elastic, the wire springs back straight")

// KeptCurvature is the share of curvature, and so of a bend's angle, that remains when a
// wire bent to a radius is let go: 1 keeps all. RadiusMM is that of the centreline while the
// wire is held bent (pliers' radius plus half the thickness). Order is the bend's: in a
// second-order bend the thickness is what bends, in a first-order bend the width; a round
// wire has its diameter in both. The wire is taken as elastic, then perfectly plastic.
//
// Rectangle, thickness h: 4q³ − 3q + 1 with q = R·σy/(E·h), the handbook springback formula
// (Marciniak, Duncan and Hu, Mechanics of Sheet Metal Forming, from memory). Round, c = 2q:
//
//	1 − 4c/π·{4/3 (1−c²)^{3/2} + [asin c − c√(1−c²)(1−2c²)]/(2c)}
//
// from the same elastic core. Hand bending scatters by 5–10 % of the angle around it (Jiang
// et al., Chin J Mech Eng 2017;30(6), found errors of 6–11 % with an elastic-plastic model).
// The error wraps ErrElasticBend from q = 0.5 on.
func (w Wire) KeptCurvature(radiusMM float64, order int) (float64, error) {
	if order != 1 && order != 2 {
		return 0, fmt.Errorf("a bend of order %d: allowed is 1 or 2", order)
	}
	height := w.HeightMM()
	if order == 1 {
		height = w.DepthMM()
	}
	q := radiusMM * w.YieldMPa / (w.EMPa * height)
	if !(q >= 0) || !(radiusMM >= 0) || !(height > 0) || math.IsInf(height, 0) {
		return 0, fmt.Errorf("no springback of a %g mm wire (%g MPa yield, %g MPa modulus) at a radius of %g mm: all must be above 0",
			height, w.YieldMPa, w.EMPa, radiusMM)
	}
	kept := keptByRectangle(q)
	if w.Round() {
		kept = keptByRound(q)
	}
	if q >= 0.5 || kept <= 0 {
		return 0, fmt.Errorf("radius %g mm, %g mm thick: allowed is a radius below %.3g mm: %w",
			radiusMM, height, 0.5*w.EMPa*height/w.YieldMPa, ErrElasticBend)
	}
	return kept, nil
}

// OverbendRad is the angle to bend to, held at radiusMM, so that angleRad remains; it has
// the sign of angleRad. Straight wire on both sides of the bend springs back by nothing.
// Arguments and errors are those of KeptCurvature.
func (w Wire) OverbendRad(angleRad, radiusMM float64, order int) (float64, error) {
	kept, err := w.KeptCurvature(radiusMM, order)
	if err != nil {
		return 0, err
	}
	overbend := angleRad / kept
	if math.IsNaN(overbend) || math.IsInf(overbend, 0) {
		return 0, fmt.Errorf("a bend of %g rad: allowed is a finite angle", angleRad)
	}
	return overbend, nil
}

func keptByRectangle(q float64) float64 { return 4*q*q*q - 3*q + 1 }

func keptByRound(q float64) float64 {
	c := 2 * q
	if !(c > 0) {
		return 1
	}
	if c >= 1 {
		return 0
	}
	root := math.Sqrt(1 - c*c)
	shell := 4.0 / 3 * root * root * root
	core := (math.Asin(c) - c*root*(1-2*c*c)) / (2 * c)
	return 1 - 4*c/math.Pi*(shell+core)
}
