// Package schematic draws what the letters of the measuring sheet stand for: teeth of a lower left
// with distances and angles between them, not to scale.
package schematic

import (
	"math"

	"springwright/export/plane"
	"springwright/export/sheet"
	"springwright/export/words"
)

// drawing is a schematic drawing, not to scale, on its own axes about the middle of a
// panel.
type drawing struct {
	page   *sheet.Page
	say    Say
	centre plane.Point
	scale  float64
}

// Say says a phrase in the language of the sheet.
type Say func(english words.Phrase, args ...any) string

const (
	degree   = math.Pi / 180
	ringedMM = 2.1 // radius of the ring round a letter
	insetMM  = 2.0 // of a title in its panel
	titleMM  = 3.5 // height that it takes
)

// begin draws the frame of a drawing that is width × height on its own axes.
func begin(page *sheet.Page, say Say, panel plane.Box, title words.Phrase, width, height float64) drawing {
	page.Rectangle(sheet.Construction, panel)
	body, small := sheet.Style{SizePt: sheet.BodyPt, Bold: true}, sheet.Style{SizePt: sheet.SmallPt}
	at := plane.Point{X: panel.Min.X + insetMM, Y: panel.Max.Y - 1.5 - body.CapMM()}
	x := page.Text(at, say(title), body)
	if remark := say("not to scale"); x+2+page.WidthOf(remark, small) < panel.Width()-2*insetMM {
		page.Text(plane.Point{X: at.X + x + 2, Y: at.Y}, remark, small)
	}
	centre := panel.Centre().Sub(plane.Point{Y: titleMM / 2})
	return drawing{page, say, centre, math.Min(panel.Width()/width, (panel.Height()-titleMM)/height)}
}

func (d drawing) at(x, y float64) plane.Point {
	return d.centre.Add(plane.Point{X: x, Y: y}.Times(d.scale))
}

func (d drawing) line(pen sheet.Pen, xy ...float64) {
	d.page.Polyline(pen, d.points(xy))
}

func (d drawing) dashed(xy ...float64) { d.page.Dashed(sheet.Mark, d.points(xy), 1.2, 0.8) }

func (d drawing) points(xy []float64) []plane.Point {
	return plane.Placed(pointsOf(xy), d.centre, d.scale)
}

// pointsOf are points of which x and y are given in turn.
func pointsOf(xy []float64) []plane.Point {
	var points []plane.Point
	for i := 0; i+1 < len(xy); i += 2 {
		points = append(points, plane.Point{X: xy[i], Y: xy[i+1]})
	}
	return points
}

// turned draws a closed outline about a point, turned to the left.
func (d drawing) turned(pen sheet.Pen, x, y, deg float64, outline []plane.Point) {
	var points []plane.Point
	for _, q := range outline {
		q = q.Turned(deg * degree)
		points = append(points, d.at(x+q.X, y+q.Y))
	}
	d.page.Polyline(pen, append(points, points[0]))
}

// span draws a dimension line with heads at both ends.
func (d drawing) span(x1, y1, x2, y2 float64) {
	a, b := d.at(x1, y1), d.at(x2, y2)
	d.page.Line(sheet.Mark, a, b)
	along := b.Sub(a).Unit()
	const headMM = 1.5
	d.page.Head(b, along, headMM)
	d.page.Head(a, along.Times(-1), headMM)
}

// letter draws a letter in a ring.
func (d drawing) letter(text string, x, y float64) {
	style := sheet.Style{SizePt: sheet.BodyPt, Bold: true, Align: sheet.Centre}
	at := d.at(x, y)
	d.page.Circle(sheet.Mark, at, ringedMM)
	d.page.Text(at.Sub(plane.Point{Y: style.CapMM() / 2}), text, style)
}

// turn draws an arc about a point from one angle over a sweep, its head at the sweep's end.
func (d drawing) turn(x, y, radius, fromDeg, sweepDeg float64) {
	d.page.ArcArrow(sheet.Mark, d.at(x, y), d.scale*radius, fromDeg*degree, sweepDeg*degree, 1.5)
}

func (d drawing) word(text words.Phrase, x, y float64, align sheet.Align) {
	style := sheet.Style{SizePt: sheet.SmallPt, Align: align}
	d.page.Text(d.at(x, y).Sub(plane.Point{Y: style.CapMM() / 2}), d.say(text), style)
}

