package export

import (
	"fmt"
	"math"

	"springwright/design/spring"
	"springwright/export/label"
	"springwright/export/plane"
	"springwright/export/sheet"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	ringRadiusMM = 2.1 // round a bend's number
	turnRadiusMM = 1.25
)

// mark is what is written beside a bend.
type mark struct {
	anchors []label.Anchor
	more    []label.Anchor // away from the middle, where those find no place
	number  string
	text    string
	turn    float64 // +1 left, −1 right, 0 neither
}

// insideMM is how much farther off a label outside a bend may be than one inside it.
const insideMM = 2.5

// bendLabels returns a mark for each row of the bend table; from the biting side only for
// those that are not seen from the cheek.
func (of *subject) bendLabels(s scene, at plane.Point, scale float64) []mark {
	var marks []mark
	for _, r := range of.bends.Rows {
		if s.plan && !r.Twist && r.InView {
			continue
		}
		first, last := s.start[r.PathStep], s.start[r.PathStep+1]
		middle := (first + last) / 2
		m := mark{number: fmt.Sprint(r.Step), text: seenText(of.words, r)}
		// Outside a bend is away from the middle of its chord.
		chord := s.passive.centre[first].Add(s.passive.centre[last]).Times(0.5)
		outer, inner := s.passive.left[middle], s.passive.right[middle]
		if inner.Sub(chord).Norm() > outer.Sub(chord).Norm() {
			outer, inner = inner, outer
		}
		m.anchors = []label.Anchor{
			{At: at.Add(outer.Times(scale)), Away: outer.Sub(inner)},
			{At: at.Add(inner.Times(scale)), Away: inner.Sub(outer), CostMM: insideMM},
		}
		for _, i := range [...]int{(3*first + last) / 4, (first + 3*last) / 4} {
			a, b := s.passive.left[i], s.passive.right[i]
			for _, side := range [...]label.Anchor{{At: a, Away: a.Sub(b)}, {At: b, Away: b.Sub(a)}} {
				m.more = append(m.more, label.Anchor{At: at.Add(side.At.Times(scale)), Away: side.Away, CostMM: insideMM})
			}
		}
		switch {
		case r.InView:
			m.turn = math.Copysign(1, r.SeenRad)
			m.text = of.words.Degrees(r.BendRad)
		case s.plan && !r.Twist:
			m.turn = s.turn(first, last)
			m.text = of.words.Degrees(r.BendRad)
		case !r.Twist:
			m.text = "" // the view from the biting side shows how it is bent
		}
		marks = append(marks, m)
	}
	return marks
}

// putNumbers marks bends by their numbers alone.
func (l *labels) putNumbers(f *flow, bends []mark) {
	small := sheet.Style{SizePt: sheet.SmallPt, Align: sheet.Centre}
	for _, b := range bends {
		l.put(b.number, b.anchors, b.more, 1.2, f.doc.WidthOf(b.number, small), small.CapMM(), func(box plane.Box) {
			f.page.Text(plane.Point{X: box.Centre().X, Y: box.Min.Y}, b.number, small)
		})
	}
}

// putSlots names the slots.
func (l *labels) putSlots(f *flow, s scene, at plane.Point, scale float64) {
	small := sheet.Style{SizePt: sheet.SmallPt}
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
}

// putEnd marks the end mark, where the wire between the slots ends.
func (l *labels) putEnd(f *flow, s scene, at plane.Point, scale float64) {
	small := sheet.Style{SizePt: sheet.SmallPt, Align: sheet.Centre}
	i := s.start[len(s.start)-1]
	left, right := at.Add(s.passive.left[i].Times(scale)), at.Add(s.passive.right[i].Times(scale))
	side := left.Sub(right)
	l.put(endMark, []label.Anchor{{At: left, Away: side}, {At: right, Away: side.Times(-1)}}, nil, 1.2, f.doc.WidthOf(endMark, small), small.CapMM(), func(box plane.Box) {
		f.page.Line(sheet.Mark, left, right)
		f.page.Text(plane.Point{X: box.Centre().X, Y: box.Min.Y}, endMark, small)
	})
}

// turn is +1 where the wire is seen to turn left between two of its poses, −1 where right,
// and 0 where it is seen to do neither.
func (s scene) turn(first, last int) float64 {
	a, b := s.see(s.poses[first].D1), s.see(s.poses[last].D1)
	cross := a.X*b.Y - a.Y*b.X
	if math.Abs(cross) < math.Sin(degree/2) {
		return 0
	}
	return math.Copysign(1, cross)
}

