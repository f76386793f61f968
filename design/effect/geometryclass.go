package effect

import (
	"math"

	"springwright/design/spring"
	"springwright/design/tooth"
)

// GeometryClass is one of the six classes in which the trade sorts the load systems of a
// wire in two slots, by the ratio of the couples (Burstone and Koenig, Am J Orthod
// 1974;65:270): I, both the same, to VI, equal and opposite. IV is a couple on one tooth
// only. The zero value is no class: no couple worth naming on either tooth.
type GeometryClass int

// String returns the Roman number, "" for no class.
func (g GeometryClass) String() string {
	return [...]string{"", "I", "II", "III", "IV", "V", "VI"}[g]
}

// classRatios are the ratios of the smaller couple to the larger that stand for the
// classes.
var classRatios = [...]float64{1, 0.8, 0.5, 0, -0.4, -1}

// Ratio returns the class's ratio of the smaller couple to the larger.
func (g GeometryClass) Ratio() float64 { return classRatios[g-1] }

// couplesRatio returns the ratio of the smaller tipping couple on the two teeth to the
// larger; ok is false where neither is worth naming.
func couplesRatio(active, anchor tooth.Load) (ratio float64, ok bool) {
	return ratioOf(active.CoupleNMM.Y, anchor.CoupleNMM.Y)
}

// ratioOf is couplesRatio of two couples, N·mm.
func ratioOf(a, b float64) (ratio float64, ok bool) {
	if math.Abs(a) > math.Abs(b) {
		a, b = b, a
	}
	if math.Abs(b) < LeastCoupleNMM {
		return 0, false
	}
	return a / b, true
}

// ClassOf returns the class whose ratio lies nearest to that of the tipping couples
// on the two teeth.
func ClassOf(p spring.Position) GeometryClass { return classOf(p.Active, p.Anchor) }

// Class is the geometry class that the slots have come to by this step: as both teeth drift, it
// becomes another one.
func (s DriftStep) Class() GeometryClass { return classOf(s.Active, s.OnAnchor) }

func classOf(active, anchor tooth.Load) GeometryClass {
	ratio, ok := couplesRatio(active, anchor)
	if !ok {
		return 0
	}
	best := GeometryClass(1)
	for i := range classRatios {
		if g := GeometryClass(i + 1); math.Abs(ratio-g.Ratio()) < math.Abs(ratio-best.Ratio()) {
			best = g
		}
	}
	return best
}
