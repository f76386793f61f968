package family

import (
	"springwright/design"
	"springwright/design/spring"
	"springwright/design/target"
)

// RootSpring is the pattern of a spring that moves a root by a couple alone: straight legs
// that enter both slots, each with a pre-activation bend, and one turn of wire between to
// make it soft. Bent alike on both sides it gives couples that balance each other and leave
// no force (class VI of the two-slot geometries; Burstone and Koenig, Am J Orthod
// 1974;65:270). Twists in the legs do the same for torque. Usual helices are 2.5 to 3 mm
// across (common practice).
func RootSpring(c design.Case) spring.Pattern {
	b := newPatternBuilder(c, "root spring")
	b.pattern.BetweenSlots = true
	b.anchorLeg()
	b.openLoop()
	b.helix(-turn(c), "active leg beside the helix")
	b.closeLoop()
	b.activeLeg()
	return b.pattern
}

// turn is the sign of the couple about y that the case wants on the active tooth, +1 where
// it wants none.
func turn(c design.Case) float64 {
	for _, w := range [...]target.Window{c.Target.Start.CoupleNMM[1], c.Target.Travel.CoupleNMM[1]} {
		if !w.Free() && w.Min+w.Max < 0 {
			return -1
		}
	}
	return 1
}
