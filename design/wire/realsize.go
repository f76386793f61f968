package wire

import "math"

// edgeRadiusShare is the radius of a rectangular wire's edges over its thinner side. Two
// measurements do not agree. A loss of 7–8 % of the area and of 15–19 % of the bending
// stiffness (Rucker and Kusy, Am J Orthod Dentofacial Orthop 2002;122:528) takes a radius of
// 0.36 of the thickness; play of 8.3–10.2° one way of 0.016 × 0.022 in wire in slots of
// 0.0187 in (Meling et al., the same 1997;111:310 and 1998;113:387) takes 0.09 to 0.17.
var edgeRadiusShare = Property{Value: 0.22, Min: 0.09, Max: 0.36, Source: "middle (choice) of what two measurements ask for: area and stiffness, " +
	"Am J Orthod Dentofacial Orthop 2002;122:528; play, the same 1997;111:310"}

// EdgeRadiusShare is the radius of a real rectangular wire's edges over its thinner side.
func EdgeRadiusShare() Property { return edgeRadiusShare }

// RealSize is a wire of the same nominal size as it really is: a rectangular one has rounded
// edges (see EdgeRadiusShare), which cost 0.017 × 0.025 in wire 7 % of its bending stiffness, 2
// to 18 % by the radius. Sides stay as stated, which is the middle of what was measured: 6.5 %
// less to 5.1 % more on 43 archwires (Lombardo et al., Angle Orthod 2015;85:848).
func (w Wire) RealSize() Wire {
	if !w.Round() {
		w.CornerRadiusMM = edgeRadiusShare.Value * math.Min(w.ThicknessMM, w.WidthMM)
	}
	return w
}

// SlotSize is what slots of a nominal height measure, mm.
type SlotSize struct {
	NominalMil float64
	HeightMM   Property
}

// NominalMM is the nominal height.
func (s SlotSize) NominalMM() float64 { return mmOfMil(s.NominalMil) }

var slotSizes = [...]SlotSize{
	{18, Property{0.476, 0.470, 0.481, "Meling et al., Am J Orthod Dentofacial Orthop 1998;113:387, ten brackets"}},
	{22, Property{0.559, 0.548, 0.576, "three makes 2 % below, at, and 3 % above the nominal: Major et al. 2010, doi 10.4061/2010/781321; " +
		"of twelve makes most were larger: Head Face Med 2021, doi 10.1186/s13005-021-00276-0, numbers not seen"}},
}

// SlotSizes are those of which measurements are known. The slice is the caller's.
func SlotSizes() []SlotSize { return append([]SlotSize(nil), slotSizes[:]...) }

// RealSlotHeightMM is what a slot of a nominal height measures; known is false for a height
// that is none of the nominal ones.
func RealSlotHeightMM(nominalMM float64) (heightMM float64, known bool) {
	hundredths := func(mm float64) float64 { return math.Round(100 * mm) } // 0.018 in may be written as 0.46 mm
	for _, s := range slotSizes {
		if hundredths(nominalMM) == hundredths(s.NominalMM()) {
			return s.HeightMM.Value, true
		}
	}
	return 0, false
}
