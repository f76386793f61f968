package sheet

import (
	"math"

	"springwright/export/plane"
)

// Band is a range of a chart's values that is marked. An end at −Inf or +Inf is open: the
// band then reaches to the chart's edge and has no line there.
type Band struct {
	Min, Max float64
	FromX    float64 // the band covers x from here upwards
	Other    bool    // told apart from the first kind by dashed edges and its hatching
	// Bracket marks the range at the largest x only, by a bracket instead of hatching.
	Bracket bool
}

// none tells that nothing is marked.
func (b Band) none() bool {
	return b.Min >= b.Max || math.IsInf(b.Min, -1) && math.IsInf(b.Max, 1)
}

// coverEnds makes room for the ends of the bands.
func (c Chart) coverEnds(values plane.Box) plane.Box {
	for _, b := range c.Bands {
		if b.none() {
			continue
		}
		for _, end := range [...]float64{b.Min, b.Max} {
			if !math.IsInf(end, 0) {
				values = values.Cover(plane.Point{X: values.Max.X, Y: end})
			}
		}
	}
	return values
}

// coverBands makes room for the bands, those with an open end included.
func (c Chart) coverBands(values plane.Box) plane.Box {
	values = c.coverEnds(values)
	const room = 0.15 // of the height: enough to see on which side the band lies
	height := values.Height()
	for _, b := range c.Bands {
		switch {
		case b.none():
		case math.IsInf(b.Max, 1):
			values = values.Cover(plane.Point{X: values.Max.X, Y: b.Min + room*height})
		case math.IsInf(b.Min, -1):
			values = values.Cover(plane.Point{X: values.Max.X, Y: b.Max - room*height})
		}
	}
	return values
}

// draw draws a band into a chart of values, which at puts on the page.
func (b Band) draw(p *Page, values plane.Box, at func(plane.Point) plane.Point) {
	from := math.Max(values.Min.X, b.FromX)
	if b.none() || from > values.Max.X {
		return
	}
	low, high := math.Max(b.Min, values.Min.Y), math.Min(b.Max, values.Max.Y)
	start, end := at(plane.Point{X: values.Max.X, Y: low}), at(plane.Point{X: from, Y: high})
	inwards := 1.0
	if end.X < start.X {
		inwards = -1
	}
	if b.Bracket {
		const tickMM, insetMM = 1.8, 0.9
		x := start.X + inwards*insetMM
		p.Line(Curve, plane.Point{X: x, Y: start.Y}, plane.Point{X: x, Y: end.Y})
		for _, e := range [...]struct{ value, y float64 }{{b.Min, start.Y}, {b.Max, end.Y}} {
			if !math.IsInf(e.value, 0) {
				p.Line(Curve, plane.Point{X: x, Y: e.y}, plane.Point{X: x + inwards*tickMM, Y: e.y})
			}
		}
		return
	}
	area := corners(plane.Empty().Cover(start).Cover(end))[:4]
	edge := func(a, b plane.Point) { p.Line(Outline, a, b) }
	if b.Other {
		p.HatchOther(area)
		edge = func(a, b plane.Point) { p.Dashed(Outline, []plane.Point{a, b}, 1.5, 1) }
	} else {
		p.Hatch(area)
	}
	edge(plane.Point{X: end.X, Y: start.Y}, end)
	for _, e := range [...]struct{ value, y float64 }{{b.Min, start.Y}, {b.Max, end.Y}} {
		if !math.IsInf(e.value, 0) {
			edge(plane.Point{X: start.X, Y: e.y}, plane.Point{X: end.X, Y: e.y})
		}
	}
}
