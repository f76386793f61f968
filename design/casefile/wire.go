package casefile

import (
	"fmt"
	"math"
	"strings"

	"springwright/design/quantity"
	"springwright/design/wire"
)

// The widest spans that still make sense of a wire. Orthodontic wires are 0.2 to 0.7 mm
// thick; test bars may be thicker.
var (
	plain       = quantity.Unit{Size: 1} // a number without a unit
	sizeSpan    = span{unit: quantity.Millimetre, low: 0.05, high: 3}
	modulusSpan = span{unit: quantity.Gigapascal, low: 1, high: 400}
	poissonSpan = span{low: 0, high: 0.49, unit: plain}
	yieldSpan   = span{unit: quantity.Megapascal, low: 1, high: 5000}
	tangentSpan = span{unit: quantity.Megapascal, low: 0, high: 400000, above: true}
)

// wire reads the table [wire] of a spring file.
func (s *section) wire() wire.Wire {
	t := s.required("wire", "add [wire] with alloy, thickness_mm and width_mm")
	w := t.oneWire()
	t.close()
	return w
}

// oneWire reads a table that says one wire.
func (s *section) oneWire() wire.Wire {
	w := s.alloy()
	switch {
	case !s.has("tangent_mpa"):
	case w.IsSuperelastic():
		s.blame("tangent_mpa", "does not go with a superelastic wire", "leave it out: the alloy has its own law")
	default:
		w.TangentMPa = s.optional("tangent_mpa", tangentSpan, 0)
		if w.TangentMPa >= w.EMPa {
			s.blame("tangent_mpa", quantity.Format(w.TangentMPa)+" MPa is not below the modulus "+quantity.Format(w.EMPa)+" MPa",
				"past yield a wire is softer than before")
		}
	}
	s.bends(&w)
	s.size(&w)
	return w
}

const (
	bendsAsBent   = "as bent"
	bendsRelieved = "stress-relieved"
)

// bends reads what stress the bends of the finished spring hold; left out, that of bending.
func (s *section) bends(w *wire.Wire) {
	switch {
	case !s.has("bends"):
	case w.IsSuperelastic():
		s.blame("bends", "does not go with a superelastic wire", "leave it out: such a wire is not bent by hand")
	default:
		word, _ := s.word("bends", bendsAsBent, bendsRelieved)
		w.StressRelieved = word == bendsRelieved
	}
}

// size reads the section: rectangular or round.
func (s *section) size(w *wire.Wire) {
	round := s.has("diameter_mm")
	for _, key := range []string{"thickness_mm", "width_mm"} {
		switch {
		case round && s.has(key):
			s.blame(key, "is given beside diameter_mm", "a round wire has a diameter only; a rectangular one thickness_mm and width_mm")
		case !round && !s.has(key):
			s.missing(key, fmt.Sprintf("allowed is %v; a round wire has diameter_mm instead", sizeSpan))
		}
	}
	if round {
		w.DiameterMM = s.optional("diameter_mm", sizeSpan, 0)
		s.realSize("diameter_mm") // which is the nominal one
		return
	}
	w.ThicknessMM = s.optional("thickness_mm", sizeSpan, math.NaN())
	w.WidthMM = s.optional("width_mm", sizeSpan, math.NaN())
	if s.realSize("thickness_mm") && (s.has("size") || !s.has("corner_radius_mm")) {
		if s.has("corner_radius_mm") {
			s.blame("corner_radius_mm", `is given beside size = "real"`, "leave one of them out: the real size brings the edges' usual radius")
		}
		*w = w.RealSize()
		return
	}
	if s.has("corner_radius_mm") {
		w.CornerRadiusMM = s.optional("corner_radius_mm", span{unit: quantity.Millimetre, high: sizeSpan.high / 2}, 0)
		if half := min(w.ThicknessMM, w.WidthMM) / 2; w.CornerRadiusMM > half {
			s.blame("corner_radius_mm", millimetres(w.CornerRadiusMM)+" is more than half the thinner side, "+millimetres(half),
				"leave it out for sharp edges")
		}
	}
}

const (
	sizeNominal = "nominal"
	sizeReal    = "real"
)

// realSize reads size, which tells whether the size of a wire or slot that key writes stands for what
// wires and slots of that name usually measure. Left out, it does so in a case where it is written in
// inches, as those names are; what is written in millimetres is taken as it is.
func (s *section) realSize(key string) bool {
	if !s.has("size") {
		e := s.peek(key)
		return s.named && e != nil && e.value.kind == text && quantity.InInches(e.value.text)
	}
	word, _ := s.word("size", sizeNominal, sizeReal)
	return word == sizeReal
}

// slotHeight is the height of a slot that is written with a height.
func (s *section) slotHeight(heightMM float64) float64 {
	if !s.realSize("height_mm") {
		return heightMM
	}
	real, known := wire.RealSlotHeightMM(heightMM)
	if !known && s.has("size") {
		var names []string
		for _, size := range wire.SlotSizes() {
			names = append(names, fmt.Sprintf("%.3f in", size.NominalMil/1000))
		}
		if !math.IsNaN(heightMM) { // else it has been blamed already
			s.blame("size", fmt.Sprintf("what slots of %s really measure is not known", millimetres(heightMM)),
				"it is of "+strings.Join(names, " and ")+`; for a slot that was measured write its height and size = "nominal"`)
		}
	}
	if !known {
		return heightMM
	}
	return real
}

func millimetres(mm float64) string { return quantity.Format(mm) + " mm" }
