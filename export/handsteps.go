package export

import (
	"math"
	"slices"

	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/export/bend"
	"springwright/export/plane"
	"springwright/export/sheet"
	"springwright/export/words"

	"gonum.org/v1/gonum/spatial/r3"
)

// What a hand does at each step of a spring that leaves its plane, in words and pictures:
// see "By hand" in package bend.

// facingPhrases are where the line on the wire's top faces.
var facingPhrases = [...]words.Phrase{bend.FacesUp: "up", bend.FacesYou: "to you", bend.FacesDown: "down", bend.FacesAway: "away"}

func (b bendTexts) facingText(line bend.Facing) string { return b.say(facingPhrases[line]) }

// holdText says how the straight wire is held and marked before all steps.
func (b bendTexts) holdText() string {
	hold := words.Phrase("Hold the wire level, as it lies on the drawing: the anchor end in your left hand, the other end in your right, the %s side up, the cheek side to you.")
	if !b.bends.AnchorLeft {
		hold = "Hold the wire level, as it lies on the drawing: the anchor end in your right hand, the other end in your left, the %s side up, the cheek side to you."
	}
	return b.say(hold, b.words.Side(b.view.TopWord())) + " " +
		b.say("Draw a pen line along its whole top. At each mark hold the wire level again, the part from the anchor in the same hand, turn it about itself as said, and only then bend the rest, always up.")
}

// handText is one step in words.
func (b bendTexts) handText(r bend.Row) string {
	hand := b.say("The part from the anchor in your left hand.")
	if !b.bends.AnchorLeft {
		hand = b.say("The part from the anchor in your right hand.")
	}
	turn := b.say([...]words.Phrase{
		bend.FacesUp:   "The line faces up.",
		bend.FacesYou:  "Turn the wire about itself a quarter, its top towards you: the line faces you.",
		bend.FacesDown: "Turn the wire about itself by half: the line faces down.",
		bend.FacesAway: "Turn the wire about itself a quarter, its top away from you: the line faces away.",
	}[r.Line])
	return hand + " " + turn + " " + b.workText(r)
}

// workText is what is done with the rest of the wire, once it is held right.
func (b bendTexts) workText(r bend.Row) string {
	if r.Twist {
		work := words.Phrase("Turn the rest about the wire by %s over %s mm, its top away from you.")
		if r.TopToYou {
			work = "Turn the rest about the wire by %s over %s mm, its top towards you."
		}
		return b.say(work, b.words.Degrees(math.Abs(r.TwistRad)), b.words.Millimetres(r.ArcMM))
	}
	if to, _ := b.bendTo(r, b.steps()[r.PathStep].Order); to != "–" {
		return b.say("Bend the rest up by %s, held at %s.", b.words.Degrees(r.BendRad), to)
	}
	return b.say("Bend the rest up by %s.", b.words.Degrees(r.BendRad))
}

// handLine is handText in as few words as a stage has room for.
func (b bendTexts) handLine(r bend.Row) string {
	switch {
	case !r.Twist:
		return b.say("line %s, bend up", b.facingText(r.Line))
	case r.TopToYou:
		return b.say("line up, twist top to you")
	}
	return b.say("line up, twist top away")
}

// stepText is the number of a step with its mark.
func (b bendTexts) stepText(r bend.Row) string {
	return b.say("Step %d, mark %s mm.", r.Step, b.words.Number(r.MarkMM, 2))
}

const (
	handColumns   = 3
	handPictureMM = 24.0
	handInsetMM   = 1.5
	handRestMM    = 7.0 // of the wire behind the bend
	handBackMM    = 6.0 // of the straight wire in front of the first bend
	handMost      = 2.0 // times true size, at most
	anchorDotMM   = 0.7 // its radius
)

// handSteps are all steps, in the order of bending, as the hand that holds the wire sees them.
type handSteps struct{ bendTexts }

