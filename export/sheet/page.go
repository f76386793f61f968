package sheet

import (
	"math"
	"strings"

	"springwright/export/plane"

	"github.com/tdewolff/canvas"
)

// Page is one page of a document.
type Page struct {
	Title string

	document *Document
	canvas   *canvas.Canvas
	context  *canvas.Context

	texts   []word          // what is written, and where
	strokes []plane.Segment // what is drawn
	inked   []plane.Box     // where there is ink
	heads   []plane.Segment // arrow heads, each from its base to its tip
	read    reading         // what all this is to somebody who has the page read aloud
}

// Pen is a kind of line.
type Pen int

// The pens, thinnest first. 0.1 mm is 2.4 dots of a printer with 600 dots to the inch.
const (
	Centreline   Pen = iota // 0.10 mm black: the middle of a wire, leaders
	Construction            // 0.13 mm grey: ghosts, rules, grids
	Outline                 // 0.13 mm black: the edge of a wire
	Mark                    // 0.18 mm black: bend marks, slots, arrows
	Bar                     // 0.25 mm black: scale bars, frames
	Curve                   // 0.35 mm black: curves of charts
)

// WidthMM is the width of the pen's line.
func (p Pen) WidthMM() float64 {
	return [...]float64{0.10, 0.13, 0.13, 0.18, 0.25, 0.35}[p]
}

// Polyline draws a line through points.
func (p *Page) Polyline(pen Pen, points []plane.Point) { p.stroke(pen, pathOf(points), points) }

// Line draws a straight line.
func (p *Page) Line(pen Pen, a, b plane.Point) { p.Polyline(pen, []plane.Point{a, b}) }

// Dashed draws a dashed line through points.
func (p *Page) Dashed(pen Pen, points []plane.Point, onMM, offMM float64) {
	// Cut here in mm: the package's own dashes are multiples of the line's width.
	p.stroke(pen, pathOf(points).Dash(0, onMM, offMM), points)
}

// Rectangle draws the outline of a box.
func (p *Page) Rectangle(pen Pen, b plane.Box) { p.Polyline(pen, corners(b)) }

// Circle draws a circle.
func (p *Page) Circle(pen Pen, centre plane.Point, radiusMM float64) {
	p.stroke(pen, canvas.Circle(radiusMM).Translate(centre.X, centre.Y), corners(plane.BoxAt(centre, 2*radiusMM, 2*radiusMM)))
}

// Dot draws a filled circle.
func (p *Page) Dot(centre plane.Point, radiusMM float64) {
	p.fill(canvas.Circle(radiusMM).Translate(centre.X, centre.Y), false)
	p.ink(plane.BoxAt(centre, 2*radiusMM, 2*radiusMM))
}

// Plate fills a polygon in black, but for holes. The polygon runs anticlockwise, holes clockwise.
func (p *Page) Plate(outline []plane.Point, holes ...[]plane.Point) {
	whole := pathOf(outline)
	whole.Close()
	for _, hole := range holes {
		path := pathOf(hole)
		path.Close()
		whole = whole.Append(path)
	}
	p.fill(whole, false)
	for _, q := range outline {
		p.ink(plane.Box{Min: q, Max: q})
	}
}

// Hatch fills a polygon with thin grey lines that leave it readable when photocopied.
func (p *Page) Hatch(polygon []plane.Point) { p.hatch(polygon, 45, 1.0) }

// HatchOther fills a polygon with lines that run the other way and lie wider apart.
func (p *Page) HatchOther(polygon []plane.Point) { p.hatch(polygon, -45, 1.6) }

func (p *Page) hatch(polygon []plane.Point, angleDeg, spacingMM float64) {
	clip := pathOf(polygon)
	clip.Close()
	// Tiled here: given as a fill the package prints a solid black box.
	lines := canvas.NewLineHatch(ink(true), angleDeg, spacingMM, Construction.WidthMM()).Tile(clip)
	if !lines.Empty() {
		p.fill(lines, true)
	}
	for _, q := range polygon {
		p.ink(plane.Box{Min: q, Max: q})
	}
}

