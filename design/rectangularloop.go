package design

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// RectangularLoop is the pattern of a rectangular loop that stands apically of the active
// slot: anchor leg, up, across, down, active leg. Every corner and both legs may carry a
// pre-activation bend. Entered from behind, the loop surrounds the slot, so that the
// centroid of its wire can lie over the slot and a vertical movement calls up no couple
// (elastic centre: Timoshenko, Strength of Materials II, 3rd ed. 1956). Where the case
// leaves the x–z plane, both legs also get a first-order bend and a twist.
func RectangularLoop(c Case) Pattern {
	b := patternBuilder{c: c, pattern: Pattern{Family: "rectangular loop"}}
	reach := math.Abs(c.Now.CentreMM.X) + c.Limits.RoomDistalMM + c.Limits.RoomMesialMM
	half := math.Pi / 2
	last := -half
	if c.Heading == On {
		last = half
	}
	spatial := c.leavesPlane()

	b.straight("anchor leg, first part", c.Limits.ShortestStraightMM, reach)
	b.bend("anchor leg bend", 0)
	if spatial {
		b.firstOrder("anchor leg first-order bend")
		b.twist("anchor leg twist")
	}
	b.straight("anchor leg, second part", c.Limits.ShortestStraightMM, reach)
	b.pattern.LoopFirst = len(b.pattern.Path)
	b.bend("first corner", half)
	b.straight("loop height", c.Limits.ShortestStraightMM, c.Limits.LoopHeightMM)
	if c.Heading == Back {
		b.pattern.FrontFirst, b.pattern.FrontLast = b.pattern.LoopFirst, len(b.pattern.Path)-1
	}
	b.bend("second corner", -half)
	b.straight("loop width", c.Limits.ShortestStraightMM, max(c.Limits.ShortestStraightMM, c.Limits.LoopWidthMM-2*c.Limits.BendRadiusMM))
	b.bend("third corner", -half)
	b.straight("loop return", c.Limits.ShortestStraightMM, c.Limits.LoopHeightMM+math.Abs(c.Now.CentreMM.Z))
	b.bend("fourth corner", last)
	b.pattern.LoopLast = len(b.pattern.Path) - 1
	b.straight("active leg, first part", c.Limits.ShortestStraightMM, reach)
	if spatial {
		b.twist("active leg twist")
		b.firstOrder("active leg first-order bend")
	}
	b.bend("active leg bend", 0)
	b.straight("active leg, second part", c.Limits.ShortestStraightMM, reach)
	return b.pattern
}

// leavesPlane tells whether the travel or the target asks for anything across the arch.
func (c Case) leavesPlane() bool {
	across := func(v r3.Vec) bool { return v.X != 0 || v.Z != 0 }
	wants := func(w Window) bool { return !w.Free() && w.Misses(0) > 0 }
	if c.Now.CentreMM.Y != 0 || c.Goal.CentreMM.Y != 0 || across(c.Now.Rotation) || across(c.Goal.Rotation) {
		return true
	}
	for _, w := range [...]LoadWindow{c.Target.Start, c.Target.Travel} {
		if wants(w.ForceN[1]) || wants(w.CoupleNMM[0]) || wants(w.CoupleNMM[2]) {
			return true
		}
		// A force in the plane turns the tooth about its centre of resistance, which lies
		// beside the plane.
		if c.Target.AtResistance && !(w.CoupleNMM[0].Free() && w.CoupleNMM[2].Free()) {
			return true
		}
	}
	return false
}

// twistLengthMM is the stretch of wire over which two pliers put a twist (common practice).
const twistLengthMM = 2

// patternBuilder puts a pattern together step by step, in the order of the wire.
type patternBuilder struct {
	c       Case
	pattern Pattern
}

func (b *patternBuilder) add(step Step, freedom Freedom) {
	freedom.Step = len(b.pattern.Path)
	b.pattern.Path = append(b.pattern.Path, step)
	b.pattern.Freedoms = append(b.pattern.Freedoms, freedom)
}

func (b *patternBuilder) straight(name string, minMM, maxMM float64) {
	b.add(StraightStep(minMM), Freedom{Name: name, Min: minMM, Max: maxMM, Grid: b.c.Search.LengthStepMM})
}

func (b *patternBuilder) angle(name string, neutralRad float64) Freedom {
	most := b.c.Limits.LargestPreBendRad
	return Freedom{Name: name, Angle: true, Min: neutralRad - most, Max: neutralRad + most, Neutral: neutralRad, Grid: b.c.Search.AngleStepRad}
}

func (b *patternBuilder) bend(name string, neutralRad float64) {
	b.add(BendStep(neutralRad, b.c.Limits.BendRadiusMM), b.angle(name, neutralRad))
}

func (b *patternBuilder) firstOrder(name string) {
	b.add(Step{Kind: Bend, RadiusMM: b.c.Limits.BendRadiusMM, Order: 1}, b.angle(name, 0))
}

func (b *patternBuilder) twist(name string) {
	b.add(Step{Kind: Twist, LengthMM: twistLengthMM}, b.angle(name, 0))
}
