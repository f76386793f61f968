package export

import (
	"fmt"
	"math"

	"springwright/design/spring"
	"springwright/export/label"
	"springwright/export/plane"
	"springwright/export/sheet"
)

const (
	panelInsetMM  = 2.0
	panelApartMM  = 3.0
	captionMM     = 5.5
	compassMM     = 19.0 // height of the arrows with their words
	compassSideMM = 34.0 // width of the same, with the panel's inset
	nearBarRoomMM = 8.5
	readingRoomMM = 12.0 // for labels above and below the enlarged spring
	sideRoomMM    = 24.0 // for labels beside it
	templateRoom  = 4.5  // for numbers round the template
)

// template draws the spring at true size and enlarged for reading, from the cheek and,
// where it leaves its plane, from the biting side. It leaves reservedMM of the page free.
func (f *flow) template(reservedMM float64) error {
	side := f.scene()
	views := []scene{side}
	if f.spatial() {
		plan := f.plan()
		left, right := math.Min(side.bounds.Min.X, plan.bounds.Min.X), math.Max(side.bounds.Max.X, plan.bounds.Max.X)
		views = []scene{side, plan}
		for i := range views { // as wide as each other, so that they are aligned
			views[i].bounds.Min.X, views[i].bounds.Max.X = left, right
		}
	}
	below := 3.5 + f.freeEndHeightMM() + f.gaugeHeightMM() + reservedMM
	trial := !f.tried // the twin's page says it no second time
	if trial {
		below += f.trialHeightMM(sheet.Style{SizePt: sheet.BodyPt})
	}
	room := f.leftMM() - headingMM - below
	all := panelsFor(views, f.area.Width(), room)
	if len(all) == 0 {
		return f.tooLarge(views, room)
	}
	remark := f.say("Passive spring, ready bent. Grey: seated at the start. Boxes: slots. Numbers: bends, in order along the wire. E: end mark.")
	if f.bends.Hooked {
		remark = f.say("Passive spring, ready bent. Grey: seated at the start. Box: slot; stroke: centre of the active slot. Numbers: bends, in order along the wire. E: end mark.")
	}
	f.heading(f.say("Template"), remark)
	taken, drawn := f.drawViews(views, all, f.take(0))
	if !drawn {
		return fmt.Errorf("%w: %w", ErrJob, errCrowded)
	}
	f.take(taken + 3.5)
	if trial {
		f.trial(sheet.Style{SizePt: sheet.BodyPt})
	}
	f.freeEndCheck()
	f.gaugeCheck()
	return nil
}

// drawViews draws all views in the first of several ways in which every label finds its
// place, and says how high that is. Where the reading views are too crowded for angles and
// lengths they show the bends' numbers alone. A view for reading is given up only where no
// order of the labels serves, and a number only where there is no other way.
func (f *flow) drawViews(views []scene, all []panels, at plane.Point) (heightMM float64, drawn bool) {
	for _, way := range [...]struct {
		how     patience
		reading bool
		brief   bool
	}{
		{inTurn, true, false},
		{inTurn, true, true},
		{reordered, true, false},
		{reordered, true, true},
		{reordered, false, true},
		{noted, true, true},
		{noted, false, true},
	} {
		for _, p := range all {
			if p.enlarged > 0 == way.reading && f.drawPanels(views, p, at, way.how, way.brief) {
				return p.heightMM, true
			}
		}
	}
	return 0, false
}

// tooLarge is the error for a spring that the paper has no room for.
func (f *flow) tooLarge(views []scene, roomMM float64) error {
	width, height := 0.0, 0.0
	for i, v := range views {
		w, h := templateSize(v, f.area.Width(), 1, i == 0)
		width, height = math.Max(width, w), height+h
	}
	text := fmt.Sprintf("it takes %.0f × %.0f mm with its numbers, %s has room for %.0f × %.0f mm", width, height, f.job.Paper, f.area.Width(), roomMM)
	other := A4 + Letter - f.job.Paper
	w, h := f.job.Paper.SizeMM()
	otherW, otherH := other.SizeMM()
	if width <= f.area.Width()+otherW-w && height <= roomMM+otherH-h {
		text += fmt.Sprintf("; it fits on %s", other)
	}
	return fmt.Errorf("%w: %s", ErrJob, text)
}

// drawPanels draws all views in their panels, the top left corner of the first one at at.
// It draws nothing and is false where a label finds no place.
func (f *flow) drawPanels(views []scene, p panels, at plane.Point, how patience, brief bool) bool {
	shift := func(b plane.Box) plane.Box { return plane.Box{Min: b.Min.Add(at), Max: b.Max.Add(at)} }
	var draws []func()
	for i, v := range views {
		draw, ok := f.drawTemplate(v, shift(p.template[i]), how, i == 0)
		if !ok {
			return false
		}
		draws = append(draws, draw)
		if p.enlarged == 0 {
			continue
		}
		if draw, ok = f.drawReading(v, shift(p.reading[i]), p.enlarged, how, i == 0, brief); !ok {
			return false
		}
		draws = append(draws, draw)
	}
	for _, draw := range draws {
		draw()
	}
	return true
}

