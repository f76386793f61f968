package casefile

import (
	"springwright/design"
	"springwright/design/quantity"
	"springwright/design/tooth"
)

// Where a target's windows hold.
const (
	atSlot       = "slot"
	atResistance = "centre of resistance"
)

// A root is some 10 to 17 mm long, and no centre of resistance lies outside it.
var (
	besideSpan = span{unit: quantity.Millimetre, low: -15, high: 15}
	apicalSpan = span{unit: quantity.Millimetre, low: 0, high: 25}
	leverSpan  = span{unit: plain, high: 200, above: true} // mm²
)

// readResistances reads where both teeth's centres of resistance lie, from the centre of
// each slot. What is left out is that of tooth.ResistanceOf.
func (c *caseReader) readResistances() design.Resistances {
	t := c.table("resistance")
	defer t.close()
	return design.Resistances{
		Active: t.resistance("active", c.teeth.Active),
		Anchor: t.resistance("anchor", c.teeth.Anchor),
	}
}

func (s *section) resistance(key string, n tooth.Number) tooth.Resistance {
	t := s.table(key)
	defer t.close()
	r := tooth.ResistanceOf(n)
	given := 0
	for i, f := range []struct {
		sense sense
		span  span
		value *float64
	}{{inwardSense, besideSpan, &r.InwardMM}, {distalSense, besideSpan, &r.DistalMM}, {apicalSense, apicalSpan, &r.ApicalMM}} {
		if key, way := t.sensed(f.sense, "_mm", n); key != "" {
			*f.value = way * t.optional(key, f.span, 0)
			r.SpreadMM[i] = 0
			given++
		}
	}
	switch given {
	case 0:
	case 3:
		r.Source, r.Guess = "the case file", false
	default:
		r.Source = "the case file in part; else " + r.Source
	}
	if t.has("lever_mm2") {
		r.LeverMM2, r.LeverGuess = t.optional("lever_mm2", leverSpan, 0), false
	}
	return r
}

// atResistance reads where the target's windows hold; left out it is the slot.
func (s *section) atResistance() bool {
	if !s.has("at") {
		return false
	}
	word, _ := s.word("at", atSlot, atResistance)
	return word == atResistance
}
