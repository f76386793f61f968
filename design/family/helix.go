package family

import (
	"math"

	"springwright/design"
	"springwright/design/spring"
	"springwright/design/target"
)

// helixRadiusMM is the usual radius of a helix to the wire's centreline: 2.5 to 3 mm across,
// common practice.
const helixRadiusMM = 1.3

// helix adds one turn of wire, in the sense of a second-order bend with sign turn, that lies
// along the wire in front of it and behind it. A hand moves the wire aside by its width
// halfway round so that it passes itself: two half turns with a first-order offset between,
// and the way back behind it. The wire goes on along its old line, moved back along it by
// the offset's length. name is that of the straight beside the helix.
func (b *patternBuilder) helix(turn float64, name string) {
	_, along := b.offsetSizes()
	first, second := b.helixTurn(turn)
	// Back beside the wire in front of the helix, then until the first half turn has risen.
	b.straight(name, math.Ceil(along+b.helixRadiusMM()), b.reachMM)
	b.offset(-1)
	b.passing(first, second)
}

// helixTurn adds the two half turns and the offset between them. It returns their
// steps.
func (b *patternBuilder) helixTurn(turn float64) (first, second int) {
	half := spring.BendStep(turn*math.Pi, b.helixRadiusMM())
	first = b.next()
	b.fixed(half)
	// Upside down the wire's own width still points the same way: the turn is about it.
	b.offset(1)
	second = b.next()
	b.fixed(half)
	return first, second
}

// passing notes that the wire from step second up to here passes all up to step first.
func (b *patternBuilder) passing(first, second int) {
	b.pattern.Passings = append(b.pattern.Passings, spring.Passing{One: [2]int{0, first}, Other: [2]int{second, b.next() - 1}})
}

func (b *patternBuilder) helixRadiusMM() float64 { return max(helixRadiusMM, b.c.Limits.BendRadiusMM) }

// pull is +1 where the case wants the spring to push the active tooth apically, −1 where
// occlusally.
func pull(c design.Case) float64 {
	for _, w := range [...]target.Window{c.Target.Start.ForceN[2], c.Target.Travel.ForceN[2]} {
		if !w.Free() && (w.Max < 0 || w.Min+w.Max < 0) {
			return -1
		}
	}
	return 1
}
