package family

import (
	"math"

	"springwright/design"
	"springwright/design/spring"
	"springwright/design/target"

	"gonum.org/v1/gonum/spatial/r3"
)

// leavesPlane tells whether the travel or the target asks for anything across the arch.
func leavesPlane(c design.Case) bool {
	across := func(v r3.Vec) bool { return v.X != 0 || v.Z != 0 }
	wants := func(w target.Window) bool { return !w.Free() && w.Misses(0) > 0 }
	if c.Now.CentreMM.Y != 0 || c.Goal.CentreMM.Y != 0 || across(c.Now.Rotation) || across(c.Goal.Rotation) {
		return true
	}
	for _, w := range [...]target.LoadWindow{c.Target.Start, c.Target.Travel, c.Target.Anchor} {
		if wants(w.ForceN[1]) || wants(w.CoupleNMM[0]) || wants(w.CoupleNMM[2]) {
			return true
		}
		// A force in the plane turns the tooth about its centre of resistance, which lies
		// beside the plane.
		if c.Target.AtResistance && (w.CoupleNMM[0].Asked() || w.CoupleNMM[2].Asked()) {
			return true
		}
	}
	return false
}

// twistLengthMM is the stretch of wire over which two pliers put a twist (common practice).
const twistLengthMM = 2

// patternBuilder puts a pattern together step by step, in the order of the wire.
type patternBuilder struct {
	c       design.Case
	pattern spring.Pattern
	reachMM float64 // no straight is longer
	spatial bool    // with bends out of the plane
	hand    float64 // Case.Hand of the family
}

func newPatternBuilder(c design.Case, family string) *patternBuilder {
	c.Family = family
	return &patternBuilder{
		c:       c,
		pattern: spring.Pattern{Family: family},
		reachMM: math.Abs(c.Now.CentreMM.X) + c.Limits.RoomDistalMM + c.Limits.RoomMesialMM,
		spatial: leavesPlane(c),
		hand:    c.Hand(),
	}
}

// next is the index of the step that is added next.
func (b *patternBuilder) next() int { return len(b.pattern.Steps) }

// fixed adds steps that the search leaves alone.
func (b *patternBuilder) fixed(steps ...spring.Step) {
	b.pattern.Steps = append(b.pattern.Steps, steps...)
}

// anchorLeg adds the leg that leaves the anchor slot, with a pre-activation bend.
func (b *patternBuilder) anchorLeg() {
	b.straight("anchor leg, first part", b.c.Limits.ShortestStraightMM, b.reachMM)
	b.bend("anchor leg bend", 0)
	if b.spatial {
		b.firstOrder("anchor leg first-order bend")
		b.twist("anchor leg twist")
	}
	b.straight("anchor leg, second part", b.c.Limits.ShortestStraightMM, b.reachMM)
}

// activeLeg adds the leg that enters the active slot.
func (b *patternBuilder) activeLeg() {
	b.straight("active leg, first part", b.c.Limits.ShortestStraightMM, b.reachMM)
	b.activeLegEnd()
}

// activeLegEnd adds the active leg without its first straight.
func (b *patternBuilder) activeLegEnd() {
	if b.spatial {
		b.twist("active leg twist")
		b.firstOrder("active leg first-order bend")
	}
	b.bend("active leg bend", 0)
	b.straight("active leg, second part", b.c.Limits.ShortestStraightMM, b.reachMM)
}

// usual says between what the length added last mostly lies, as far as the case lets it.
func (b *patternBuilder) usual(lowMM, highMM float64) {
	f := &b.pattern.Freedoms[len(b.pattern.Freedoms)-1]
	f.UsualMin, f.UsualMax = min(lowMM, f.Max), max(highMM, f.Min)
}

// alike says of the length added last that it is as long as the one of that name, shorter by lessMM.
func (b *patternBuilder) alike(name string, lessMM float64) {
	last := len(b.pattern.Freedoms) - 1
	for i, f := range b.pattern.Freedoms[:last] {
		if f.Name == name {
			b.pattern.Alike = append(b.pattern.Alike, spring.Alike{One: i, Other: last, MoreMM: lessMM})
		}
	}
}

// height adds a straight that runs up or down.
func (b *patternBuilder) height(name string) {
	b.straight(name, b.c.Limits.ShortestStraightMM, b.c.Limits.LoopHeightMM+math.Abs(b.c.Now.CentreMM.Z))
}

// widthSpan is how long a straight along the loop's width may be.
func (b *patternBuilder) widthSpan() (least, most float64) {
	l := b.c.Limits
	return l.ShortestStraightMM, max(l.ShortestStraightMM, l.LoopWidthMM-2*l.BendRadiusMM)
}

// gapOfUprightsMM is how far apart the two uprights of a loop stand at least, so that the
// wire does not rub (common practice).
const gapOfUprightsMM = 1

const (
	// Round bends of loops are made on larger beaks: 0.75 to 2 mm inside, common practice.
	roundBendMoreMM = 1.25
	radiusGridMM    = 0.25 // beaks come in such steps, common practice
)

// roundBend adds a bend of a fixed angle whose radius is free.
func (b *patternBuilder) roundBend(name string, angleRad float64) {
	least := b.c.Limits.BendRadiusMM
	b.add(spring.BendStep(angleRad, least), spring.Freedom{Name: name, Radius: true, Min: least, Max: least + roundBendMoreMM, Grid: radiusGridMM, Neutral: least})
}

// corner is a bend of a fixed angle, on the pliers.
func (b *patternBuilder) corner(angleRad float64) {
	b.fixed(spring.BendStep(angleRad, b.c.Limits.BendRadiusMM))
}

// closeLoop ends the loop with the step added last.
func (b *patternBuilder) closeLoop() { b.pattern.LoopLast = b.next() - 1 }

// openLoop begins the loop with the step added next.
func (b *patternBuilder) openLoop() { b.pattern.LoopFirst = b.next() }

// noLoop says that there is no loop that needs room.
func (b *patternBuilder) noLoop() { b.pattern.LoopFirst, b.pattern.LoopLast = b.next(), b.next()-1 }

func (b *patternBuilder) add(step spring.Step, freedom spring.Freedom) {
	freedom.Step = len(b.pattern.Steps)
	b.pattern.Steps = append(b.pattern.Steps, step)
	b.pattern.Freedoms = append(b.pattern.Freedoms, freedom)
}

func (b *patternBuilder) straight(name string, minMM, maxMM float64) {
	b.add(spring.StraightStep(minMM), spring.Freedom{Name: name, Min: minMM, Max: maxMM, Grid: b.c.Search.LengthStepMM})
}

func (b *patternBuilder) angle(name string, neutralRad float64) spring.Freedom {
	most := b.c.Limits.LargestPreBendRad
	return spring.Freedom{Name: name, Angle: true, Min: neutralRad - most, Max: neutralRad + most, Neutral: neutralRad, Grid: b.c.Search.AngleStepRad}
}

func (b *patternBuilder) bend(name string, neutralRad float64) {
	b.add(spring.BendStep(neutralRad, b.c.Limits.BendRadiusMM), b.angle(name, neutralRad))
}

func (b *patternBuilder) firstOrder(name string) {
	b.add(spring.Step{Kind: spring.Bend, RadiusMM: b.c.Limits.BendRadiusMM, Order: 1}, b.angle(name, 0))
}

func (b *patternBuilder) twist(name string) {
	b.add(spring.Step{Kind: spring.Twist, LengthMM: twistLengthMM}, b.angle(name, 0))
}
