package sheet

import (
	"image/color"

	"springwright/export/plane"

	"github.com/tdewolff/canvas"
)

// Silhouette draws the outline of all that convex pieces cover together: first the outer
// pieces in black, then the inner ones, which are smaller by a pen's width all round, in
// white. Each piece runs anticlockwise.
func (p *Page) Silhouette(outer, inner [][]plane.Point) {
	p.context.SetStrokeColor(canvas.Transparent)
	draw := func(pieces [][]plane.Point, colour color.RGBA) {
		// One path: pieces that are painted one after another show seams.
		all := &canvas.Path{}
		for _, piece := range pieces {
			path := pathOf(piece)
			path.Close()
			all = all.Append(path)
		}
		p.context.SetFillColor(colour)
		p.drawPath(all)
	}
	draw(outer, canvas.Black)
	draw(inner, canvas.White)
	for _, piece := range outer {
		for i, q := range piece {
			p.ink(plane.Box{Min: q, Max: q})
			p.strokes = append(p.strokes, plane.Segment{A: q, B: piece[(i+1)%len(piece)]})
		}
	}
}
