package family

import (
	"math"

	"springwright/design"
	"springwright/design/spring"
)

// LLoop is the pattern of an L-loop between the slots: anchor leg, up, along the foot of
// the L towards the active tooth, round, back and down to the active leg. Usual loops are
// 6 to 8 mm high with a foot of 4 to 8 mm, its second upright shorter by the round end of the foot so
// that the legs are level (common practice).
func LLoop(c design.Case) spring.Pattern {
	b := newPatternBuilder(c, "L-loop")
	const half = math.Pi / 2
	b.pattern.BetweenSlots = true
	b.anchorLeg()
	b.openLoop()
	b.bend("first corner", half)
	b.height("first upright")
	b.usual(6, 8)
	b.corner(-half)
	least, most := b.widthSpan()
	// On the way back the foot ends in front of the first upright.
	out := max(least+gapOfUprightsMM, 0.6*most)
	b.straight("foot of the L, out", out, max(out, most))
	b.usual(4, 8)
	b.roundBend("end of the L, radius", -math.Pi)
	b.straight("foot of the L, back", least, max(out-gapOfUprightsMM, least))
	b.corner(half)
	b.height("second upright")
	b.alike("first upright", 2*c.Limits.BendRadiusMM)
	b.bend("last corner", half)
	b.closeLoop()
	b.activeLeg()
	return b.pattern
}
