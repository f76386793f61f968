package export

import (
	"math"

	"springwright/export/plane"
	"springwright/export/sheet"
)

// Size of a bank card: ISO/IEC 7810, size ID-1.
const (
	cardWidthMM  = 85.60
	cardHeightMM = 53.98
	cardRadiusMM = 3.18
)

// cardSizeMM is what the card takes on the page.
func cardSizeMM(scale plane.Point) (width, height float64) {
	return cardWidthMM * scale.X, cardHeightMM * scale.Y
}

// drawCard draws the outline of a bank card, its top left corner at at, and returns the
// room inside it for text.
func drawCard(p *sheet.Page, scale, at plane.Point) plane.Box {
	width, height := cardSizeMM(scale)
	corner := at.Sub(plane.Point{Y: height})
	p.Polyline(sheet.Bar, cardOutline(corner, scale))
	card := plane.Box{Min: corner, Max: plane.Point{X: corner.X + width, Y: at.Y}}
	return card.Grown(-cardRadiusMM)
}

// cardOutline is closed; its bottom left corner, had it no radius, is at at.
func cardOutline(at plane.Point, scale plane.Point) []plane.Point {
	const parts = 12 // a quarter: chords within 0.007 mm of the arc
	var points []plane.Point
	for quarter := range 4 {
		// Centres of the corners: bottom left first, anticlockwise.
		centre := plane.Point{X: cardRadiusMM, Y: cardRadiusMM}
		if quarter == 1 || quarter == 2 {
			centre.X = cardWidthMM - cardRadiusMM
		}
		if quarter >= 2 {
			centre.Y = cardHeightMM - cardRadiusMM
		}
		for i := range parts + 1 {
			sin, cos := math.Sincos(math.Pi/2*(float64(quarter)+float64(i)/parts) + math.Pi)
			points = append(points, centre.Add(plane.Point{X: cardRadiusMM * cos, Y: cardRadiusMM * sin}))
		}
	}
	for i, q := range points {
		points[i] = at.Add(plane.Point{X: q.X * scale.X, Y: q.Y * scale.Y})
	}
	return append(points, points[0])
}