// draw draws a bend's number in a ring, its angle, and an arrow that turns its way.
func (m mark) draw(p *sheet.Page, box plane.Box) {
	number := sheet.Style{SizePt: sheet.BodyPt, Bold: true, Align: sheet.Centre}
	body := sheet.Style{SizePt: sheet.BodyPt}
	y := box.Centre().Y - body.CapMM()/2
	ring := plane.Point{X: box.Min.X + ringRadiusMM, Y: box.Centre().Y}
	p.Circle(sheet.Mark, ring, ringRadiusMM)
	p.Text(plane.Point{X: ring.X, Y: y}, m.number, number)
	x := box.Min.X + 2*ringRadiusMM + 1
	x += p.Text(plane.Point{X: x, Y: y}, m.text, body)
	if m.turn != 0 {
		drawTurn(p, plane.Point{X: x + 1 + turnRadiusMM, Y: box.Centre().Y}, m.turn)
	}
}

// drawTurn draws three quarters of a circle with a head: turn +1 anticlockwise, which is
// to the left, or −1 clockwise.
func drawTurn(p *sheet.Page, centre plane.Point, turn float64) {
	p.ArcArrow(sheet.Mark, centre, turnRadiusMM, -45*degree*turn+math.Pi/2*(1-turn), turn*260*degree, 1.1)
}

// note is a length written beside a straight.
type note struct {
	anchors []label.Anchor
	text    string
}

// legLabels returns the length of every straight, best at its middle and on the outside.
func (of *subject) legLabels(s scene, at plane.Point, scale float64) []note {
	var notes []note
	middle := s.passive.cover(plane.Empty()).Centre()
	for i, step := range of.steps() {
		if step.Kind != spring.Straight {
			continue
		}
		a, b := s.start[i], s.start[i+1]
		n := note{text: of.words.Millimetres(step.LengthMM)}
		for _, share := range [...]float64{0.5, 0.35, 0.65, 0.2, 0.8} {
			on := func(edge []plane.Point) plane.Point {
				return edge[a].Times(1 - share).Add(edge[b].Times(share))
			}
			outer, inner := on(s.passive.left), on(s.passive.right)
			if inner.Sub(middle).Norm() > outer.Sub(middle).Norm() {
				outer, inner = inner, outer
			}
			off := 2 * math.Abs(share-0.5)
			n.anchors = append(n.anchors,
				label.Anchor{At: at.Add(outer.Times(scale)), Away: outer.Sub(inner), CostMM: off},
				label.Anchor{At: at.Add(inner.Times(scale)), Away: inner.Sub(outer), CostMM: off + 1})
		}
		notes = append(notes, n)
	}
	return notes
}

// compass is the four directions as they are seen.
type compass struct{ up, down, right, left string }

func (s *subject) compass(plan bool) compass {
	up, down := s.say("apical"), s.words.Edge(s.view.Teeth.Active)
	swapped := s.view.ZSign < 0
	if plan {
		up, down = s.words.Outward(s.view.Teeth.Active), s.words.Inward(s.view.Teeth.Active)
		_, cheek := s.view.Plan(r3.Vec{Y: s.view.Teeth.BuccalSign()})
		swapped = cheek < 0
	}
	if swapped {
		up, down = down, up
	}
	right, left := s.say("distal"), s.say("mesial")
	if s.view.XSign*s.view.Teeth.MesialSign() > 0 {
		right, left = left, right
	}
	return compass{up, down, right, left}
}

// draw draws the directions, their top left corner at at.
func (c compass) draw(p *sheet.Page, at plane.Point) {
	small := sheet.Style{SizePt: sheet.SmallPt}
	const arm, clear = 4.0, 0.8
	centre := at.Add(plane.Point{X: 9.5 + arm + clear, Y: -compassMM / 2})
	for _, d := range [...]plane.Point{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}} {
		p.Arrow(sheet.Mark, centre, centre.Add(d.Times(arm)))
	}
	set := func(text string, x, y float64, align sheet.Align) {
		s := small
		s.Align = align
		p.Text(centre.Add(plane.Point{X: x, Y: y}), text, s)
	}
	set(c.up, 0, arm+clear+0.5, sheet.Centre)
	set(c.down, 0, -arm-clear-small.CapMM(), sheet.Centre)
	set(c.right, arm+clear, -small.CapMM()/2, sheet.Left)
	set(c.left, -arm-clear, -small.CapMM()/2, sheet.Right)
}
