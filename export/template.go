package export

import (
	"fmt"
	"math"

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

// templatePage shows the spring at true size and enlarged for reading, from the cheek and, where
// it leaves its plane, from the biting side.
type templatePage struct {
	*subject
	reservedMM float64 // of the twin's page: kept free below
}

func (p templatePage) draw(f *flow) error {
	f.newPage("Template")
	return p.blocks(f)
}

// blocks lays out the views and the checks of the wire in the hand.
func (p templatePage) blocks(f *flow) error {
	side := p.scene()
	views := []scene{side}
	if p.spatial() {
		plan := p.plan()
		left, right := math.Min(side.bounds.Min.X, plan.bounds.Min.X), math.Max(side.bounds.Max.X, plan.bounds.Max.X)
		views = []scene{side, plan}
		for i := range views { // as wide as each other, so that they are aligned
			views[i].bounds.Min.X, views[i].bounds.Max.X = left, right
		}
	}
	body, free, gauge, trial := sheet.Style{SizePt: sheet.BodyPt}, freeEndCheck{p.subject}, gaugeCheck{p.subject}, trialNote{p.subject}
	anchor := anchorNote{p.subject}
	below := 3.5 + free.heightMM(f) + gauge.heightMM(f) + p.reservedMM
	tried, anchored := p.told.trial, p.told.anchor // the twin's page says it no second time
	if !anchored {
		below += anchor.heightMM(f)
	}
	if !tried {
		below += trial.heightMM(f, body)
	}
	room := f.leftMM() - headingMM - below
	all := panelsFor(views, f.area.Width(), room)
	if len(all) == 0 {
		return p.tooLarge(f, views, room)
	}
	remark := f.say("Passive spring, ready bent. Grey: seated at the start. Boxes: slots. Numbers: bends, in order along the wire. E: end mark.")
	if p.bends.Hooked {
		remark = f.say("Passive spring, ready bent. Grey: seated at the start. Box: slot; stroke: centre of the active slot. Numbers: bends, in order along the wire. E: end mark.")
	}
	f.heading(f.say("Template"), remark)
	taken, drawn := p.drawViews(f, views, all, f.take(0))
	if !drawn {
		return fmt.Errorf("%w: %w", ErrJob, errCrowded)
	}
	f.take(taken + 3.5)
	if !tried {
		trial.draw(f, body)
	}
	if !anchored {
		anchor.draw(f)
	}
	free.draw(f)
	gauge.draw(f)
	return nil
}

// drawViews draws all views in the first of several ways in which every label finds its
// place, and says how high that is. Where the reading views are too crowded for angles and
// lengths they show the bends' numbers alone. A view for reading is given up only where no
// order of the labels serves, and a number only where there is no other way.
func (p templatePage) drawViews(f *flow, views []scene, all []panels, at plane.Point) (heightMM float64, drawn bool) {
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
		for _, lay := range all {
			if lay.enlarged > 0 == way.reading && p.drawPanels(f, views, lay, at, way.how, way.brief) {
				return lay.heightMM, true
			}
		}
	}
	return 0, false
}

// tooLarge is the error for a spring that the paper has no room for.
func (p templatePage) tooLarge(f *flow, views []scene, roomMM float64) error {
	width, height := 0.0, 0.0
	for i, v := range views {
		w, h := templateSize(v, f.area.Width(), 1, i == 0)
		width, height = math.Max(width, w), height+h
	}
	text := fmt.Sprintf("it takes %.0f × %.0f mm with its numbers, %s has room for %.0f × %.0f mm", width, height, f.Paper, f.area.Width(), roomMM)
	other := A4 + Letter - f.Paper
	w, h := f.Paper.SizeMM()
	otherW, otherH := other.SizeMM()
	if width <= f.area.Width()+otherW-w && height <= roomMM+otherH-h {
		text += fmt.Sprintf("; it fits on %s", other)
	}
	return fmt.Errorf("%w: %s", ErrJob, text)
}

