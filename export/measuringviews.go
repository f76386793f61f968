package export

import (
	"math"

	"springwright/export/plane"
	"springwright/export/sheet"
)

// drawing is a schematic drawing, not to scale, on its own axes about the middle of a
// panel.
type drawing struct {
	f      *flow
	centre plane.Point
	scale  float64
}

// schematic draws the frame of a schematic drawing that is width × height on its own axes.
func (f *flow) schematic(panel plane.Box, title string, width, height float64) drawing {
	f.page.Rectangle(sheet.Construction, panel)
	body, small := sheet.Style{SizePt: sheet.BodyPt, Bold: true}, sheet.Style{SizePt: sheet.SmallPt}
	at := plane.Point{X: panel.Min.X + panelInsetMM, Y: panel.Max.Y - 1.5 - body.CapMM()}
	x := f.page.Text(at, f.say(title), body)
	f.page.Text(plane.Point{X: at.X + x + 2, Y: at.Y}, f.say("not to scale"), small)
	return drawing{f, panel.Centre(), math.Min(panel.Width()/width, panel.Height()/height)}
}

func (d drawing) at(x, y float64) plane.Point {
	return d.centre.Add(plane.Point{X: x, Y: y}.Times(d.scale))
}

func (d drawing) line(pen sheet.Pen, xy ...float64) {
	d.f.page.Polyline(pen, d.points(xy))
}

func (d drawing) dashed(xy ...float64) { d.f.page.Dashed(sheet.Mark, d.points(xy), 1.2, 0.8) }

