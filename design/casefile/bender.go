package casefile

import (
	"springwright/design"
	"springwright/design/quantity"
)

// Whether the finished spring is held against its template.
const (
	checksNeutral = "neutral position"
	checksNothing = "none"
)

// A bend a third of a right angle wrong or a leg 3 mm wrong is another spring.
var (
	angleSDSpan     = span{unit: quantity.Degree, high: 30}
	lengthSDSpan    = span{unit: quantity.Millimetre, high: 3}
	stiffnessSDSpan = span{unit: plain, high: 0.5}
	gaugeSDSpan     = span{unit: quantity.Newton, high: 1}
)

// readBender reads what a hand, its measurements and its wire are off by. What is left out
// is that of design.SkilledBender.
func (s *section) readBender() design.Bender {
	t := s.table("bender")
	defer t.close()
	b := design.SkilledBender()
	angle := func(key string, usualRad float64) float64 {
		return t.optional(key, angleSDSpan, quantity.Degree.Outside(usualRad))
	}
	b.AngleSDRad = angle("angle_sd_deg", b.AngleSDRad)
	b.LengthSDMM = t.optional("length_sd_mm", lengthSDSpan, b.LengthSDMM)
	b.SlotSDMM = t.optional("slot_sd_mm", lengthSDSpan, b.SlotSDMM)
	b.SlotSDRad = angle("slot_sd_deg", b.SlotSDRad)
	b.StiffnessSD = t.optional("stiffness_sd", stiffnessSDSpan, b.StiffnessSD)
	b.GaugeSDN = t.optional("gauge_sd_n", gaugeSDSpan, b.GaugeSDN)
	if t.has("check") {
		word, _ := t.word("check", checksNeutral, checksNothing)
		b.Checks = word == checksNeutral
	}
	b.CheckSDMM = t.optional("check_sd_mm", lengthSDSpan, b.CheckSDMM)
	b.CheckSDRad = angle("check_sd_deg", b.CheckSDRad)
	b.Springs = t.whole("springs", 0, design.MostSprings, b.Springs)
	return b
}