// drawTemplate prepares a view at true size.
func (f *flow) drawTemplate(s scene, panel plane.Box, how patience, first bool) (draw func(), ok bool) {
	wide := compassBeside(s, panel.Width())
	room := panel.Grown(-0.8)
	room.Max.Y -= captionMM - 0.8
	if wide {
		room.Min.X += compassSideMM
		room.Max.X -= compassSideMM
	} else {
		room.Max.Y -= compassMM
	}
	if first {
		room.Min.Y += nearBarRoomMM - 1.5
	}
	at := room.Centre().Sub(s.bounds.Centre())
	l := labels{board: f.board(s, room, at, 1)}
	small := sheet.Style{SizePt: sheet.SmallPt, Align: sheet.Centre}
	for _, b := range f.bendLabels(s, at, 1) {
		l.put(b.number, b.anchors, b.more, 1.2, f.doc.WidthOf(b.number, small), small.CapMM(), func(box plane.Box) {
			f.page.Text(plane.Point{X: box.Centre().X, Y: box.Min.Y}, b.number, small)
		})
	}
	f.putEnd(&l, s, at, 1)
	if !l.settle(f, how) {
		return nil, false
	}
	return func() {
		f.page.Rectangle(sheet.Construction, panel)
		if first {
			use := f.say("lay the wire on this one")
			if !f.planar() { // it would not lie flat
				use = f.say("from the cheek; hold the wire over both views")
			}
			f.caption(panel, "1:1", use)
			bar := plane.Point{X: panel.Centre().X - nearBarMM*f.scale.X/2, Y: panel.Min.Y + 3}
			f.bar(f.page, bar, nearBarMM, false)
		} else {
			f.caption(panel, "1:1", f.say("from the biting side"))
		}
		corner := plane.Point{X: panel.Min.X + panelInsetMM, Y: panel.Max.Y - captionMM}
		if wide {
			corner.Y = math.Min(corner.Y, room.Centre().Y+compassMM/2)
		}
		f.compass(corner, s.plan)
		f.drawWire(s, at, 1)
		l.draw(f.page)
	}, true
}

// drawReading prepares a view for reading, a brief one without angles and lengths.
func (f *flow) drawReading(s scene, panel plane.Box, scale float64, how patience, first, brief bool) (draw func(), ok bool) {
	room := panel.Grown(-0.8)
	room.Max.Y -= captionMM - 0.8
	at := room.Centre().Sub(s.bounds.Centre().Times(scale))
	l := labels{board: f.board(s, room, at, scale)}

	body := sheet.Style{SizePt: sheet.BodyPt}
	small := sheet.Style{SizePt: sheet.SmallPt}
	for _, b := range f.bendLabels(s, at, scale) {
		if brief {
			b.text, b.turn = "", 0
		}
		width := 2 * ringRadiusMM
		if b.text != "" {
			width += 1 + f.doc.WidthOf(b.text, body)
		}
		if b.turn != 0 {
			width += 1 + 2*turnRadiusMM
		}
		l.put(b.number, b.anchors, b.more, 2.5, width, 2*ringRadiusMM, func(box plane.Box) { f.bendLabel(box, b) })
	}
	low := 0.0
	if f.doc.DecimalComma { // which hangs below the line
		low = body.DescentMM()
	}
	if !s.plan && !brief { // from the biting side straights look shorter than they are
		for _, n := range f.legLabels(s, at, scale) {
			l.put("", n.anchors, nil, 0.8, f.doc.WidthOf(n.text, body), body.CapMM()+low, func(box plane.Box) {
				f.page.Text(box.Min.Add(plane.Point{Y: low}), n.text, body)
			})
		}
	}
	for _, sl := range s.slots {
		var anchors []label.Anchor
		for side, up := range [...]float64{-1, 1} { // its two long sides
			i := min(2*side, len(sl.outline)-2)
			middle := sl.outline[i].Add(sl.outline[i+1]).Times(0.5)
			if len(sl.outline) == 2 { // a stroke: beyond its end, or the label's leader would lengthen it
				middle = sl.outline[side]
			}
			anchors = append(anchors, label.Anchor{At: at.Add(middle.Times(scale)), Away: sl.upwards.Times(up)})
		}
		l.put("", anchors, nil, 1, f.doc.WidthOf(sl.name, small), small.CapMM()+small.DescentMM(), func(box plane.Box) {
			f.page.Text(box.Min.Add(plane.Point{Y: small.DescentMM()}), sl.name, small)
		})
	}
	f.putEnd(&l, s, at, scale)
	if !l.settle(f, how) {
		return nil, false
	}
	return func() {
		f.page.Rectangle(sheet.Construction, panel)
		remark := f.say("from the biting side")
		switch {
		case first && brief:
			remark = f.say("for reading, not for bending; angles and lengths: see the bend steps")
		case first:
			remark = f.say("for reading, not for bending; lengths of straights in mm, arrows turn as the bends do")
		}
		f.caption(panel, fmt.Sprintf("%g:1", scale), remark)
		f.drawWire(s, at, scale)
		l.draw(f.page)
	}, true
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
	if s.plan {
		f.silhouette(s.poses, f.job.Spring.Wire, s.see, at, scale)
	} else {
		f.page.Polyline(sheet.Outline, place(s.passive.edge()))
	}
	f.page.Polyline(sheet.Centreline, place(s.passive.centre))
	if scale > 1 && !s.plan {
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

// planar tells whether all bends lie in the plane seen from the cheek.
func (f *flow) planar() bool {
	for _, r := range f.bends.Rows {
		if r.Twist || !r.InView {
			return false
		}
	}
	return true
}

// spatial tells whether the wire leaves the plane seen from the cheek so far that it is to
// be seen from the biting side as well.
func (f *flow) spatial() bool {
	const seenMM = 0.05 // less than a pencil's line
	if !f.planar() {
		return true
	}
	for _, p := range f.job.Evaluation.Passive {
		if math.Abs(p.At.Y) > seenMM {
			return true
		}
	}
	return false
}

// steps is the path whose steps the scene and the bend table count.
func (f *flow) steps() spring.Steps { return f.job.Spring.Path.Steps() }