func (d drawing) points(xy []float64) []plane.Point {
	var points []plane.Point
	for i := 0; i+1 < len(xy); i += 2 {
		points = append(points, d.at(xy[i], xy[i+1]))
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
	d.f.page.Polyline(pen, append(points, points[0]))
}

// span draws a dimension line with heads at both ends.
func (d drawing) span(x1, y1, x2, y2 float64) {
	a, b := d.at(x1, y1), d.at(x2, y2)
	d.f.page.Line(sheet.Mark, a, b)
	along := b.Sub(a).Unit()
	const headMM = 1.5
	d.f.page.Head(b, along, headMM)
	d.f.page.Head(a, along.Times(-1), headMM)
}

// letter draws a letter in a ring.
func (d drawing) letter(text string, x, y float64) {
	style := sheet.Style{SizePt: sheet.BodyPt, Bold: true, Align: sheet.Centre}
	at := d.at(x, y)
	d.f.page.Circle(sheet.Mark, at, ringedMM)
	d.f.page.Text(at.Sub(plane.Point{Y: style.CapMM() / 2}), text, style)
}

// turn draws an arc about a point from one angle over a sweep, its head at the sweep's end.
func (d drawing) turn(x, y, radius, fromDeg, sweepDeg float64) {
	d.f.arcArrow(sheet.Mark, d.at(x, y), d.scale*radius, fromDeg*degree, sweepDeg*degree, 1.5)
}

func (d drawing) word(text string, x, y float64, align sheet.Align) {
	style := sheet.Style{SizePt: sheet.SmallPt, Align: align}
	d.f.page.Text(d.at(x, y).Sub(plane.Point{Y: style.CapMM() / 2}), d.f.say(text), style)
}

// rounded is a closed curve through points (Catmull and Rom, in: Computer Aided Geometric
// Design, 1974): teeth have no corners.
func rounded(points []plane.Point) []plane.Point {
	const parts = 8
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
	return rounded([]plane.Point{
		{X: -10.5, Y: -1},
		{X: -9, Y: -7},
		{X: -8, Y: -15},
		{X: -7, Y: -23},
		{X: -5, Y: -23},
		{X: -2, Y: -16},
		{X: 0, Y: -13},
		{X: 2, Y: -16},
		{X: 5, Y: -23},
		{X: 7, Y: -23},
		{X: 8, Y: -15},
		{X: 9, Y: -7},
		{X: 10.5, Y: -1},
		{X: 9.5, Y: 6},
		{X: 6, Y: 8},
		{X: 3, Y: 7},
		{X: 0, Y: 6},
		{X: -3, Y: 7},
		{X: -6, Y: 8},
		{X: -9.5, Y: 6},
	})
}

func molarBehind() []plane.Point {
	return rounded([]plane.Point{
		{X: 2, Y: 0},
		{X: 3, Y: -7},
		{X: 6, Y: -15},
		{X: 9, Y: -22},
		{X: 11, Y: -22},
		{X: 14, Y: -15},
		{X: 17, Y: -7},
		{X: 18, Y: 0},
		{X: 16, Y: 7},
		{X: 13.5, Y: 8},
		{X: 10, Y: 5.5},
		{X: 6.5, Y: 8},
		{X: 4, Y: 7},
	})
}

func molarAbove() []plane.Point {
	return rounded([]plane.Point{
		{X: -8, Y: 2.5},
		{X: 0, Y: 2},
		{X: 8, Y: 2.5},
		{X: 10.5, Y: 6},
		{X: 10.5, Y: 14},
		{X: 8, Y: 18},
		{X: 0, Y: 19},
		{X: -8, Y: 18},
		{X: -10.5, Y: 14},
		{X: -10.5, Y: 6},
	})
}

func box(halfWidth, halfHeight float64) []plane.Point {
	return []plane.Point{{X: -halfWidth, Y: -halfHeight}, {X: halfWidth, Y: -halfHeight}, {X: halfWidth, Y: halfHeight}, {X: -halfWidth, Y: halfHeight}}
}

// sideView draws both teeth from the cheek, its top left corner at at.
func (f *flow) sideView(at plane.Point, heightMM float64) {
	panel := plane.Box{Min: plane.Point{X: at.X, Y: at.Y - heightMM}, Max: plane.Point{X: f.area.Max.X, Y: at.Y}}
	d := f.schematic(panel, "From the cheek", 150, 64)
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
	f.page.Dot(d.at(anchorX, anchorY), 0.6)
	f.page.Dot(d.at(activeX, activeY), 0.6)
	d.word("anchor", anchorX, -25, sheet.Centre)
	d.word("active", activeX-9, -21.5, sheet.Centre)

	// A: centre to centre.
	d.line(sheet.Centreline, anchorX, anchorY+2.5, anchorX, 29)
	d.line(sheet.Centreline, activeX, activeY+2.5, activeX, 29)
	d.span(anchorX, 28, activeX, 28)
	d.letter("A", anchorX+8, 24.8)

	// B: from the level of the anchor slot, which is the goal, to the active slot.
	d.dashed(anchorX+5, anchorY, 58, anchorY)
	d.line(sheet.Centreline, -12, activeY, activeX-5, activeY)
	d.span(-10, anchorY, -10, activeY)
	d.letter("B", -14, (anchorY+activeY)/2)

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
	d.letter("H", anchorX, anchorY-9.5)

	// I: from the goal level to the fold.
	var fold []float64
	for x := -64.0; x <= 66; x += 2 {
		fold = append(fold, x, foldY+0.9*math.Sin(x/11))
	}
	d.dashed(fold...)
	d.word("fold of the cheek", 66, foldY-3.4, sheet.Right)
	d.word("goal level", 59.5, anchorY, sheet.Left)
	d.span(50, anchorY, 50, foldY-0.6)
	d.letter("I", 54, (anchorY+foldY)/2)

	// J and K: to what is in the way.
	d.line(sheet.Centreline, -8, 14, -8, 22)
	d.dashed(36, -12, 36, 24)
	d.word("end of the room", 38, 23, sheet.Left)
	d.span(-8, 20.5, activeX, 20.5)
	d.span(activeX, 20.5, 36, 20.5)
	d.letter("J", -12, 20.5)
	d.letter("K", 40, 18.5)

	f.page.Arrow(sheet.Mark, d.at(-62, 14), d.at(-68, 14))
	d.word("mesial", -61, 14, sheet.Left)
}

// smallViews draws the teeth from the biting side and the active one from behind.
func (f *flow) smallViews(at plane.Point, heightMM float64) {
	const apart = 3.0
	width := (f.area.Width() - apart)
	left := plane.Box{Min: plane.Point{X: at.X, Y: at.Y - heightMM}, Max: plane.Point{X: at.X + 0.6*width, Y: at.Y}}
	right := plane.Box{Min: plane.Point{X: left.Max.X + apart, Y: left.Min.Y}, Max: plane.Point{X: f.area.Max.X, Y: at.Y}}
	f.bitingView(left)
	f.behindView(right)
}

func (f *flow) bitingView(panel plane.Box) {
	d := f.schematic(panel, "From the biting side", 104, 46)
	const (
		anchorX, anchorY = -22.0, -8.0
		activeX, activeY = 20.0, -13.0
		turnDeg          = -9.0 // mesial in: the mesial side, left, goes up, inwards
	)
	d.turned(sheet.Construction, anchorX, anchorY, 0, molarAbove())
	d.turned(sheet.Construction, activeX, activeY, turnDeg, molarAbove())
	d.turned(sheet.Bar, anchorX, anchorY, 0, box(4.5, 1.5))
	d.turned(sheet.Bar, activeX, activeY, turnDeg, box(4.5, 1.5))
	f.page.Dot(d.at(anchorX, anchorY), 0.6)
	f.page.Dot(d.at(activeX, activeY), 0.6)
	d.word("anchor", anchorX, 2, sheet.Centre)
	d.word("active", activeX+1.5, -1, sheet.Centre)

	// C: from the line of the anchor slot outwards to the active slot.
	d.dashed(anchorX+5, anchorY, 44, anchorY)
	d.line(sheet.Centreline, -4, activeY, activeX-5, activeY)
	d.span(-2, anchorY, -2, activeY)
	d.letter("C", -6.5, (anchorY+activeY)/2)

	// F
	d.line(sheet.Centreline, activeX+12, activeY, activeX+25, activeY)
	d.turn(activeX, activeY, 23, 18, -18)
	d.turn(activeX, activeY, 23, turnDeg-11, 11)
	sin, cos := math.Sincos(turnDeg * degree)
	d.line(sheet.Centreline, activeX+5*cos, activeY+5*sin, activeX+25*cos, activeY+25*sin)
	d.letter("F", activeX+21, activeY+10.5)
	d.word("mesial side inwards", 50, 15, sheet.Right)
	d.word("cheek", -46, -19, sheet.Left)
	d.word("tongue", -46, 14, sheet.Left)
}

func (f *flow) behindView(panel plane.Box) {
	d := f.schematic(panel, "The active tooth from behind", 68, 46)
	const slotX, slotY, torqueDeg = -8.0, 4.0, 9.0 // crown to the cheek, which is left
	d.turned(sheet.Construction, slotX, slotY, torqueDeg, molarBehind())
	d.turned(sheet.Bar, slotX, slotY, torqueDeg, box(1.5, 2))
	f.page.Dot(d.at(slotX, slotY), 0.6)
	d.line(sheet.Centreline, slotX, slotY-3, slotX, slotY-24)
	sin, cos := math.Sincos(torqueDeg * degree)
	d.line(sheet.Centreline, slotX+3*sin, slotY-3*cos, slotX+24*sin, slotY-24*cos)
	d.turn(slotX, slotY, 22, -90-22, 22)
	d.turn(slotX, slotY, 22, -90+torqueDeg+22, -22)
	d.letter("E", slotX-12, slotY-22)
	d.word("crown to cheek or lip", 31, -19, sheet.Right)
	d.word("cheek", -31, 8, sheet.Left)
	d.word("tongue", 31, 8, sheet.Right)
}
