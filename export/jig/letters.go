package jig

import (
	"strings"

	"springwright/export/plane"
)

// strokes has the letters as strokes through points of a grid 2 wide and 4 high, x and y a digit each, y up.
var strokes = map[rune]string{
	'0': "00 20 24 04 00", '1': "03 14 10", '2': "04 24 22 02 00 20", '3': "04 24 20 00|02 22", '4': "04 02 22|24 20",
	'5': "24 04 02 22 20 00", '6': "24 04 00 20 22 02", '7': "04 24 10", '8': "00 20 24 04 00|02 22", '9': "22 02 04 24 20 00",
	'A': "00 03 14 23 20|02 22", 'B': "00 04 14 23 12 21 10 00|02 12", 'C': "24 04 00 20", 'D': "00 04 14 23 21 10 00", 'E': "24 04 00 20|02 12",
	'F': "24 04 00|02 12", 'G': "24 04 00 20 22 12", 'H': "00 04|20 24|02 22", 'I': "10 14", 'J': "24 20 00 01", 'K': "00 04|24 02 20",
	'L': "04 00 20", 'M': "00 04 12 24 20", 'N': "00 04 20 24", 'O': "01 03 14 23 21 10 01", 'P': "00 04 24 22 02", 'Q': "01 03 14 23 21 10 01|11 20",
	'R': "00 04 24 22 02 20", 'S': "24 14 03 21 10 00", 'T': "04 24|14 10", 'U': "04 00 20 24", 'V': "04 10 24", 'W': "04 00 12 20 24",
	'X': "00 24|04 20", 'Y': "04 12 24|12 10", 'Z': "04 24 00 20", '-': "02 22", '_': "00 20", '.': "10 10", '/': "00 24", '+': "02 22|11 13", ' ': "",
}

const (
	strokeMM = 0.5 // width of a stroke: more than a nozzle
	gridMM   = (letterMM - strokeMM) / 4
	stepMM   = 2*gridMM + strokeMM + 0.7 // from letter to letter
	// mostLetters go onto a plate; a code has no more.
	mostLetters = 32
)

// letterable is a text in the letters that there are, and those that there are none for.
func letterable(text string) (row, lost string) {
	var b strings.Builder
	n := 0
	for _, r := range strings.ToUpper(text) {
		if _, known := strokes[r]; !known || n == mostLetters {
			lost += string(r)
			continue
		}
		b.WriteRune(r)
		n++
	}
	return strings.TrimSpace(b.String()), lost
}

func rowWidth(row string) float64 {
	return float64(len(row))*stepMM - (stepMM - 2*gridMM - strokeMM)
}

// lettered is a row of letters, the lower left corner of its first one at at.
func lettered(row string, at plane.Point) (all []stretch) {
	for _, r := range row {
		for _, stroke := range strings.Split(strokes[r], "|") {
			var points []plane.Point
			for _, p := range strings.Fields(stroke) {
				grid := plane.Point{X: float64(p[0] - '0'), Y: float64(p[1] - '0')}
				points = append(points, at.Add(plane.Point{X: strokeMM / 2, Y: strokeMM / 2}).Add(grid.Times(gridMM)))
			}
			for _, s := range plane.Segments(points) {
				all = append(all, stretch{a: s.A, b: s.B, halfA: strokeMM / 2, halfB: strokeMM / 2, lowA: letterHigh, lowB: letterHigh})
			}
		}
		at.X += stepMM
	}
	return all
}
