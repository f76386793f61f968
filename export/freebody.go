package export

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"springwright/design/tooth"
	"springwright/export/bend"
	"springwright/export/plane"
	"springwright/export/sheet"
	"springwright/export/words"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	sketchWidthMM  = 78.0
	crownHalfMM    = 5.0  // of a drawn crown's width
	crownMM        = 5.6  // from its neck to its biting edge
	crownAcrossMM  = 8.0  // of a crown seen from the biting side
	rootMM         = 10.0 // of a drawn root's length
	arrowMM        = 10.0 // for the force that the scale names
	narrowArrowMM  = 9.0  // the same where there are two views: half of what lies between them
	leastArrowMM   = 1.8  // shorter ones would be all head
	arcRadiusMM    = 7.4
	arcRad         = 270 * degree // for the couple that the scale names
	leastArcRad    = 14 * degree
	sketchTextMM   = 3.2 // between lines
	captionWidthMM = sketchWidthMM/4 - 0.8
	// What prints as more than zero.
	leastShownN, leastShownNMM = 0.005, 0.005
)

// freeBody is a sketch of both teeth and the loads on them at the first position, in one view or in
// the two that show what matters. Arrows of forces are in proportion to each other, and so are
// arcs of couples.
type freeBody struct {
	speech
	teeth tooth.Pair
	view  bend.View
	loads [2]tooth.Load // that on the anchor tooth first
}

func freeBodyOf(s *subject) freeBody {
	position := s.job.Evaluation.Record.Positions[0]
	return freeBody{s.speech, s.job.Case.Teeth, s.view, [2]tooth.Load{position.Anchor, position.Active}}
}

// sketchView is a way to look at a tooth: what is right and up on the page.
type sketchView struct {
	right, up r3.Vec
	caption   words.Phrase // with room for the word for outwards
	root      bool         // the root is seen from the side
}

// on is where a vector points on the page.
func (v sketchView) on(p r3.Vec) plane.Point {
	return plane.Point{X: r3.Dot(v.right, p), Y: r3.Dot(v.up, p)}
}

// turn is a couple as it is seen: above 0 anticlockwise.
func (v sketchView) turn(coupleNMM r3.Vec) float64 { return r3.Dot(r3.Cross(v.right, v.up), coupleNMM) }

// shows tells whether a component is seen in full: a force across the line of sight, a couple
// about it.
func (v sketchView) shows(k tooth.Component) bool {
	axis := axisOf(k)
	if k.Couple() {
		return v.turn(axis) != 0
	}
	return v.on(axis) != plane.Point{}
}

func axisOf(k tooth.Component) r3.Vec {
	return [...]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}[k%3]
}

// allViews are those from the cheek, from the biting side, and along the arch from mesial.
func (b freeBody) allViews() [3]sketchView {
	toCheek := r3.Vec{Y: b.teeth.BuccalSign()}
	x, z := b.view.XSign, b.view.ZSign
	cheek := sketchView{right: r3.Vec{X: x}, up: r3.Vec{Z: z}, caption: fromCheek, root: true}
	// Neither view is mirrored: right and up turn to what points at the viewer.
	biting := sketchView{right: r3.Vec{X: x}, up: r3.Vec{Y: -x}}
	biting.caption = "from the biting side, %s up"
	if biting.on(toCheek).Y < 0 {
		biting.caption = "from the biting side, %s down"
	}
	arch := sketchView{right: r3.Vec{Y: z * b.teeth.MesialSign()}, up: r3.Vec{Z: z}, root: true}
	arch.caption = "from mesial, %s right"
	if arch.on(toCheek).X < 0 {
		arch.caption = "from mesial, %s left"
	}
	return [3]sketchView{cheek, biting, arch}
}

// views are the views that are drawn: those that show the largest force and the largest
// couple on each tooth, and of them those that show most of what is long enough to be drawn; one
// where a second would show nothing more.
func (b freeBody) views() []sketchView {
	all := b.allViews()
	var best []sketchView
	bestMain, bestMore := -1, -1
	for _, set := range [...][]sketchView{{all[0]}, {all[1]}, {all[2]}, {all[0], all[1]}, {all[0], all[2]}, {all[1], all[2]}} {
		main, more := 0, 0
		for _, l := range b.loads {
			for k := range tooth.Components {
				if length := b.length(l, k); length == 0 || !slices.ContainsFunc(set, func(v sketchView) bool { return v.shows(k) }) {
					continue
				}
				more++
				if k == largest(l, k.Couple()) {
					main++
				}
			}
		}
		if main > bestMain || main == bestMain && more > bestMore {
			best, bestMain, bestMore = set, main, more
		}
	}
	return best
}

// largest is the largest component of a force or of a couple.
func largest(l tooth.Load, couple bool) tooth.Component {
	first := tooth.ForceX
	if couple {
		first = tooth.CoupleX
	}
	best := first
	for k := first + 1; k < first+3; k++ {
		if math.Abs(l.Component(k)) > math.Abs(l.Component(best)) {
			best = k
		}
	}
	return best
}

