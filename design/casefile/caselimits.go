package casefile

import (
	"fmt"

	"springwright/design"
	"springwright/design/quantity"
	"springwright/design/wire"
)

// What holds where a limit is left out.
const (
	// Largest height of a loop above the slot. The fold lies 9.2 ± 4.3 mm (upper) and
	// 7.0 ± 3.1 mm (lower) from the gum margin in children: measure it where you can.
	usualLoopHeightUpperMM = 8
	usualLoopHeightLowerMM = 6

	usualGumClearanceMM     = 1.0  // common practice
	usualLoopWidthMM        = 12   // loops are 8–12 mm wide: Am J Orthod Dentofacial Orthop 2018, doi 10.1016/j.ajodo.2017.07.021
	usualPliersRadiusMM     = 0.75 // inside radius, 0.4–1.5 mm: common practice
	usualShortestStraightMM = 1.0  // common practice
	usualLargestPreBendDeg  = 30   // common practice
	lowestLoopMM            = 2
)

var (
	foldSpan      = span{unit: quantity.Millimetre, low: 3, high: 25}
	clearanceSpan = span{unit: quantity.Millimetre, low: 0, high: 5}
	loopWidthSpan = span{unit: quantity.Millimetre, low: 2, high: 40}
	roomSpan      = span{unit: quantity.Millimetre, low: 0, high: 40}
	pliersSpan    = span{unit: quantity.Millimetre, low: 0.2, high: 5}
	straightSpan  = span{unit: quantity.Millimetre, low: 0, high: 10}
	preBendSpan   = span{unit: quantity.Degree, low: 0, high: 90}
	bitingSpan    = span{unit: quantity.Millimetre, low: 0.5, high: 20}
	cheekSpan     = span{unit: quantity.Millimetre, low: 0.5, high: 20}
	stressSpan    = span{unit: plain, low: 0.1, high: 1}
)

const mostMostBends = 1000

// readLimits reads the room for the spring and what the pliers can do. The rooms must be
// given; for the others see the constants above.
func (c *caseReader) readLimits(w wire.Wire) design.Limits {
	t := c.required("limits", "add [limits] with room_mesial_mm and room_distal_mm")
	defer t.close()
	const room = "measure it from the centre of the active slot to what is in the way"
	l := design.Limits{
		LoopWidthMM:        t.optional("loop_width_mm", loopWidthSpan, usualLoopWidthMM),
		RoomMesialMM:       t.needed("room_mesial_mm", roomSpan, room),
		RoomDistalMM:       t.needed("room_distal_mm", roomSpan, room),
		ShortestStraightMM: t.optional("shortest_straight_mm", straightSpan, usualShortestStraightMM),
		LargestPreBendRad:  t.optional("largest_pre_bend_deg", preBendSpan, usualLargestPreBendDeg),
	}
	l.FoldDepthMM, l.LoopHeightMM = t.fold(c)
	// What is left out of these is not limited.
	if t.has("biting_clearance_mm") {
		l.BitingReachMM = t.optional("biting_clearance_mm", bitingSpan, 0)
	}
	if t.has("cheek_bulge_mm") {
		l.CheekBulgeMM = t.optional("cheek_bulge_mm", cheekSpan, 0)
	}
	if t.has("tongue_reach_mm") {
		l.TongueReachMM = t.optional("tongue_reach_mm", cheekSpan, 0)
	}
	l.MostBends = t.whole("most_bends", 1, mostMostBends, 0)
	if t.has("largest_stress_ratio") {
		l.LargestStressRatio = t.optional("largest_stress_ratio", stressSpan, 1)
	}
	half := w.HeightMM() / 2
	inside := t.optional("pliers_radius_mm", pliersSpan, usualPliersRadiusMM)
	if inside < half {
		t.blame("pliers_radius_mm", fmt.Sprintf("%s is less than half the wire's thickness, %s: the wire would crack", millimetres(inside), millimetres(half)),
			"use pliers of a larger radius or a thinner wire")
	}
	l.BendRadiusMM = inside + half
	return l
}

// fold is the depth of the fold of the cheek, 0 where it is left out, and the height that it
// leaves to a loop.
func (s *section) fold(c *caseReader) (depthMM, loopMM float64) {
	clearance := s.optional("gum_clearance_mm", clearanceSpan, usualGumClearanceMM)
	if !s.has("fold_depth_mm") {
		if c.teethKnown && c.teeth.Active.Upper() {
			return 0, usualLoopHeightUpperMM
		}
		return 0, usualLoopHeightLowerMM
	}
	fold := s.optional("fold_depth_mm", foldSpan, 0)
	if fold-clearance < lowestLoopMM {
		s.blame("fold_depth_mm", fmt.Sprintf("%s less the clearance of %s leaves less than the %d mm that a loop needs",
			millimetres(fold), millimetres(clearance), lowestLoopMM), "measure again, from the slot's goal level to the fold; another kind of spring may suit")
	}
	return fold, fold - clearance
}
