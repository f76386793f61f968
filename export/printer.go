package export

import (
	"springwright/export/plane"
	"springwright/export/words"
)

// Printer says what a printer makes of the two 100 mm bars of a sheet. The zero value is
// a printer that prints true.
type Printer struct {
	LevelMM   float64 // what the level bar measures on paper; 0: 100
	UprightMM float64 // the same for the upright bar
}

// What a bar may measure: farther off, something else is wrong than a printer's feed.
const (
	ShortestBarMM = 90.0
	LongestBarMM  = 110.0
)

// true100 is what a bar measures, 100 where that is not told.
func true100(mm float64) float64 {
	if mm == 0 {
		return barMM
	}
	return mm
}

// scale is how much larger true sizes must be drawn, across and up the page.
func (p Printer) scale() plane.Point {
	return plane.Point{X: barMM / true100(p.LevelMM), Y: barMM / true100(p.UprightMM)}
}

func (p Printer) corrected() bool { return p.scale() != plane.Point{X: 1, Y: 1} }

// check finds bars that no sheet can be corrected for; NaN is one.
func (p Printer) check(fault func(format string, args ...any)) {
	for _, bar := range [...]struct {
		name string
		mm   float64
	}{{"level", p.LevelMM}, {"upright", p.UprightMM}} {
		if mm := true100(bar.mm); !(mm >= ShortestBarMM && mm <= LongestBarMM) {
			fault("the %s bar measures %g mm (allowed: %g to %g)", bar.name, mm, ShortestBarMM, LongestBarMM)
		}
	}
}

// text is what the sheet says of its correction, "" where there is none.
func (p Printer) text(words *words.Book) string {
	if !p.corrected() {
		return ""
	}
	return words.Say("Corrected for a printer that prints 100 mm as %s mm × %s mm (across × up the page). On that printer both bars measure 100 mm.",
		words.Number(true100(p.LevelMM), 1), words.Number(true100(p.UprightMM), 1))
}

// correctionMM is the room at the foot of a page for Printer.text.
func correctionMM(p Printer) float64 {
	if !p.corrected() {
		return 0
	}
	return 3.2
}

// scaled returns points that a printer brings back to where they were.
func scaled(points []plane.Point, by plane.Point) []plane.Point {
	out := make([]plane.Point, len(points))
	for i, q := range points {
		out[i] = plane.Point{X: q.X * by.X, Y: q.Y * by.Y}
	}
	return out
}

func (s shape) scaled(by plane.Point) shape {
	return shape{scaled(s.centre, by), scaled(s.left, by), scaled(s.right, by)}
}
