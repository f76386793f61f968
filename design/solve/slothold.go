package solve

import (
	"springwright/design/spring"
	"springwright/design/wire"
)

// armsMM are how far from the slot's centre the edges lie between which a wire with these
// plays shifts, in height and in depth: where half the clearance is the arm times the play (see
// package beam). 0: it does not.
func armsMM(h spring.SlotHold, w wire.Wire, p spring.Play) (height, depth float64) {
	if !h.Play || !h.Shifts {
		return 0, 0
	}
	if p.SecondOrder > tightRad {
		height = (h.HeightMM - w.HeightMM()) / 2 / p.SecondOrder
	}
	if h.DepthMM > 0 && p.FirstOrder > tightRad {
		depth = (h.DepthMM - w.DepthMM()) / 2 / p.FirstOrder
	}
	return height, depth
}