// scales are the round values that the longest arrow and the longest arc stand for, the
// same for all views and both teeth.
func (b freeBody) scales() (forceN, coupleNMM float64) {
	for _, l := range b.loads {
		forceN = max(forceN, math.Abs(l.Component(largest(l, false))))
		coupleNMM = max(coupleNMM, math.Abs(l.Component(largest(l, true))))
	}
	return scaleOf(forceN), scaleOf(coupleNMM)
}

// length is how long a component is drawn, as a share of what the scale names, with its
// sign; 0 where it is left out. The largest of a tooth is drawn however short it is, if it
// prints as more than zero.
func (b freeBody) length(l tooth.Load, k tooth.Component) float64 {
	scale, coupleNMM := b.scales()
	shown, shortest := leastShownN, leastArrowMM/narrowArrowMM
	if k.Couple() {
		scale, shown, shortest = coupleNMM, leastShownNMM, leastArcRad/arcRad
	}
	v := l.Component(k)
	switch {
	case math.Abs(v) < shown:
		return 0
	case math.Abs(v) >= shortest*scale:
		return v / scale
	case k == largest(l, k.Couple()):
		return math.Copysign(shortest, v)
	}
	return 0
}

func (b freeBody) heightMM(f *flow) float64 {
	// The number of each tooth, its loads, and the scale.
	return headingMM + b.toothHeightMM(f) + 2.6 + float64(b.loadLinesAtMost()+1)*sketchTextMM + 1.5
}

// loadLinesAtMost is how many lines name the loads on a tooth.
func (b freeBody) loadLinesAtMost() int {
	return max(len(b.loadLines(b.loads[0], b.teeth.AnchorMember())), len(b.loadLines(b.loads[1], b.teeth.ActiveMember())))
}

// toothHeightMM is what a tooth takes with its arrows and what stands below each view.
func (b freeBody) toothHeightMM(f *flow) float64 {
	height := crownMM/2 + rootMM + math.Max(arrowMM, arcRadiusMM) + 2
	if views := b.views(); captioned(views) {
		height += float64(b.captionLines(f, views)) * sheet.Style{SizePt: sheet.SmallPt}.LineMM()
	}
	return height
}

const fromCheek = "from the cheek"

// captioned tells whether each view says where it is seen from: the usual one alone does not.
func captioned(views []sketchView) bool { return len(views) > 1 || views[0].caption != fromCheek }

// captionOf says where a tooth is seen from, in lines.
func (b freeBody) captionOf(f *flow, v sketchView, n tooth.Number) []string {
	var words []any
	if strings.Contains(string(v.caption), "%s") {
		words = append(words, f.words.Outward(n))
	}
	text := f.say(v.caption, words...)
	return f.doc.Wrap(text, captionWidthMM, sheet.Style{SizePt: sheet.SmallPt})
}

func (b freeBody) captionLines(f *flow, views []sketchView) int {
	lines := 0
	for _, v := range views {
		for _, n := range [...]tooth.Number{b.teeth.Anchor, b.teeth.Active} {
			lines = max(lines, len(b.captionOf(f, v, n)))
		}
	}
	return lines
}

// scaleOf is the round value that stands for the longest arrow.
func scaleOf(largest float64) float64 {
	if !(largest > 0) {
		return 0
	}
	power := math.Pow(10, math.Floor(math.Log10(largest)))
	for _, m := range [...]float64{1, 1.5, 2, 3, 4, 5, 6, 8} {
		if m*power >= largest*(1-1e-9) {
			return m * power
		}
	}
	return 10 * power
}

// remark stands beside the sketch's heading.
func (b freeBody) remark() string {
	if captioned(b.views()) {
		return b.say("on the teeth")
	}
	return b.say("on the teeth, seen from the cheek")
}