// drawPanels draws all views in their panels, the top left corner of the first one at at.
// It draws nothing and is false where a label finds no place.
func (p templatePage) drawPanels(f *flow, views []scene, lay panels, at plane.Point, how patience, brief bool) bool {
	shift := func(b plane.Box) plane.Box { return plane.Box{Min: b.Min.Add(at), Max: b.Max.Add(at)} }
	var draws []func()
	for i, v := range views {
		draw, ok := p.drawTemplate(f, v, shift(lay.template[i]), how, i == 0)
		if !ok {
			return false
		}
		draws = append(draws, draw)
		if lay.enlarged == 0 {
			continue
		}
		if draw, ok = p.drawReading(f, v, shift(lay.reading[i]), lay.enlarged, how, i == 0, brief); !ok {
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
func (p templatePage) drawTemplate(f *flow, s scene, panel plane.Box, how patience, first bool) (draw func(), ok bool) {
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
	l := labels{board: s.board(room, at, 1)}
	l.putNumbers(f, p.bendLabels(s, at, 1))
	l.putEnd(f, s, at, 1)
	if !l.settle(f, how) {
		return nil, false
	}
	return func() {
		f.page.Rectangle(sheet.Construction, panel)
		if first {
			use := f.say("lay the wire on this one")
			if !p.planar() { // it would not lie flat
				use = f.say("from the cheek; hold the wire over both views")
			}
			drawCaption(f, panel, "1:1", use)
			bar := plane.Point{X: panel.Centre().X - nearBarMM*f.scale.X/2, Y: panel.Min.Y + 3}
			drawBar(f.page, f.scale, bar, nearBarMM, false)
		} else {
			drawCaption(f, panel, "1:1", f.say("from the biting side"))
		}
		corner := plane.Point{X: panel.Min.X + panelInsetMM, Y: panel.Max.Y - captionMM}
		if wide {
			corner.Y = math.Min(corner.Y, room.Centre().Y+compassMM/2)
		}
		f.page.Figure(p.spoken(s.plan), func() {
			p.compass(s.plan).draw(f.page, corner)
			s.draw(f.page, at, 1)
			l.draw(f.page)
		})
	}, true
}

// drawReading prepares a view for reading, a brief one without angles and lengths.
func (p templatePage) drawReading(f *flow, s scene, panel plane.Box, scale float64, how patience, first, brief bool) (draw func(), ok bool) {
	room := panel.Grown(-0.8)
	room.Max.Y -= captionMM - 0.8
	at := room.Centre().Sub(s.bounds.Centre().Times(scale))
	l := labels{board: s.board(room, at, scale)}

	body := sheet.Style{SizePt: sheet.BodyPt}
	for _, b := range p.bendLabels(s, at, scale) {
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
		l.put(b.number, b.anchors, b.more, 2.5, width, 2*ringRadiusMM, func(box plane.Box) { b.draw(f.page, box) })
	}
	low := 0.0
	if f.Language.DecimalComma() { // which hangs below the line
		low = body.DescentMM()
	}
	if !s.plan && !brief { // from the biting side straights look shorter than they are
		for _, n := range p.legLabels(s, at, scale) {
			l.put("", n.anchors, nil, 0.8, f.doc.WidthOf(n.text, body), body.CapMM()+low, func(box plane.Box) {
				f.page.Text(box.Min.Add(plane.Point{Y: low}), n.text, body)
			})
		}
	}
	l.putSlots(f, s, at, scale)
	l.putEnd(f, s, at, scale)
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
		drawCaption(f, panel, fmt.Sprintf("%g:1", scale), remark)
		f.page.Figure(p.spoken(s.plan), func() {
			s.draw(f.page, at, scale)
			l.draw(f.page)
		})
	}, true
}

// spoken is what is said of a drawing of the spring to somebody who has the page read aloud.
func (s *subject) spoken(plan bool) string {
	if plan {
		return s.say("Drawing: the spring from the biting side; the bend steps tell it in numbers.")
	}
	return s.say("Drawing: the spring from the cheek; the bend steps tell it in numbers.")
}

// drawCaption writes what scale a panel has, large, and what it is for.
func drawCaption(f *flow, panel plane.Box, scale, remark string) {
	head := sheet.Style{SizePt: sheet.HeadPt, Bold: true}
	small := sheet.Style{SizePt: sheet.SmallPt}
	at := plane.Point{X: panel.Min.X + panelInsetMM, Y: panel.Max.Y - 1.5 - head.CapMM()}
	at.X += f.page.Text(at, scale, head) + 2
	lines := f.doc.Wrap(remark, panel.Max.X-panelInsetMM-at.X, small)
	for i, line := range lines {
		f.page.Text(plane.Point{X: at.X, Y: at.Y - float64(i)*small.LineMM()}, line, small)
	}
}
