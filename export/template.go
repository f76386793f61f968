package export

import (
	"fmt"
	"math"
	"strings"

	"springwright/design"
	"springwright/design/beam"
	"springwright/design/tooth"
	"springwright/export/label"
	"springwright/export/plane"
	"springwright/export/sheet"

	"gonum.org/v1/gonum/spatial/r3"
)

func fmtTooth(n tooth.Number) string { return fmt.Sprint(int(n)) }

const (
	panelInsetMM  = 2.0
	captionMM     = 5.5
	compassMM     = 19.0 // height of the arrows with their words
	nearBarRoomMM = 8.5
	readingRoomMM = 12.0 // for labels above and below the enlarged spring
	sideRoomMM    = 24.0 // for labels beside it
	templateRoom  = 4.5  // for numbers round the template
)

// panels says where the template and its enlarged twin go.
type panels struct {
	template, reading plane.Box
	enlarged          float64 // 0: there is no room for a twin
}

// template draws the spring at true size and, beside or below it, enlarged for reading.
func (f *flow) template() error {
	s := f.scene()
	room := f.leftMM() - 12 // the heading and the check below
	p, ok := f.panels(s.bounds, f.area.Width(), room)
	if !ok {
		w, h := s.bounds.Width(), s.bounds.Height()
		return fmt.Errorf("%w: it takes %.0f × %.0f mm with its numbers, %s has room for %.0f × %.0f mm",
			ErrJob, w+2*templateRoom, h+2*templateRoom+compassMM+nearBarRoomMM+captionMM, f.job.Paper, f.area.Width(), room)
	}
	f.heading("Template", "Passive spring, ready bent. Grey: seated at the start. Boxes: slots. Numbers: bends, in order of bending.")
	height := math.Max(p.template.Height(), 0)
	if p.enlarged > 0 {
		height = math.Max(p.template.Max.Y, p.reading.Max.Y) - math.Min(p.template.Min.Y, p.reading.Min.Y)
	}
	corner := f.take(height)
	shift := func(b plane.Box) plane.Box {
		by := plane.Point{X: corner.X, Y: corner.Y}
		return plane.Box{Min: b.Min.Add(by), Max: b.Max.Add(by)}
	}
	f.drawTemplate(s, shift(p.template))
	if p.enlarged > 0 {
		f.drawReading(s, shift(p.reading), p.enlarged)
	}
	f.yMM -= 3.5
	f.neutralPosition()
	return nil
}

// panels lays out both drawings, the top left corner of both at the origin.
func (f *flow) panels(bounds plane.Box, widthMM, roomMM float64) (panels, bool) {
	box := func(x, y, w, h float64) plane.Box {
		return plane.Box{Min: plane.Point{X: x, Y: y - h}, Max: plane.Point{X: x + w, Y: y}}
	}
	needW := math.Max(bounds.Width()+2*templateRoom, nearBarMM) + 2*panelInsetMM
	needH := bounds.Height() + 2*templateRoom + captionMM + compassMM + nearBarRoomMM
	if needW > widthMM || needH > roomMM {
		return panels{}, false
	}
	const apart = 3.0
	const tallest = 100.0
	reading := func(scale float64) (w, h float64) {
		return scale*bounds.Width() + 2*sideRoomMM, scale*bounds.Height() + 2*readingRoomMM + captionMM
	}
	for _, scale := range [...]float64{5, 4, 3, 2} { // beside each other
		w, h := reading(scale)
		if left := widthMM - needW - apart; w <= left && h <= math.Min(tallest, roomMM) {
			h = math.Max(h, needH)
			return panels{template: box(0, 0, needW, h), reading: box(needW+apart, 0, left, h), enlarged: scale}, true
		}
	}
	for _, scale := range [...]float64{4, 3, 2, 1.5} { // under each other
		w, h := reading(scale)
		if w <= widthMM && needH+apart+h <= roomMM {
			return panels{template: box(0, 0, widthMM, needH), reading: box(0, -needH-apart, widthMM, h), enlarged: scale}, true
		}
	}
	return panels{template: box(0, 0, widthMM, needH)}, true
}

