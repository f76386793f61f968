package export

import (
	"math"

	"springwright/design/wire"
	"springwright/export/bend"
	"springwright/export/words"
)

const (
	degree     = math.Pi / 180
	inchMM     = 25.4
	gramForceN = 0.00980665 // standard gravity, exact
)

// bendText is by how much a row bends or twists the wire.
func bendText(words *words.Book, r bend.Row) string {
	if r.Twist {
		return words.Degrees(math.Abs(r.TwistRad))
	}
	return words.Degrees(r.BendRad)
}

// wayText is which way a row goes: left or right for somebody who looks from the cheek and
// follows the wire, to a side of the mouth where it leaves that plane, and about the wire
// for somebody who looks along it.
func wayText(words *words.Book, r bend.Row) string {
	switch {
	case r.Twist && r.TwistRad < 0:
		return words.Say("anticlockwise")
	case r.Twist: // right-handed about what points away
		return words.Say("clockwise")
	case !r.InView:
		return words.Say("to %s", words.Side(r.Towards))
	case r.SeenRad < 0:
		return words.Say("right")
	}
	return words.Say("left")
}

// seenText is by how much and which way.
func seenText(words *words.Book, r bend.Row) string {
	switch {
	case r.Twist && r.TwistRad < 0:
		return words.Say("twist %s anticlockwise", words.Degrees(-r.TwistRad))
	case r.Twist:
		return words.Say("twist %s clockwise", words.Degrees(r.TwistRad))
	case !r.InView:
		return words.Say("%s, to %s", words.Degrees(r.BendRad), words.Side(r.Towards))
	case r.SeenRad < 0:
		return words.Say("%s right", words.Degrees(-r.SeenRad))
	}
	return words.Say("%s left", words.Degrees(r.SeenRad))
}

// directionText is such as "distal, 14° occlusal".
func directionText(words *words.Book, d bend.Direction) string {
	text := words.Side(d[0].Side)
	for _, lean := range d[1:] {
		text += ", " + words.Say("%s° %s", words.Number(lean.Rad/degree, 0), words.Side(lean.Side))
	}
	return text
}

func radiusText(words *words.Book, r bend.Row) string {
	if r.Twist {
		return "–"
	}
	return words.Number(r.RadiusMM, 2)
}

func lengthsText(words *words.Book, t bend.Table) string {
	s := words.Say("Developed length %s mm, cut length %s mm: %d mm to hold at each end",
		words.Number(t.DevelopedMM, 2), words.Number(t.CutMM(), 1), bend.HoldMM)
	switch {
	case t.Hooked:
		s += words.Say(", %s mm in the anchor slot. The hook is bent from what is left behind the last mark", words.Millimetres(t.AnchorSlotMM))
	case t.AnchorSlotMM+t.ActiveSlotMM > 0:
		s += words.Say(", %s and %s mm in the slots", words.Millimetres(t.AnchorSlotMM), words.Millimetres(t.ActiveSlotMM))
	}
	return s + "."
}

// wireText is such as "beta-titanium 0.432 × 0.635 mm (0.017 × 0.025 in)".
func wireText(words *words.Book, w wire.Wire) string {
	return words.Alloy(w) + " " + sizeText(words, w)
}

func sizeText(words *words.Book, w wire.Wire) string {
	size := func(v float64) string { return words.Number(v, 3) }
	if w.Round() {
		return "Ø " + size(w.DiameterMM) + " mm (Ø " + size(w.DiameterMM/inchMM) + " in)"
	}
	return size(w.ThicknessMM) + " × " + size(w.WidthMM) + " mm (" + size(w.ThicknessMM/inchMM) + " × " + size(w.WidthMM/inchMM) + " in)"
}
