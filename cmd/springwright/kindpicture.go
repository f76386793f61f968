package main

import (
	"math"
	"strings"
)

// A cell of a picture in plain characters; the characters of a terminal are about twice as high
// as they are wide.
const (
	cellWideMM, cellHighMM = 0.5, 1.0
	drawnSlot              = "[====]"
	drawnHook              = "(o"
)

// bounds are the least and the largest x and z of a line.
func bounds(line [][2]float64) (least, most [2]float64) {
	least, most = line[0], line[0]
	for _, p := range line {
		for k := range p {
			least[k], most[k] = min(least[k], p[k]), max(most[k], p[k])
		}
	}
	return least, most
}

// stroke is how much of the wire runs through a cell, and which way.
type stroke struct {
	along, up float64    // lengths, mm
	netMM     [2]float64 // from where it enters to where it leaves
}

// character is what looks most like the wire in a cell. Of two cells beside each other the one
// with more of a wire's rise shows it.
func (s stroke) character(riseBeside float64) byte {
	const (
		steep      = 3                // straights run level or upright, corners between
		leastMM    = 0.1              // less only grazes the cell
		halfCellMM = cellWideMM / 2.0 // a wire that runs on through the cell
	)
	switch {
	case s.along+s.up < leastMM:
		return ' '
	case s.up < riseBeside && s.up > s.along/steep && s.along < halfCellMM:
		return ' '
	case s.up < riseBeside:
		return '-'
	case s.along > steep*s.up:
		return '-'
	case s.up > steep*s.along:
		return '|'
	case s.netMM[0]*s.netMM[1] > 0:
		return '/'
	}
	return '\\'
}

// kindPicture draws a wire, given by x and z in mm from the anchor slot to the active slot or
// the hook, in plain characters.
func kindPicture(line [][2]float64, hooked bool) string {
	least, most := bounds(line)
	cell := func(p [2]float64) (row, column int) {
		return int(math.Round((most[1] - p[1]) / cellHighMM)), int(math.Round((p[0] - least[0]) / cellWideMM))
	}
	strokes := map[[2]int]stroke{}
	for i, to := range line[1:] {
		from := line[i]
		dx, dz := to[0]-from[0], to[1]-from[1]
		const partMM = 0.02 // well below a cell
		parts := math.Ceil(math.Hypot(dx, dz)/partMM) + 1
		for k := 0.5; k < parts; k++ {
			row, column := cell([2]float64{from[0] + dx*k/parts, from[1] + dz*k/parts})
			s := strokes[[2]int{row, column}]
			s.along += math.Abs(dx) / parts
			s.up += math.Abs(dz) / parts
			s.netMM[0] += dx / parts
			s.netMM[1] += dz / parts
			strokes[[2]int{row, column}] = s
		}
	}
	shift := 2 + len(drawnSlot) // of the wire behind an indent and the anchor slot
	lastRow, _ := cell(least)
	_, lastColumn := cell(most)
	rows := make([][]byte, lastRow+1)
	for row := range rows {
		rows[row] = []byte(strings.Repeat(" ", shift+lastColumn+1+len(drawnSlot)))
	}
	for at, s := range strokes {
		beside := max(strokes[[2]int{at[0], at[1] - 1}].up, strokes[[2]int{at[0], at[1] + 1}].up)
		if drawn := s.character(beside); drawn != ' ' {
			rows[at[0]][shift+at[1]] = drawn
		}
	}
	row, column := cell(line[0])
	copy(rows[row][shift+column-len(drawnSlot):], drawnSlot)
	end := drawnSlot
	if hooked {
		end = drawnHook
	}
	row, column = cell(line[len(line)-1])
	copy(rows[row][shift+column:], end)
	var text strings.Builder
	for _, r := range rows {
		text.WriteString(strings.TrimRight(string(r), " ") + "\n")
	}
	return text.String()
}
