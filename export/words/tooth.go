package words

import (
	"math"

	"springwright/design"
	"springwright/design/target"
	"springwright/design/tooth"
)

// The trade's words of direction are those of package tooth, which case files use as well. They reach the
// printed languages in this file alone.

// hook says a word of package tooth or design.
func (b *Book) hook(english string, values ...any) string { return b.Say(Phrase(english), values...) }

// Sense is which way a component pushes or turns a tooth, such as "mesial" or "crown-distal".
func (b *Book) Sense(of tooth.Member, k tooth.Component, value float64) string {
	return b.hook(of.Sense(k, value))
}

// Torque is what a couple about x does to a tooth, such as "buccal crown torque".
func (b *Book) Torque(of tooth.Member, coupleNMM float64) string {
	return b.hook(of.CoupleXWord(coupleNMM))
}

// LoadName is the trade's name of a component whose value has a sign, such as "mesial force".
func (b *Book) LoadName(of tooth.Member, k tooth.Component, value float64) string {
	return b.hook(of.LoadName(k, value))
}

// LoadNames names a component that may have either sense, such as "mesial or distal force".
func (b *Book) LoadNames(of tooth.Member, k tooth.Component) string { return of.LoadNames(k, b.hook) }

// Range says what a component is or may be: see tooth.Member.Range.
func (b *Book) Range(of tooth.Member, k tooth.Component, low, high float64, decimals int, unit string) string {
	return of.Range(k, low, high, func(v float64) string { return b.Number(v, decimals) }, unit, b.hook)
}

// Outward and Inward are the words for the sides of a tooth: "buccal", "lingual".
func (b *Book) Outward(n tooth.Number) string { return b.hook(n.OutwardWord()) }

// Inward is such as "lingual".
func (b *Book) Inward(n tooth.Number) string { return b.hook(n.InwardWord()) }

// Tooth is such as "lower left second molar".
func (b *Book) Tooth(n tooth.Number) string { return b.hook(n.Name()) }

// Quadrant is such as "lower left".
func (b *Book) Quadrant(n tooth.Number) string { return b.hook(n.QuadrantName()) }

// Side is a word of direction that package bend has from package tooth, such as "distal".
func (b *Book) Side(english string) string { return b.hook(english) }

// Edge is the word for towards the biting side of a tooth: "occlusal", or "incisal" where it has
// an edge.
func (b *Book) Edge(n tooth.Number) string {
	if n.Place() <= 3 {
		return b.Say("incisal")
	}
	return b.Say("occlusal")
}

// Towards is which way a force or a part of a move points, such as "mesially".
func (b *Book) Towards(of tooth.Member, k tooth.Component, value float64) string {
	switch {
	case k == tooth.ForceX && value*of.MesialSign() >= 0:
		return b.Say("mesially")
	case k == tooth.ForceX:
		return b.Say("distally")
	case k == tooth.ForceZ && value >= 0:
		return b.Say("apically")
	case k == tooth.ForceZ && of.Number.Place() <= 3:
		return b.Say("incisally")
	case k == tooth.ForceZ:
		return b.Say("occlusally")
	}
	switch of.ForceYWord(value) {
	case "buccal":
		return b.Say("buccally")
	case "labial":
		return b.Say("labially")
	case "palatal":
		return b.Say("palatally")
	}
	return b.Say("lingually")
}

// Source says where a centre of resistance is taken from; a source of the user's own as it is.
func (b *Book) Source(r tooth.Resistance) string { return b.Name(r.Source) }

// Quantity is the name of a quantity of which sign·value is above 0, such as "mesial force on
// anchor tooth 36".
func (b *Book) Quantity(c design.Case, q target.Quantity, sign float64) string {
	return c.QuantityName(q, sign, b.hook)
}

// Quantities is the name of a quantity by the sense that the target asks for; where it may have
// both, by both: "mesial or distal force".
func (b *Book) Quantities(c design.Case, q target.Quantity) string { return c.NameOf(q, b.hook) }

// QuantityDecimals is how many decimals a quantity is shown with.
func QuantityDecimals(q target.Quantity) int {
	if q.Couple() || q == target.MomentToForce {
		return 2
	}
	return 3
}

// sizedDecimals are the decimals of a size: as many as it takes to see more than nothing, six at most.
func sizedDecimals(size float64, decimals int) int {
	for decimals < 6 && math.Round(size*math.Pow10(decimals)) == 0 {
		decimals++
	}
	return decimals
}

// Way is which side of something a place lies on, along the axis of a component: "distal",
// "apical", "buccal".
func (b *Book) Way(of tooth.Member, k tooth.Component, value float64) string {
	switch {
	case k != tooth.ForceZ:
		return b.Sense(of, k, value)
	case value < 0:
		return b.Edge(of.Number)
	}
	return b.Say("apical")
}
