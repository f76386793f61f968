package family

import (
	"math"

	"springwright/design"
	"springwright/design/spring"
)

// RectangularLoop is the pattern of a rectangular loop that stands apically of the active
// slot: anchor leg, up, across, down, active leg. Every corner and both legs may carry a
// pre-activation bend. Entered from behind, the loop surrounds the slot, so that the
// centroid of its wire can lie over the slot and a vertical movement calls up no couple
// (elastic centre: Timoshenko, Strength of Materials II, 3rd ed. 1956). Usual loops have right corners,
// a level top of 8 to 12 mm (Am J Orthod Dentofacial Orthop 2018, doi 10.1016/j.ajodo.2017.07.021)
// and uprights alike, 4 to 8 mm high (common practice). Where the case
// leaves the x–z plane, both legs also get a first-order bend and a twist.
func RectangularLoop(c design.Case) spring.Pattern {
	b := newPatternBuilder(c, design.RectangularLoopName)
	half := math.Pi / 2
	last := -half
	if c.Heading == spring.On {
		last = half
	}
	b.anchorLeg()
	b.pattern.LoopFirst = len(b.pattern.Steps)
	b.bend("first corner", half)
	b.straight("loop height", c.Limits.ShortestStraightMM, c.Limits.LoopHeightMM)
	b.usual(4, 8)
	if c.Heading == spring.Back {
		b.pattern.FrontFirst, b.pattern.FrontLast = b.pattern.LoopFirst, len(b.pattern.Steps)-1
	}
	b.bend("second corner", -half)
	b.straight("loop width", c.Limits.ShortestStraightMM, max(c.Limits.ShortestStraightMM, c.Limits.LoopWidthMM-2*c.Limits.BendRadiusMM))
	b.usual(8-2*c.Limits.BendRadiusMM, 12-2*c.Limits.BendRadiusMM)
	b.bend("third corner", -half)
	b.straight("loop return", c.Limits.ShortestStraightMM, c.Limits.LoopHeightMM+math.Abs(c.Now.CentreMM.Z))
	b.usual(4, 8)
	b.alike("loop height", 0)
	b.bend("fourth corner", last)
	b.pattern.LoopLast = len(b.pattern.Steps) - 1
	b.activeLeg()
	return b.pattern
}
