package sheet

import (
	"math"
	"testing"

	"springwright/export/plane"
)

func TestBandsHaveRoom(t *testing.T) {
	inf := math.Inf(1)
	curve := plane.Box{Min: plane.Point{X: 0, Y: -1}, Max: plane.Point{X: 2, Y: 3}}
	for name, c := range map[string]struct {
		band      Band
		low, high float64 // least of what the chart must reach
	}{
		"within":                {Band{Min: 0, Max: 1}, -1, 3},
		"above":                 {Band{Min: 4, Max: 6}, -1, 6},
		"open above the curves": {Band{Min: 5, Max: inf}, -1, 5.1},
		"open below the curves": {Band{Min: -inf, Max: -2}, -2.1, 3},
		"open and within":       {Band{Min: -inf, Max: 1}, -1, 3},
		"everything":            {Band{Min: -inf, Max: inf}, -1, 3},
		"nothing":               {Band{Min: 9, Max: 9}, -1, 3},
	} {
		got := Chart{Bands: []Band{c.band}}.coverBands(curve)
		if got.Min.Y > c.low || got.Max.Y < c.high || math.IsInf(got.Height(), 0) {
			t.Errorf("%s: from %v to %v, want at least from %v to %v", name, got.Min.Y, got.Max.Y, c.low, c.high)
		}
		if inside := c.low == curve.Min.Y && c.high == curve.Max.Y; inside && got != curve {
			t.Errorf("%s: from %v to %v, want the range of the curves", name, got.Min.Y, got.Max.Y)
		}
	}
}

// An open end is at the edge of the chart and has no line there.
func TestBandEdges(t *testing.T) {
	values := plane.Box{Min: plane.Point{}, Max: plane.Point{X: 10, Y: 10}}
	for name, c := range map[string]struct {
		band  Band
		lines int
	}{
		"both ends":       {Band{Min: 2, Max: 4}, 3},
		"open":            {Band{Min: 2, Max: math.Inf(1)}, 2},
		"other":           {Band{Min: 2, Max: 4, Other: true}, 3},
		"bracket":         {Band{Min: 2, Max: 4, Bracket: true}, 3},
		"open bracket":    {Band{Min: math.Inf(-1), Max: 4, Bracket: true}, 2},
		"beyond the ends": {Band{Min: 2, Max: 4, FromX: 11}, 0},
	} {
		doc, err := NewDocument(210, 297)
		if err != nil {
			t.Fatal(err)
		}
		page := doc.AddPage(name)
		c.band.draw(page, values, func(q plane.Point) plane.Point { return q.Add(plane.Point{X: 50, Y: 50}) })
		if got := len(page.strokes); got != c.lines {
			t.Errorf("%s: %d lines, want %d", name, got, c.lines)
		}
		for _, s := range page.strokes {
			for _, q := range [...]plane.Point{s.A, s.B} {
				if q.X < 50 || q.X > 60 || q.Y < 50 || q.Y > 60 {
					t.Errorf("%s: a line leaves the chart at %v", name, q)
				}
			}
		}
	}
}
