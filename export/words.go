package export

import (
	"fmt"
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"springwright/design/wire"
	"springwright/export/bend"
	"springwright/export/phrase"
	"springwright/export/sheet"
)

const (
	degree     = math.Pi / 180
	inchMM     = 25.4
	gramForceN = 0.00980665 // standard gravity, exact
)

// degrees writes an angle to a tenth of a degree, whole degrees without decimals.
func degrees(rad float64) string {
	return strings.TrimSuffix(sheet.Number(rad/degree, 1), ".0") + "°"
}

// millimetres writes a length to a hundredth, without trailing zeros beyond the first decimal.
func millimetres(mm float64) string {
	s := sheet.Number(mm, 2)
	return strings.TrimSuffix(s, "0")
}

// bendText is by how much a row bends or twists the wire.
func bendText(r bend.Row) string {
	if r.Twist {
		return degrees(math.Abs(r.TwistRad))
	}
	return degrees(r.BendRad)
}

// wayText is which way a row goes: left or right for somebody who looks from the cheek and
// follows the wire, to a side of the mouth where it leaves that plane, and about the wire
// for somebody who looks along it.
func wayText(words *phrase.Book, r bend.Row) string {
	switch {
	case r.Twist && r.TwistRad < 0:
		return words.Say("anticlockwise")
	case r.Twist: // right-handed about what points away
		return words.Say("clockwise")
	case !r.InView:
		return words.Say("to %s", words.Say(r.Towards))
	case r.SeenRad < 0:
		return words.Say("right")
	}
	return words.Say("left")
}

// seenText is by how much and which way.
func seenText(words *phrase.Book, r bend.Row) string {
	switch {
	case r.Twist && r.TwistRad < 0:
		return words.Say("twist %s anticlockwise", degrees(-r.TwistRad))
	case r.Twist:
		return words.Say("twist %s clockwise", degrees(r.TwistRad))
	case !r.InView:
		return words.Say("%s, to %s", degrees(r.BendRad), words.Say(r.Towards))
	case r.SeenRad < 0:
		return words.Say("%s right", degrees(-r.SeenRad))
	}
	return words.Say("%s left", degrees(r.SeenRad))
}

func radiusText(r bend.Row) string {
	if r.Twist {
		return "–"
	}
	return sheet.Number(r.RadiusMM, 2)
}

func lengthsText(words *phrase.Book, t bend.Table) string {
	s := words.Say("Developed length %s mm, cut length %s mm: %d mm to hold at each end",
		sheet.Number(t.DevelopedMM, 2), sheet.Number(t.CutMM(), 1), bend.HoldMM)
	switch {
	case t.Hooked:
		s += words.Say(", %s mm in the anchor slot. The hook is bent from what is left behind the last mark", millimetres(t.AnchorSlotMM))
	case t.AnchorSlotMM+t.ActiveSlotMM > 0:
		s += words.Say(", %s and %s mm in the slots", millimetres(t.AnchorSlotMM), millimetres(t.ActiveSlotMM))
	}
	return s + "."
}

// wireText is such as "beta-titanium 0.432 × 0.635 mm (0.017 × 0.025 in)".
func wireText(words *phrase.Book, w wire.Wire) string { return alloyText(words, w) + " " + sizeText(w) }

func alloyText(words *phrase.Book, w wire.Wire) string {
	if w.Alloy == "" {
		return words.Say("wire of E %s GPa", sheet.Number(w.EMPa/1000, 1))
	}
	return words.Name(w.Alloy)
}

func sizeText(w wire.Wire) string {
	if w.Round() {
		return fmt.Sprintf("Ø %.3f mm (Ø %.3f in)", w.DiameterMM, w.DiameterMM/inchMM)
	}
	return fmt.Sprintf("%.3f × %.3f mm (%.3f × %.3f in)", w.ThicknessMM, w.WidthMM, w.ThicknessMM/inchMM, w.WidthMM/inchMM)
}

// capital returns s with a capital first letter.
func capital(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	if size == 0 {
		return s
	}
	return string(unicode.ToUpper(first)) + s[size:]
}