// rounded is a closed curve through points (Catmull and Rom, in: Computer Aided Geometric
// Design, 1974): teeth have no corners.
func rounded(xy ...float64) []plane.Point {
	const parts = 8
	points := pointsOf(xy)
	n := len(points)
	var out []plane.Point
	for i := range n {
		a, b, c, e := points[(i+n-1)%n], points[i], points[(i+1)%n], points[(i+2)%n]
		for k := range parts {
			t := float64(k) / parts
			p := b.Times(2).Add(c.Sub(a).Times(t)).
				Add(a.Times(2).Sub(b.Times(5)).Add(c.Times(4)).Sub(e).Times(t * t)).
				Add(b.Times(3).Sub(a).Sub(c.Times(3)).Add(e).Times(t * t * t))
			out = append(out, p.Times(0.5))
		}
	}
	return out
}

// A lower molar from the cheek, from behind and from the biting side, about the centre of
// its tube, in no unit.
func molarSide() []plane.Point {
	return rounded(
		-10.5, -1, -9, -7, -8, -15, -7, -23, -5, -23, -2, -16, 0, -13,
		2, -16, 5, -23, 7, -23, 8, -15, 9, -7, 10.5, -1, 9.5, 6,
		6, 8, 3, 7, 0, 6, -3, 7, -6, 8, -9.5, 6,
	)
}

func molarBehind() []plane.Point {
	return rounded(
		2, 0, 3, -7, 6, -15, 9, -22, 11, -22, 14, -15, 17, -7,
		18, 0, 16, 7, 13.5, 8, 10, 5.5, 6.5, 8, 4, 7,
	)
}

func molarAbove() []plane.Point {
	return rounded(
		-8, 2.5, 0, 2, 8, 2.5, 10.5, 6, 10.5, 14, 8, 18, 0, 19,
		-8, 18, -10.5, 14, -10.5, 6,
	)
}

func box(halfWidth, halfHeight float64) []plane.Point {
	return []plane.Point{{X: -halfWidth, Y: -halfHeight}, {X: halfWidth, Y: -halfHeight}, {X: halfWidth, Y: halfHeight}, {X: -halfWidth, Y: halfHeight}}
}

// Cheek draws both teeth from the cheek.
//
// In one piece: one drawing, from the back to the front.
func Cheek(page *sheet.Page, say Say, panel plane.Box) {
	d := begin(page, say, panel, "From the cheek", 150, 64)
	const (
		anchorX, anchorY = -36.0, 2.0
		activeX, activeY = 16.0, 9.0
		tipDeg           = 9.0 // crown mesial, which is left
		foldY            = -17.0
	)
	d.turned(sheet.Construction, anchorX, anchorY, 0, molarSide())
	d.turned(sheet.Construction, activeX, activeY, tipDeg, molarSide())
	d.turned(sheet.Bar, anchorX, anchorY, 0, box(4.5, 2))
	d.turned(sheet.Bar, activeX, activeY, tipDeg, box(4.5, 2))
	page.Dot(d.at(anchorX, anchorY), 0.6)
	page.Dot(d.at(activeX, activeY), 0.6)
	d.word("anchor", anchorX, -25, sheet.Centre)
	d.word("active", activeX-9, -21.5, sheet.Centre)

	// A: centre to centre.
	d.line(sheet.Centreline, anchorX, anchorY+2.5, anchorX, 29)
	d.line(sheet.Centreline, activeX, activeY+2.5, activeX, 29)
	d.span(anchorX, 28, activeX, 28)
	d.letter("A", anchorX+8, 23.4)

	// B: from the level of the anchor slot, which is the goal, to the active slot.
	d.dashed(anchorX+5, anchorY, 58, anchorY)
	d.line(sheet.Centreline, -12, activeY, activeX-5, activeY)
	d.span(-10, anchorY, -10, activeY)
	d.letter("B", -17, (anchorY+activeY)/2+0.8)

	// D: the tooth's axis against upright.
	sin, cos := math.Sincos(tipDeg * degree)
	d.line(sheet.Centreline, activeX+4*sin, activeY-4*cos, activeX+38*sin, activeY-38*cos)
	d.line(sheet.Centreline, activeX, activeY-4, activeX, activeY-38)
	d.turn(activeX, activeY, 36, -90+tipDeg+14, -14)
	d.turn(activeX, activeY, 36, -90-14, 14)
	d.letter("D", activeX-11, activeY-36.5)
	d.word("crown mesial", activeX+16, activeY-36, sheet.Left)

	// G and H, on either tube.
	d.line(sheet.Centreline, anchorX-5, anchorY+2, anchorX-16, anchorY+2)
	d.line(sheet.Centreline, anchorX-5, anchorY-2, anchorX-16, anchorY-2)
	d.span(anchorX-14.5, anchorY-2, anchorX-14.5, anchorY+2)
	d.letter("G", anchorX-19, anchorY)
	d.line(sheet.Centreline, anchorX-4.5, anchorY-2.5, anchorX-4.5, anchorY-7)
	d.line(sheet.Centreline, anchorX+4.5, anchorY-2.5, anchorX+4.5, anchorY-7)
	d.span(anchorX-4.5, anchorY-6, anchorX+4.5, anchorY-6)
	d.letter("H", anchorX, anchorY-10.5)

	// I: from the goal level to the fold.
	var fold []float64
	for x := -64.0; x <= 66; x += 2 {
		fold = append(fold, x, foldY+0.9*math.Sin(x/11))
	}
	d.dashed(fold...)
	d.word("fold of the cheek", 66, foldY-3.4, sheet.Right)
	d.word("goal level", 74, anchorY+4.5, sheet.Right)
	d.span(50, anchorY, 50, foldY-0.6)
	d.letter("I", 54, (anchorY+foldY)/2)

	// J and K: to what is in the way.
	d.line(sheet.Centreline, -8, 14, -8, 22)
	d.dashed(36, -12, 36, 24)
	d.word("end of the room", 38.5, 20.5, sheet.Left)
	d.span(-8, 20.5, activeX, 20.5)
	d.span(activeX, 20.5, 36, 20.5)
	d.letter("J", -12, 20.5)
	d.letter("K", 27, 25.5)

	page.Arrow(sheet.Mark, d.at(-62, 14), d.at(-68, 14))
	d.word("mesial", -61, 14, sheet.Left)
}