// draw draws both teeth with their loads at the first position, each in all views.
func (b freeBody) draw(f *flow, box plane.Box) {
	teeth, views := b.teeth, b.views()
	lengthMM := arrowMM
	if len(views) > 1 {
		lengthMM = narrowArrowMM
	}
	y := box.Max.Y - arrowMM - 1
	if b.view.ZSign > 0 { // the root is up
		y = box.Max.Y - crownMM/2 - rootMM - 1
	}
	textY := box.Max.Y - b.toothHeightMM(f)
	small := sheet.Style{SizePt: sheet.SmallPt, Align: sheet.Centre}
	for i, l := range b.loads {
		of := [...]tooth.Member{teeth.AnchorMember(), teeth.ActiveMember()}[i]
		left := (i == 0) == (b.view.XSign > 0) // as the teeth stand, seen from the cheek
		middle := box.Min.X + box.Width()*0.25
		if !left {
			middle += box.Width() * 0.5
		}
		for n, v := range views {
			x := middle + (float64(n)-float64(len(views)-1)/2)*sketchWidthMM/4
			f.page.Figure(f.say("Drawing: tooth %d with arrows for its loads, which stand below in numbers.", of.Number), func() {
				b.drawTooth(f, plane.Point{X: x, Y: y}, v, l, lengthMM)
			})
			if captioned(views) {
				top := textY + float64(b.captionLines(f, views))*small.LineMM()
				for line, text := range b.captionOf(f, v, of.Number) {
					f.page.Text(plane.Point{X: x, Y: top - small.CapMM() - float64(line)*small.LineMM()}, text, small)
				}
			}
		}
		b.drawLoads(f, plane.Point{X: middle, Y: textY}, of, l)
	}
	forceN, coupleNMM := b.scales()
	var scale string
	if forceN > 0 {
		scale = f.say("An arrow of %s mm is %s N", f.words.Figures(lengthMM, -1), f.words.Figures(forceN, 3))
	}
	if coupleNMM > 0 {
		if scale != "" {
			scale += ", "
		}
		scale += f.say("an arc of %s° is %s N·mm", f.words.Number(arcRad/degree, 0), f.words.Figures(coupleNMM, 3))
	}
	if scale != "" {
		y := textY - float64(b.loadLinesAtMost()+1)*sketchTextMM - 3.2
		f.page.Text(plane.Point{X: box.Min.X, Y: y}, words.Capital(scale)+".", sheet.Style{SizePt: sheet.SmallPt})
	}
}

// drawTooth draws a tooth in a view, with those of its loads that the view shows.
func (b freeBody) drawTooth(f *flow, at plane.Point, v sketchView, l tooth.Load, lengthMM float64) {
	up := b.view.ZSign
	q := func(x, y float64) plane.Point { return at.Add(plane.Point{X: x, Y: y * up}) }
	outline := []plane.Point{
		q(-crownHalfMM, -crownMM/2), q(crownHalfMM, -crownMM/2), q(crownHalfMM, crownMM/2),
		q(0.45*crownHalfMM, crownMM/2+rootMM), q(-0.45*crownHalfMM, crownMM/2+rootMM), q(-crownHalfMM, crownMM/2), q(-crownHalfMM, -crownMM/2),
	}
	if !v.root {
		outline = []plane.Point{
			q(-crownHalfMM, -crownAcrossMM/2), q(crownHalfMM, -crownAcrossMM/2), q(crownHalfMM, crownAcrossMM/2), q(-crownHalfMM, crownAcrossMM/2), q(-crownHalfMM, -crownAcrossMM/2),
		}
	}
	f.page.Polyline(sheet.Construction, outline)
	f.page.Dot(at, 0.7)
	for k := range tooth.Components {
		length := b.length(l, k)
		if length == 0 || !v.shows(k) {
			continue
		}
		if !k.Couple() {
			f.page.Arrow(sheet.Bar, at, at.Add(v.on(axisOf(k)).Times(length*lengthMM)))
			continue
		}
		sweep := v.turn(axisOf(k)) * length * arcRad
		crown := -math.Pi / 2 * up // on the side of the crown
		f.page.ArcArrow(sheet.Bar, at, arcRadiusMM, crown-sweep/2, sweep, 1.6)
	}
}

// drawLoads writes a tooth's number and its loads under it.
func (b freeBody) drawLoads(f *flow, at plane.Point, of tooth.Member, l tooth.Load) {
	small := sheet.Style{SizePt: sheet.SmallPt, Align: sheet.Centre}
	bold := sheet.Style{SizePt: sheet.BodyPt, Bold: true, Align: sheet.Centre}
	at.Y -= bold.CapMM()
	f.page.Text(at, strconv.Itoa(int(of.Number)), bold)
	for _, line := range b.loadLines(l, of) {
		at.Y -= sketchTextMM
		f.page.Text(at, line, small)
	}
}

// loadLines names the loads on a tooth: always those in the plane seen from the cheek, the
// others where they print as more than zero.
func (b freeBody) loadLines(l tooth.Load, of tooth.Member) []string {
	var lines []string
	for i, part := range [...]struct {
		value float64
		unit  string
		name  func(float64) string
	}{
		{l.ForceN.Z, "N", b.sense(of, tooth.ForceZ)},
		{l.CoupleNMM.Y, "N·mm", b.sense(of, tooth.CoupleY)},
		{l.ForceN.X, "N", b.sense(of, tooth.ForceX)},
		{l.ForceN.Y, "N", b.sense(of, tooth.ForceY)},
		{l.CoupleNMM.X, "N·mm", func(v float64) string { return b.words.Torque(of, v) }},
		{l.CoupleNMM.Z, "N·mm", b.sense(of, tooth.CoupleZ)},
	} {
		name := word(part.value, 2, part.name)
		text := b.words.Number(math.Abs(part.value), 2) + " " + part.unit
		switch {
		case name != "":
			lines = append(lines, text+" "+name)
		case i == 0:
			lines = append(lines, b.say("no force up or down"))
		case i == 1:
			lines = append(lines, b.say("no tipping couple"))
		}
	}
	return lines
}