func (h handSteps) draw(f *flow) {
	body, small := sheet.Style{SizePt: sheet.BodyPt}, sheet.Style{SizePt: sheet.SmallPt}
	bold := sheet.Style{SizePt: sheet.SmallPt, Bold: true}
	width := (f.area.Width()+stageApartMM)/handColumns - stageApartMM
	words := func(r bend.Row) []string { return f.doc.Wrap(h.handText(r), width-2*handInsetMM, small) }

	rows, lines := h.bendingOrder(), 0
	for _, r := range rows {
		lines = max(lines, len(words(r)))
	}
	height := 2*handInsetMM + float64(1+lines)*small.LineMM() + handPictureMM
	f.need(headingMM + f.blockMM(h.holdText(), body) + height)
	f.heading(f.say("By hand"), f.say("In the order of bending, as the hand that holds the wire sees it; not to scale. Arrow with a bar: where the line faces. Dot: anchor end."))
	f.block(h.holdText(), body)
	done := map[int]bool{}
	for row := range slices.Chunk(rows, handColumns) {
		f.need(height)
		at := f.take(height + stageApartMM)
		for _, r := range row {
			done[r.PathStep] = true
			cell := boxUnder(at.X, at.Y, width, height)
			f.page.Rectangle(sheet.Construction, cell)
			corner := plane.Point{X: cell.Min.X + handInsetMM, Y: cell.Max.Y - handInsetMM - small.CapMM()}
			f.page.Text(corner, h.stepText(r), bold)
			for _, line := range words(r) {
				corner.Y -= small.LineMM()
				f.page.Text(corner, line, small)
			}
			room := boxUnder(cell.Min.X, cell.Min.Y+handPictureMM, width, handPictureMM).Grown(-0.6)
			h.picture(f, r, done, room)
			at.X += width + stageApartMM
		}
	}
}

// seen is how the hand's owner sees the wire that a step is made on: right and up as
// they are, what is farther away a little up and to the right.
func (h handSteps) seen(s spring.Step, at beam.Pose) projection {
	const acrossShare, upShare = 0.45, 0.3 // of the depth
	right, up, toYou := h.view.Held(s, at)
	return func(p r3.Vec) plane.Point {
		p = r3.Sub(p, at.At)
		away := -r3.Dot(p, toYou)
		return plane.Point{X: r3.Dot(p, right) + acrossShare*away, Y: r3.Dot(p, up) + upShare*away}
	}
}

// picture draws the wire behind a step as the hand sees it, with an arrow for what was
// done and one for where the line faces.
func (h handSteps) picture(f *flow, r bend.Row, done map[int]bool, room plane.Box) {
	step := h.steps()[r.PathStep]
	poses, start := h.bentSoFar(done, handBackMM, handRestMM)
	from := poses[start[r.PathStep]]
	see := h.seen(step, from)
	right, _, toYou := h.view.Held(step, from)

	arc, line := h.arrows(step, from)
	foot := from.Along(-1.2).At
	const lineMM = 3.2
	if math.Abs(r3.Dot(line, toYou)) > 0.5 {
		line = r3.Scale(1.6, line) // foreshortened
	}
	tip := r3.Add(foot, r3.Scale(lineMM, line))
	straight := []r3.Vec{from.At, r3.Add(from.At, r3.Scale(handRestMM, from.D1))}

	bounds := plane.Empty()
	for _, p := range poses {
		bounds = bounds.Cover(see(p.At))
	}
	for _, p := range slices.Concat(arc, straight, []r3.Vec{foot, tip}) {
		bounds = bounds.Cover(see(p))
	}
	bounds = bounds.Grown(h.job.Spring.Wire.DepthMM())
	// A line of letters at the foot, and room for the step's number beside the wire.
	inside := room.Grown(-1.2)
	inside.Min.Y += sheet.Style{SizePt: sheet.SmallPt}.LineMM()
	scale := math.Min(handMost, math.Min(inside.Width()/bounds.Width(), inside.Height()/bounds.Height()))
	at := inside.Centre().Sub(bounds.Centre().Times(scale))
	place := func(points ...r3.Vec) []plane.Point {
		out := make([]plane.Point, len(points))
		for i, p := range points {
			out[i] = at.Add(see(p).Times(scale))
		}
		return out
	}
	if !r.Twist {
		f.page.Dashed(sheet.Construction, place(straight...), 0.8, 0.5)
	}
	// What is not to scale needs no correction for the printer.
	drawSilhouette(f.page, plane.Point{X: 1, Y: 1}, poses, h.job.Spring.Wire, see, at, scale)
	drawArrowAlong(f.page, place(arc...))
	f.page.Dot(place(poses[0].At)[0], anchorDotMM)
	bar := place(r3.Add(foot, r3.Scale(-1.2, right)), r3.Add(foot, r3.Scale(1.2, right)))
	f.page.Line(sheet.Bar, bar[0], bar[1])
	arrow := place(foot, tip)
	f.page.Arrow(sheet.Mark, arrow[0], arrow[1])
	h.drawHands(f, room)
}

