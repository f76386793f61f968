package family

import (
	"math"

	"springwright/design/spring"
)

const (
	// PassingMM is the clear distance of a wire from itself where it has to pass: a hand
	// lays the two side by side without letting them touch (common practice).
	PassingMM = 0.1
	// offsetSpareMM is what the offset leaves for the spring's own bending and for limits
	// that the search keeps a little away from.
	offsetSpareMM = 0.15
	offsetRad     = 20 * math.Pi / 180 // common practice
	offsetGridMM  = 0.1
)

// offset adds the two first-order bends by which a hand lays a wire beside itself: by the
// wire's width and PassingMM, to the family's own side of the arch with side 1, to the other
// with −1.
func (b *patternBuilder) offset(side float64) {
	radius := b.firstOrderRadiusMM()
	straight, _ := b.offsetSizes()
	out := spring.Step{Kind: spring.Bend, Order: 1, AngleRad: side * b.hand * offsetRad, RadiusMM: radius}
	back := out
	back.AngleRad = -out.AngleRad
	b.fixed(out, spring.StraightStep(straight), back)
}

// offsetSizes returns the straight of an offset and how far the offset runs along the wire's
// direction.
func (b *patternBuilder) offsetSizes() (straightMM, alongMM float64) {
	radius := b.firstOrderRadiusMM()
	across := b.c.Wire.DepthMM() + PassingMM + offsetSpareMM
	straightMM = (across - 2*radius*(1-math.Cos(offsetRad))) / math.Sin(offsetRad)
	straightMM = max(b.c.Limits.ShortestStraightMM, math.Ceil(straightMM/offsetGridMM)*offsetGridMM)
	return straightMM, straightMM*math.Cos(offsetRad) + 2*radius*math.Sin(offsetRad)
}

// firstOrderRadiusMM is the radius of a first-order bend to the centreline: the pliers'
// radius, with the wire's width across it.
func (b *patternBuilder) firstOrderRadiusMM() float64 {
	return max(b.c.Limits.BendRadiusMM, b.c.Wire.DepthMM()/2)
}
