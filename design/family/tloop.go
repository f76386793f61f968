package family

import (
	"math"

	"springwright/design"
	"springwright/design/spring"
)

// TLoop is the pattern of a T-loop between the slots: anchor leg, up, back along the arm of
// the T, round, across the top, round, back and down to the active leg. Usual loops are 6
// to 7 mm high and 10 mm wide (Kuhlberg and Burstone, Am J Orthod Dentofacial Orthop
// 1997;112:12), with arms and uprights alike. The pre-activation sits in the legs and in the two
// corners where the uprights begin.
func TLoop(c design.Case) spring.Pattern {
	b := newPatternBuilder(c, "T-loop")
	const half = math.Pi / 2
	b.pattern.BetweenSlots = true
	b.anchorLeg()
	b.openLoop()
	b.bend("first corner", half)
	b.height("first upright")
	b.usual(6-2*c.Limits.BendRadiusMM, 7-2*c.Limits.BendRadiusMM)
	b.corner(half)
	least, most := b.widthSpan()
	// Both arms under the shortest top, with room for the uprights between.
	top := max(2*least+gapOfUprightsMM, 0.6*most)
	arm := (top - gapOfUprightsMM) / 2
	b.straight("first arm of the T", least, max(arm, least))
	b.corner(-math.Pi)
	b.straight("top of the T", top, max(top, most))
	b.usual(top, 10-2*c.Limits.BendRadiusMM)
	b.corner(-math.Pi)
	b.straight("second arm of the T", least, max(arm, least))
	b.alike("first arm of the T", 0)
	b.corner(half)
	b.height("second upright")
	b.usual(6-2*c.Limits.BendRadiusMM, 7-2*c.Limits.BendRadiusMM)
	b.alike("first upright", 0)
	b.bend("last corner", half)
	b.closeLoop()
	b.activeLeg()
	return b.pattern
}
