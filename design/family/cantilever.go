package family

import (
	"math"

	"springwright/design"
	"springwright/design/spring"
)

// Cantilever is the pattern of a cantilever: held in the anchor slot, bent up or down in
// front of it, and hooked or tied to the active tooth as a point, so that the tooth feels
// a force and no couple but that of the little which a hook that slides hangs beside it.
// Usual arms are 15 to 30 mm long (common practice).
func Cantilever(c design.Case) spring.Pattern {
	b := newPatternBuilder(c, "cantilever")
	b.straight("anchor leg", c.Limits.ShortestStraightMM, b.reachMM)
	b.bend("anchor leg bend", 0)
	b.hookedArm()
	b.noLoop()
	return b.pattern
}

// CantileverWithHelix is a cantilever with one turn of wire in front of its anchor slot,
// wound so that activation winds it tighter (common practice).
func CantileverWithHelix(c design.Case) spring.Pattern {
	b := newPatternBuilder(c, "cantilever with helix")
	b.straight("anchor leg", c.Limits.ShortestStraightMM, b.reachMM)
	b.bend("anchor leg bend", 0)
	b.straight("anchor leg up to the helix", c.Limits.ShortestStraightMM, max(c.Limits.ShortestStraightMM, helixWithinMM))
	b.helix(-pull(c), "arm beside the helix")
	b.hookedArmEnd()
	b.noLoop()
	return b.pattern
}

// helixWithinMM is how far from its slot a helix stands at most: near it a helix softens the
// spring most (common practice).
const helixWithinMM = 6

// UprightingSpring is the pattern of an uprighting spring: held in the tube of the tipped
// tooth, which is the anchor slot here, up an upright, round a helix at its top, and forward
// along an arm that is hooked to the teeth in front. The tipped tooth feels the couple of
// the hook's force on the arm. Usual helices are 2.5 to 3 mm across on an upright of 3 to
// 5 mm, the arm 15 to 25 mm long (common practice).
func UprightingSpring(c design.Case) spring.Pattern {
	b := newPatternBuilder(c, "uprighting spring")
	const half = math.Pi / 2
	turn := -pull(c)
	b.straight("anchor leg", c.Limits.ShortestStraightMM, b.reachMM)
	b.bend("foot of the upright", half)
	b.height("upright")
	b.usual(3, 5)
	first, second := b.helixTurn(turn)
	_, along := b.offsetSizes()
	b.straight("upright beside the helix", math.Ceil(along), b.reachMM)
	b.bend("top of the upright", -half)
	b.straight("arm beside the helix", math.Ceil(2*b.helixRadiusMM()+PassingMM), b.reachMM)
	b.offset(-1)
	b.passing(first, second)
	b.hookedArm()
	b.noLoop()
	return b.pattern
}

// hookedArm adds an arm with one bend, of which the far end is hooked.
func (b *patternBuilder) hookedArm() {
	b.straight("arm, first part", b.c.Limits.ShortestStraightMM, b.reachMM)
	b.hookedArmEnd()
}

// hookedArmEnd adds the arm without its first straight.
func (b *patternBuilder) hookedArmEnd() {
	if b.spatial {
		b.firstOrder("arm first-order bend")
	}
	b.bend("arm bend", 0)
	b.straight("arm, second part", b.c.Limits.ShortestStraightMM, b.reachMM)
}