// BitingSide draws both teeth from the biting side.
func BitingSide(page *sheet.Page, say Say, panel plane.Box) {
	d := begin(page, say, panel, "From the biting side", 104, 46)
	const (
		anchorX, anchorY = -22.0, -8.0
		activeX, activeY = 20.0, -13.0
		turnDeg          = -9.0 // mesial in: the mesial side, left, goes up, inwards
	)
	d.turned(sheet.Construction, anchorX, anchorY, 0, molarAbove())
	d.turned(sheet.Construction, activeX, activeY, turnDeg, molarAbove())
	d.turned(sheet.Bar, anchorX, anchorY, 0, box(4.5, 1.5))
	d.turned(sheet.Bar, activeX, activeY, turnDeg, box(4.5, 1.5))
	page.Dot(d.at(anchorX, anchorY), 0.6)
	page.Dot(d.at(activeX, activeY), 0.6)
	d.word("anchor", anchorX, 14.5, sheet.Centre)
	d.word("active", activeX+1.5, 9.5, sheet.Centre)

	// C: from the line of the anchor slot outwards to the active slot.
	d.dashed(anchorX+5, anchorY, 44, anchorY)
	d.line(sheet.Centreline, -4, activeY, activeX-5, activeY)
	d.span(-2, anchorY, -2, activeY)
	d.letter("C", -2, activeY-5.5)

	// F
	d.line(sheet.Centreline, activeX+12, activeY, activeX+25, activeY)
	d.turn(activeX, activeY, 23, 18, -18)
	d.turn(activeX, activeY, 23, turnDeg-11, 11)
	sin, cos := math.Sincos(turnDeg * degree)
	d.line(sheet.Centreline, activeX+5*cos, activeY+5*sin, activeX+25*cos, activeY+25*sin)
	d.letter("F", activeX+21, activeY+10.5)
	d.word("mesial side inwards", 50, 17, sheet.Right)
	d.word("cheek", -46, -19, sheet.Left)
	d.word("tongue", -46, 21, sheet.Left)
}

// Behind draws the active tooth from behind.
func Behind(page *sheet.Page, say Say, panel plane.Box) {
	d := begin(page, say, panel, "Seen from distal", 68, 46)
	const slotX, slotY, torqueDeg = -8.0, 4.0, 9.0 // crown to the cheek, which is left
	d.turned(sheet.Construction, slotX, slotY, torqueDeg, molarBehind())
	d.turned(sheet.Bar, slotX, slotY, torqueDeg, box(1.5, 2))
	page.Dot(d.at(slotX, slotY), 0.6)
	d.line(sheet.Centreline, slotX, slotY-3, slotX, slotY-24)
	sin, cos := math.Sincos(torqueDeg * degree)
	d.line(sheet.Centreline, slotX+3*sin, slotY-3*cos, slotX+24*sin, slotY-24*cos)
	d.turn(slotX, slotY, 22, -90-22, 22)
	d.turn(slotX, slotY, 22, -90+torqueDeg+22, -22)
	d.letter("E", slotX-12, slotY-22)
	d.word("crown to cheek or lip", 31, -26, sheet.Right)
	d.word("cheek", -31, 8, sheet.Left)
	d.word("tongue", 31, 8, sheet.Right)
}