// drawHands says at the foot of a picture which hand has which end.
func (h handSteps) drawHands(f *flow, room plane.Box) {
	small := sheet.Style{SizePt: sheet.SmallPt}
	left, other := f.say("from the anchor on"), f.say("the rest")
	if !h.bends.AnchorLeft {
		left, other = other, left
	}
	y := room.Min.Y + 0.6
	f.page.Text(plane.Point{X: room.Min.X + 0.8, Y: y}, f.say("left: %s", left), small)
	rightStyle := small
	rightStyle.Align = sheet.Right
	f.page.Text(plane.Point{X: room.Max.X - 0.8, Y: y}, f.say("right: %s", other), rightStyle)
}

// arrows returns the arrow for what is done at a step, from its tail to its tip, and the
// direction in which the line on the wire faces; both follow from the wire itself.
func (h handSteps) arrows(s spring.Step, from beam.Pose) (arc []r3.Vec, line r3.Vec) {
	const parts = 24
	around := func(middle, a, b r3.Vec, radiusMM, rad float64) r3.Vec {
		sin, cos := math.Sincos(rad)
		return r3.Add(middle, r3.Add(r3.Scale(radiusMM*cos, a), r3.Scale(radiusMM*sin, b)))
	}
	_, up, _ := h.view.Held(s, from)
	line = r3.Scale(h.view.ZSign, from.D3)
	if s.Kind == spring.Twist {
		const radiusMM, fromRad, overRad = 1.8, -60 * degree, 240 * degree
		way := r3.Scale(math.Copysign(1, s.AngleRad), r3.Cross(from.D1, up))
		middle := from.Along(s.LengthMM + handRestMM/2).At
		for i := range parts + 1 {
			arc = append(arc, around(middle, up, way, radiusMM, fromRad+overRad*float64(i)/parts))
		}
		return arc, line
	}
	const radiusMM, leastRad, mostRad = 5.0, 20 * degree, 150 * degree // such that it is seen
	over := math.Min(math.Max(math.Abs(s.AngleRad), leastRad), mostRad)
	for i := range parts + 1 {
		arc = append(arc, around(from.At, from.D1, up, radiusMM, over*float64(i)/parts))
	}
	return arc, line
}

// drawArrowAlong draws a line through points with a head at its end.
func drawArrowAlong(p *sheet.Page, points []plane.Point) {
	const headMM = 1.5
	tip := points[len(points)-1]
	back := len(points) - 1
	for back > 0 && tip.Sub(points[back]).Norm() < headMM {
		back--
	}
	p.Polyline(sheet.Mark, points[:max(back+1, 2)])
	if way := tip.Sub(points[back]); way.Norm() > 1e-6 {
		p.Head(tip, way.Unit(), headMM)
	}
}