func (f *flow) drawTemplate(s scene, panel plane.Box) {
	f.page.Rectangle(sheet.Construction, panel)
	f.caption(panel, "1:1", "lay the wire on this one")
	f.compass(plane.Point{X: panel.Min.X + panelInsetMM, Y: panel.Max.Y - captionMM})

	bar := plane.Point{X: panel.Centre().X - nearBarMM/2, Y: panel.Min.Y + 3}
	f.bar(f.page, bar, nearBarMM, false)

	room := panel.Grown(-0.8)
	room.Max.Y -= captionMM + compassMM - 0.8
	room.Min.Y += nearBarRoomMM - 1.5
	at := room.Centre().Sub(s.bounds.Centre())
	f.drawWire(s, at, 1)
	board := f.board(s, room, at, 1)
	small := sheet.Style{SizePt: sheet.SmallPt, Align: sheet.Centre}
	for _, b := range f.bendLabels(s, at, 1) {
		f.put(board, b.anchors, 1.2, f.doc.WidthOf(b.number, small), small.CapMM(), func(box plane.Box) {
			f.page.Text(plane.Point{X: box.Centre().X, Y: box.Min.Y}, b.number, small)
		})
	}
}

func (f *flow) drawReading(s scene, panel plane.Box, scale float64) {
	f.page.Rectangle(sheet.Construction, panel)
	f.caption(panel, fmt.Sprintf("%g:1", scale), "for reading, not for bending; lengths of straights in mm, arrows turn as the bends do")
	room := panel.Grown(-0.8)
	room.Max.Y -= captionMM - 0.8
	at := room.Centre().Sub(s.bounds.Centre().Times(scale))
	f.drawWire(s, at, scale)
	board := f.board(s, room, at, scale)

	body := sheet.Style{SizePt: sheet.BodyPt}
	small := sheet.Style{SizePt: sheet.SmallPt}
	for _, b := range f.bendLabels(s, at, scale) {
		width := 2*ringRadiusMM + 1 + f.doc.WidthOf(b.text, body)
		if b.turn != 0 {
			width += 1 + 2*turnRadiusMM
		}
		f.put(board, b.anchors, 2.5, width, 2*ringRadiusMM, func(box plane.Box) { f.bendLabel(box, b) })
	}
	for _, l := range f.legLabels(s, at, scale) {
		f.put(board, l.anchors, 0.8, f.doc.WidthOf(l.text, body), body.CapMM(), func(box plane.Box) {
			f.page.Text(box.Min, l.text, body)
		})
	}
	for _, sl := range s.slots {
		var anchors []label.Anchor
		for side, up := range [...]float64{-1, 1} { // its two long sides
			i := min(2*side, len(sl.outline)-2)
			middle := sl.outline[i].Add(sl.outline[i+1]).Times(0.5)
			anchors = append(anchors, label.Anchor{At: at.Add(middle.Times(scale)), Away: plane.Point{Y: up * f.view.ZSign * sl.facing}})
		}
		f.put(board, anchors, 1, f.doc.WidthOf(sl.name, small), small.CapMM()+small.DescentMM(), func(box plane.Box) {
			f.page.Text(box.Min.Add(plane.Point{Y: small.DescentMM()}), sl.name, small)
		})
	}
}

// caption writes what scale a panel has, large, and what it is for.
func (f *flow) caption(panel plane.Box, scale, remark string) {
	head := sheet.Style{SizePt: sheet.HeadPt, Bold: true}
	small := sheet.Style{SizePt: sheet.SmallPt}
	at := plane.Point{X: panel.Min.X + panelInsetMM, Y: panel.Max.Y - 1.5 - head.CapMM()}
	at.X += f.page.Text(at, scale, head) + 2
	lines := f.doc.Wrap(remark, panel.Max.X-panelInsetMM-at.X, small)
	for i, line := range lines {
		f.page.Text(plane.Point{X: at.X, Y: at.Y - float64(i)*small.LineMM()}, line, small)
	}
}

// drawWire draws slots, ghost and wire, in that order.
func (f *flow) drawWire(s scene, at plane.Point, scale float64) {
	place := func(points []plane.Point) []plane.Point {
		out := make([]plane.Point, len(points))
		for i, q := range points {
			out[i] = at.Add(q.Times(scale))
		}
		return out
	}
	for _, sl := range s.slots {
		if sl.goal {
			f.page.Dashed(sheet.Mark, place(sl.outline), 0.8, 0.5)
		} else {
			f.page.Polyline(sheet.Mark, place(sl.outline))
		}
	}
	f.page.Polyline(sheet.Construction, place(s.seated.edge()))
	f.page.Polyline(sheet.Outline, place(s.passive.edge()))
	f.page.Polyline(sheet.Centreline, place(s.passive.centre))
	if scale > 1 {
		// Where bends begin and end, and where the wire leaves and enters the slots.
		for _, i := range s.start {
			f.page.Line(sheet.Centreline, at.Add(s.passive.left[i].Times(scale)), at.Add(s.passive.right[i].Times(scale)))
		}
	}
}