// Arrow draws a straight arrow with a filled head at b.
func (p *Page) Arrow(pen Pen, a, b plane.Point) {
	const headMM = 1.6
	along := b.Sub(a).Unit()
	p.Line(pen, a, b.Sub(along.Times(headMM/2)))
	p.Head(b, along, headMM)
}

// ArcArrow draws an arc from startRad over sweepRad with a head at its end.
func (p *Page) ArcArrow(pen Pen, centre plane.Point, radiusMM, startRad, sweepRad, headMM float64) {
	const parts = 24
	on := func(rad float64) plane.Point {
		sin, cos := math.Sincos(rad)
		return centre.Add(plane.Point{X: radiusMM * cos, Y: radiusMM * sin})
	}
	end := startRad + sweepRad
	// The line stops inside the head.
	stop := end - math.Copysign(headMM/2/radiusMM, sweepRad)
	var arc []plane.Point
	for i := range parts + 1 {
		arc = append(arc, on(startRad+(stop-startRad)*float64(i)/parts))
	}
	p.Polyline(pen, arc)
	tip := on(end)
	p.Head(tip, tip.Sub(on(end-math.Copysign(headMM/radiusMM, sweepRad))).Unit(), headMM)
}

// Head draws a filled arrow head with its tip at tip.
func (p *Page) Head(tip, along plane.Point, lengthMM float64) {
	back, side := along.Times(-lengthMM), along.Left().Times(0.32*lengthMM)
	p.heads = append(p.heads, plane.Segment{A: tip.Add(back), B: tip})
	head := []plane.Point{tip, tip.Add(back).Add(side), tip.Add(back).Sub(side)}
	path := pathOf(head)
	path.Close()
	p.fill(path, false)
	for _, q := range head {
		p.ink(plane.Box{Min: q, Max: q})
	}
}

// Heads lists the arrow heads on the page, each from its base to its tip.
func (p *Page) Heads() []plane.Segment { return p.heads }

func (p *Page) stroke(pen Pen, path *canvas.Path, points []plane.Point) {
	p.context.SetFillColor(canvas.Transparent)
	p.context.SetStrokeColor(ink(pen == Construction))
	p.context.SetStrokeWidth(pen.WidthMM())
	p.context.SetStrokeCapper(canvas.ButtCap)
	p.context.SetStrokeJoiner(canvas.RoundJoin)
	p.drawPath(path)
	p.strokes = append(p.strokes, plane.Segments(points)...)
	for _, q := range points {
		p.ink(plane.Box{Min: q, Max: q})
	}
}

func (p *Page) fill(path *canvas.Path, grey bool) {
	p.context.SetFillColor(ink(grey))
	p.context.SetStrokeColor(canvas.Transparent)
	p.drawPath(path)
}

// drawPath draws a path, and notes what it is part of.
func (p *Page) drawPath(path *canvas.Path) {
	p.context.DrawPath(0, 0, path)
	p.read.drew()
}

func (p *Page) ink(b plane.Box) { p.inked = append(p.inked, b) }

func pathOf(points []plane.Point) *canvas.Path {
	path := &canvas.Path{}
	for i, q := range points {
		switch {
		case i == 0:
			path.MoveTo(q.X, q.Y)
		case i == len(points)-1 && q == points[0]:
			path.Close()
		default:
			path.LineTo(q.X, q.Y)
		}
	}
	return path
}

func corners(b plane.Box) []plane.Point {
	return []plane.Point{b.Min, {X: b.Max.X, Y: b.Min.Y}, b.Max, {X: b.Min.X, Y: b.Max.Y}, b.Min}
}

// Says tells whether a text stands somewhere in the document, on one or several lines.
func (d *Document) Says(text string) bool {
	for _, p := range d.Pages {
		var words []string
		for _, w := range p.texts {
			words = append(words, w.text)
		}
		if strings.Contains(strings.Join(words, " "), text) {
			return true
		}
	}
	return false
}
