package family

import (
	"math"

	"springwright/design"
	"springwright/design/spring"
)

// OpenVerticalLoop is the pattern of an open vertical loop: anchor leg, up, round, down,
// active leg. Pulled apart it opens. Usual loops are 6 to 8 mm high, with uprights alike (common
// practice).
func OpenVerticalLoop(c design.Case) spring.Pattern {
	b := newPatternBuilder(c, "open vertical loop")
	const half = math.Pi / 2
	b.pattern.BetweenSlots = true
	b.anchorLeg()
	b.openLoop()
	b.bend("first corner", half)
	b.height("first upright")
	b.usual(6-c.Limits.BendRadiusMM, 8-c.Limits.BendRadiusMM)
	b.roundBend("top of the loop, radius", -math.Pi)
	b.height("second upright")
	b.usual(6-c.Limits.BendRadiusMM, 8-c.Limits.BendRadiusMM)
	b.alike("first upright", 0)
	b.bend("last corner", half)
	b.closeLoop()
	b.activeLeg()
	return b.pattern
}

// ClosedVerticalLoop is the pattern of a closed vertical loop: the anchor leg runs on past
// the loop, then up, round towards the anchor, down, and the active leg passes the first
// upright. Pulled apart it closes, in the direction in which it was wound. Usual sizes are those of
// the open one. To pass, the
// second upright is offset in first order, and the active leg comes back.
func ClosedVerticalLoop(c design.Case) spring.Pattern {
	b := newPatternBuilder(c, "closed vertical loop")
	const half = math.Pi / 2
	b.pattern.BetweenSlots = true
	b.anchorLeg()
	first := b.next() - 1
	b.openLoop()
	b.bend("first corner", half)
	b.height("first upright")
	b.usual(6-c.Limits.BendRadiusMM, 8-c.Limits.BendRadiusMM)
	passed := b.next() - 1
	b.roundBend("top of the loop, radius", math.Pi)
	b.offset(1)
	b.height("second upright")
	b.usual(6-c.Limits.BendRadiusMM, 8-c.Limits.BendRadiusMM)
	b.alike("first upright", 0)
	passes := b.next() - 1
	b.bend("last corner", half)
	// Beside the first upright, as wide as the top at its widest, and past it.
	b.straight("active leg beside the loop", 2*c.Limits.BendRadiusMM, b.reachMM)
	b.closeLoop()
	b.offset(-1)
	b.pattern.Passings = []spring.Passing{{One: [2]int{first, passed}, Other: [2]int{passes, b.next() - 1}}}
	b.activeLeg()
	return b.pattern
}