// board is the room for labels round a drawn spring.
func (f *flow) board(s scene, room plane.Box, at plane.Point, scale float64) *label.Board {
	b := &label.Board{Bounds: room, ClearMM: 0.35}
	half := scale * math.Max(f.job.Spring.Wire.HeightMM(), f.job.Spring.Wire.DepthMM()) / 2
	for _, wire := range [...]shape{s.passive, s.seated} {
		b.Block(thin(wire.centre, at, scale), half)
	}
	for _, sl := range s.slots {
		b.Block(thin(sl.outline, at, scale), 0.1)
	}
	return b
}

// thin places a line and leaves out points that lie within 0.1 mm of a chord's direction
// change: labels need no finer obstacles.
func thin(points []plane.Point, at plane.Point, scale float64) []plane.Point {
	out := []plane.Point{at.Add(points[0].Times(scale))}
	for i := 1; i < len(points); i++ {
		q := at.Add(points[i].Times(scale))
		last := out[len(out)-1]
		if i == len(points)-1 || q.Sub(last).Norm() > 0.8 || !straightOn(points, i) {
			out = append(out, q)
		}
	}
	return out
}

// straightOn tells whether the line hardly turns at point i.
func straightOn(points []plane.Point, i int) bool {
	a, b := points[i].Sub(points[i-1]), points[i+1].Sub(points[i])
	if a.Norm() < 1e-9 || b.Norm() < 1e-9 {
		return true
	}
	a, b = a.Unit(), b.Unit()
	return math.Abs(a.X*b.Y-a.Y*b.X) < math.Sin(8*degree)
}

// put finds a place for a label, draws its leader and then the label itself. Where there
// is no place it is left out; the table has all its numbers.
func (f *flow) put(board *label.Board, anchors []label.Anchor, gapMM, width, height float64, draw func(plane.Box)) {
	const padMM = 0.3
	place, ok := board.Put(label.Label{Anchors: anchors, WidthMM: width + 2*padMM, HeightMM: height + 2*padMM, GapMM: gapMM})
	if !ok {
		return
	}
	if place.Leader.B.Sub(place.Leader.A).Norm() > gapMM+1 {
		f.page.Line(sheet.Centreline, place.Leader.A, place.Leader.B)
	}
	draw(place.Box.Grown(-padMM))
}

// neutralPosition says where the free end lies with only the anchor end seated: its
// distance and angle to the slot are the activation.
func (f *flow) neutralPosition() {
	end := f.job.Spring.Rod().UnloadedEnd(beam.Origin())
	slot := f.job.Spring.Start.Pose(f.job.Spring.Heading)
	off := r3.Sub(end.At, slot.At)
	var parts []string
	for _, p := range [...]struct {
		mm          float64
		plus, minus string
	}{
		{off.Z, "apical", f.view.OcclusalWord()},
		{off.X * f.view.Teeth.MesialSign(), "mesial", "distal"},
		{off.Y * f.view.Teeth.BuccalSign(), f.view.Teeth.OutwardWord(), f.view.Teeth.InwardWord()},
	} {
		if math.Abs(p.mm) >= 0.05 {
			parts = append(parts, sheet.Number(math.Abs(p.mm), 1)+" mm "+word(p.mm, 1, func(v float64) string {
				if v < 0 {
					return p.minus
				}
				return p.plus
			}))
		}
	}
	where := "in the slot as it stands now"
	if len(parts) > 0 {
		where = strings.Join(parts, ", ") + " of the slot as it stands now"
	}
	text := "Neutral position: with only the anchor end seated, the free end lies " + where
	if f.planar() {
		ax, ay := f.view.Page(slot.D1)
		bx, by := f.view.Page(end.D1)
		turn := math.Atan2(ax*by-ay*bx, ax*bx+ay*by)
		way := "anticlockwise"
		if turn < 0 {
			way = "clockwise"
		}
		text += fmt.Sprintf(", turned %s %s against it", degrees(math.Abs(turn)), way)
	}
	style := sheet.Style{SizePt: sheet.BodyPt}
	at := f.take(0)
	f.take(f.page.Paragraph(at, f.area.Width(), text+".", style) + gapMM - 1)
}

// planar tells whether all bends lie in the plane seen from the cheek.
func (f *flow) planar() bool {
	for _, r := range f.bends.Rows {
		if r.Twist || !r.InView {
			return false
		}
	}
	return true
}

// steps is the path whose steps the scene and the bend table count.
func (f *flow) steps() design.Path { return f.job.Spring.Path.Tidy() }
