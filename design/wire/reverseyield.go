package wire

import "math"

// ReverseYield is the share of the yield moment at which a wire that was bent to a radius
// and let go yields when it is loaded on against the bend. RadiusMM and order are those of
// KeptCurvature. The wire is taken as elastic, then perfectly plastic.
//
// Bent, the section carries a moment M beyond the yield moment My, its outermost fibre the
// yield stress. Let go, it loses M elastically, so that this fibre is left with 1 − M/My of
// the yield stress, below 0; loaded on the other way by m·My it yields where
//
//	1 − M/My − m = −1, m = 2 − M/My
//
// Rectangle, thickness h, with the elastic core's share c = 2R·σy/(E·h): M/My = 3/2 − c²/2,
// so that half the yield stress is left and m is 1/2, a little more at large radii. Round:
// M/My up to 16/3π, m from 0.30. A bend that did not yield leaves nothing: 1. What a real
// wire shows is more gradual: it departs from a straight line earlier and yields later.
func (w Wire) ReverseYield(radiusMM float64, order int) float64 {
	height := w.HeightMM()
	if order == 1 {
		height = w.DepthMM()
	}
	c := 2 * radiusMM * w.YieldMPa / (w.EMPa * height)
	if !(c < 1) {
		return 1
	}
	moment := 1.5 - c*c/2
	if w.Round() {
		moment = 16 / (3 * math.Pi)
		if c > 0 {
			moment = (1 - keptByRound(c/2)) / c
		}
	}
	return 2 - moment
}

// ReverseTwistYield is the same for a twist, of a section that has wholly yielded: from a
// twist that has not, the wire yields later.
func (w Wire) ReverseTwistYield() float64 {
	return max(0, 2-w.PlasticMomentNMM().X/w.YieldMomentNMM().X)
}

// BreaksBentBack tells whether a wire must not be straightened and bent again at one place, by the name of its alloy. Of
// a wire that is given by its moduli alone nothing is known, and it is not said.
func (w Wire) BreaksBentBack() bool {
	alloy, err := LookUp(w.Alloy)
	return err == nil && !alloy.BendsBack
}
