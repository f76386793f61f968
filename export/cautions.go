package export

import (
	"math"

	"springwright/export/plane"
	"springwright/export/sheet"
	"springwright/export/words"
)

// shortCautions stands at the foot of every page.
const shortCautions = "For licensed dental professionals. An estimate, not a prescription: the prescriber decides and local rules apply. " +
	"Real wires differ by about a quarter from the nominal stiffness: check with a force gauge before tying."

// cautions are printed in full beside the loads.
var cautions = [...]words.Phrase{
	"For licensed dental professionals. An estimate, not a prescription: the prescriber decides and local rules apply.",
	"Real wires differ by about a quarter from the nominal stiffness: check with a force gauge before tying.",
	"Keep to the lightest force that works. Root resorption rises with force and time.",
	"Watch the anchor tooth: it extrudes and tips unless it is held.",
	"Keep loops off gum and cheek. Turn in and tie the ends: a loose or broken spring can be swallowed or inhaled.",
	"Ask about nickel allergy: stainless steel and nickel-titanium contain nickel, beta-titanium does not.",
	"Replace a spring that was bent back and forth.",
}

const (
	cautionsHeadMM   = 6.5
	cautionsApartMM  = 6.0 // between the two columns
	cautionsIndentMM = 3.0
)

func cautionsWidthMM(f *flow) float64 { return (f.area.Width() - cautionsApartMM) / 2 }

// cautionHeightMM is what one caution takes in its column.
func cautionHeightMM(f *flow, text string) float64 {
	style := sheet.Style{SizePt: sheet.SmallPt}
	return f.doc.HeightOf(text, cautionsWidthMM(f)-cautionsIndentMM, style) + 0.8
}

// leftColumn returns how many cautions stand in the left column, and how tall the taller
// column is.
func leftColumn(f *flow) (count int, heightMM float64) {
	var total, left float64
	for _, c := range cautions {
		total += cautionHeightMM(f, f.say(c))
	}
	for _, c := range cautions {
		if left >= total/2 {
			break
		}
		left += cautionHeightMM(f, f.say(c))
		count++
	}
	return count, math.Max(left, total-left)
}

func cautionsHeightMM(f *flow) float64 {
	_, height := leftColumn(f)
	return cautionsHeadMM + height
}

// drawCautions lays out the cautions in two columns.
func drawCautions(f *flow) {
	style := sheet.Style{SizePt: sheet.SmallPt}
	f.need(cautionsHeightMM(f))
	f.heading(f.say("Cautions"), "")
	count, height := leftColumn(f)
	at := f.take(height)
	y := at.Y
	for i, english := range cautions {
		c := f.say(english)
		if i == count {
			at.X, y = at.X+cautionsWidthMM(f)+cautionsApartMM, at.Y
		}
		f.page.Dot(plane.Point{X: at.X + 0.8, Y: y - style.CapMM()/2}, 0.45)
		f.page.Paragraph(plane.Point{X: at.X + cautionsIndentMM, Y: y}, cautionsWidthMM(f)-cautionsIndentMM, c, style)
		y -= cautionHeightMM(f, c)
	}
}
