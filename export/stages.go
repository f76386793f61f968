package export

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/export/bend"
	"springwright/export/label"
	"springwright/export/plane"
	"springwright/export/sheet"
)

// bendingOrder lists the rows of the bend table in the order in which a hand bends them:
// second-order bends first, then first-order bends, then twists (common practice).
func (s *subject) bendingOrder() []bend.Row {
	steps := s.steps()
	rank := func(r bend.Row) int {
		switch step := steps[r.PathStep]; {
		case step.Kind == spring.Twist:
			return 2
		case step.Order == 1:
			return 1
		}
		return 0
	}
	rows := slices.Clone(s.bends.Rows)
	slices.SortStableFunc(rows, func(a, b bend.Row) int { return rank(a) - rank(b) })
	return rows
}

// orderText names the order of bending.
func (b bendTexts) orderText() string {
	if len(b.bends.Rows) == 0 {
		return ""
	}
	var numbers []string
	inOrder := true
	for i, r := range b.bendingOrder() {
		numbers = append(numbers, fmt.Sprint(r.Step))
		inOrder = inOrder && r.Step == i+1
	}
	if inOrder {
		return b.say("Order of bending: as numbered, checking on the template after every bend; pre-activation bends last (common practice).")
	}
	if !b.twists() {
		return b.say("Order of bending: %s: second-order bends, then first-order bends, checking on the template after every bend; pre-activation bends last (common practice).",
			strings.Join(numbers, ", "))
	}
	return b.say("Order of bending: %s: second-order bends, then first-order bends, then twists, checking on the template after every bend; pre-activation bends last (common practice).",
		strings.Join(numbers, ", "))
}

const (
	stageRestMM  = 12.0 // straight rest that is drawn: enough to see its angle
	stageStartMM = 4.0  // of the wire in and before the anchor slot
	stageInsetMM = 2.5  // round a stage, inside its cell
	stageApartMM = 3.0  // between cells
	stageHeadMM  = 8.2
	stageLineMM  = 3.4
	stageSpareMM = 20.0 // more height at most, where a page has it
)

// stage is the wire after one bend, in one view or two under each other.
type stage struct {
	title, remark string
	how           string // where the bend is and how far it is held
	hand          string // how the wire is held and bent; empty for a flat spring
	views         []stageView
}

type stageView struct {
	scene scene
	bends []bend.Row // that are done
}

// stagesPage is the wire after each bend at true size.
type stagesPage struct{ bendTexts }

func (p stagesPage) draw(f *flow) error {
	f.newPage("Stages")
	f.heading(f.say("After each bend, 1:1"), f.say("Lay the wire over. Open end: the straight rest goes on. Numbers: bends along the wire that are done."))
	f.take(0.5)
	all := p.all()
	widest := 0.0
	for _, s := range all {
		w, h := s.sizeMM(f)
		if w > f.area.Width() || h > f.area.Height()-headingMM-1 {
			return fmt.Errorf("%w: the wire %s takes %.0f × %.0f mm, %s has room for %.0f × %.0f mm",
				ErrJob, s.title, w, h, f.Paper, f.area.Width(), f.area.Height()-headingMM-1)
		}
		widest = math.Max(widest, w)
	}
	// Cells of one width, as many in a row as fit.
	columns := int((f.area.Width() + stageApartMM) / (widest + stageApartMM))
	width := (f.area.Width()+stageApartMM)/float64(columns) - stageApartMM
	var heights []float64
	total := 0.0
	for row := range slices.Chunk(all, columns) {
		height := 0.0
		for _, s := range row {
			_, h := s.sizeMM(f)
			height = math.Max(height, h)
		}
		heights = append(heights, height)
		total += height + stageApartMM
	}
	// On a page with room to spare the cells are higher, for the hand that lays the wire over.
	spare := math.Max(0, f.leftMM()-cautionsHeightMM(f)-total) / math.Max(1, float64(len(heights)))
	for i, height := range heights {
		height += math.Min(spare, stageSpareMM)
		f.need(height)
		at := f.take(height + stageApartMM)
		for _, s := range all[i*columns : min((i+1)*columns, len(all))] {
			p.drawStage(f, s, boxUnder(at.X, at.Y, width, height))
			at.X += width + stageApartMM
		}
	}
	return nil
}

// all bends the wire step by step.
func (p stagesPage) all() []stage {
	done := map[int]bool{}
	var all []stage
	for _, r := range p.bendingOrder() {
		done[r.PathStep] = true
		made := p.job.Spring
		made.Path = spring.PathOf(p.partly(done)...)
		bends := bend.TableOf(made, p.job.Case.Teeth).Rows

		s := stage{title: p.say("after bend %d", r.Step)}
		if r.Twist {
			s.title = p.say("after twist %d", r.Step)
		}
		s.how = p.howText(r)
		if !p.planar() {
			s.hand = p.handLine(r)
		}
		flat, at := true, 0
		for _, other := range p.bends.Rows {
			if !done[other.PathStep] {
				continue
			}
			flat = flat && bends[at].InView
			if other.Step == r.Step {
				s.remark = seenText(p.words, bends[at])
			}
			at++
		}
		s.views = []stageView{p.stageView(done, p.cheek(), false)}
		if !flat {
			s.views = append(s.views, p.stageView(done, p.bitingSide(), true))
		}
		all = append(all, s)
	}
	return all
}

// howText says where a bend is on the straight wire, and what angle it is held at.
func (b bendTexts) howText(r bend.Row) string {
	mark := b.words.Number(r.MarkMM, 2)
	if to, _ := b.bendTo(r, b.steps()[r.PathStep].Order); to != "–" && !r.Twist {
		return b.say("mark %s mm, bend to %s", mark, to)
	}
	return b.say("mark %s mm", mark)
}

// partly is the path with some of its bends done; the others are still straight.
func (s *subject) partly(done map[int]bool) spring.Steps {
	var partly spring.Steps
	for i, step := range s.steps() {
		if step.Kind != spring.Straight && !done[i] {
			step = spring.StraightStep(step.WireLengthMM())
		}
		partly = append(partly, step)
	}
	return partly
}

// bentSoFar is the wire as far as the last of the bends that are done, with pieces in front of its
// first step and behind that bend of so many mm at most. start has the index of each step's first pose.
func (s *subject) bentSoFar(done map[int]bool, backMM, restMM float64) (poses []beam.Pose, start []int) {
	partly, last := s.partly(done), 0
	for i := range partly {
		if done[i] {
			last = i + 1
		}
	}
	poses, start = passivePoses(partly[:last])
	left := s.job.Spring.ActiveSlotLengthMM + bend.HoldMM + partly[last:].WireLengthMM()
	behind := beam.Origin().Along(-math.Min(s.job.Spring.AnchorSlotLengthMM+bend.HoldMM, backMM))
	poses = slices.Concat([]beam.Pose{behind}, poses, []beam.Pose{poses[len(poses)-1].Along(math.Min(left, restMM))})
	for i := range start {
		start[i]++
	}
	return poses, start
}

// stageView is a wire that is partly bent in a view.
func (p stagesPage) stageView(done map[int]bool, see projection, plan bool) stageView {
	poses, start := p.bentSoFar(done, stageStartMM, stageRestMM)
	view := stageView{scene: scene{
		wire: p.job.Spring.Wire, by: p.scale, see: see, plan: plan, poses: poses, start: start,
		passive: shapeOf(poses, p.job.Spring.Wire, see).scaled(p.scale),
	}}
	view.scene.bounds = view.scene.passive.cover(plane.Empty())
	for _, r := range p.bends.Rows {
		if done[r.PathStep] && (!plan || r.Twist || !r.InView) {
			view.bends = append(view.bends, r)
		}
	}
	return view
}

// headMM is what a stage's texts take.
func (s stage) headMM() float64 {
	if s.hand != "" {
		return stageHeadMM + stageLineMM
	}
	return stageHeadMM
}

// sizeMM is the smallest cell that holds a stage.
func (s stage) sizeMM(f *flow) (width, height float64) {
	width = f.doc.WidthOf(s.title, sheet.Style{SizePt: sheet.BodyPt, Bold: true}) + 2 +
		f.doc.WidthOf(s.remark, sheet.Style{SizePt: sheet.SmallPt}) + 2*panelInsetMM
	width = math.Max(width, f.doc.WidthOf(s.how, sheet.Style{SizePt: sheet.SmallPt})+2*panelInsetMM)
	width = math.Max(width, f.doc.WidthOf(s.hand, sheet.Style{SizePt: sheet.SmallPt})+2*panelInsetMM)
	height = s.headMM()
	for _, v := range s.views {
		width = math.Max(width, v.scene.bounds.Width()+2*(stageInsetMM+templateRoom))
		height += v.scene.bounds.Height() + 2*(stageInsetMM+templateRoom)
	}
	return width, height
}

// drawStage draws a stage into its cell.
func (p stagesPage) drawStage(f *flow, s stage, cell plane.Box) {
	f.page.Rectangle(sheet.Construction, cell)
	head := sheet.Style{SizePt: sheet.BodyPt, Bold: true}
	small := sheet.Style{SizePt: sheet.SmallPt}
	corner := plane.Point{X: cell.Min.X + panelInsetMM, Y: cell.Max.Y - 1.5 - head.CapMM()}
	corner.X += f.page.Text(corner, s.title, head) + 2
	f.page.Text(corner, s.remark, small)
	f.page.Text(plane.Point{X: cell.Min.X + panelInsetMM, Y: corner.Y - stageLineMM}, s.how, small)
	if s.hand != "" {
		f.page.Text(plane.Point{X: cell.Min.X + panelInsetMM, Y: corner.Y - 2*stageLineMM}, s.hand, small)
	}
	top := cell.Max.Y - s.headMM()
	_, needed := s.sizeMM(f)
	spare := cell.Height() - needed
	for i, v := range s.views {
		height := v.scene.bounds.Height() + 2*(stageInsetMM+templateRoom) + spare/float64(len(s.views))
		room := plane.Box{Min: plane.Point{X: cell.Min.X, Y: top - height}, Max: plane.Point{X: cell.Max.X, Y: top}}.Grown(-0.6)
		top -= height
		if i == 1 {
			f.page.Text(plane.Point{X: cell.Min.X + panelInsetMM, Y: room.Max.Y - small.CapMM()}, f.say("from the biting side"), small)
			room.Max.Y -= small.LineMM()
		}
		p.drawStageView(f, v, room)
	}
}

func (p stagesPage) drawStageView(f *flow, v stageView, room plane.Box) {
	f.page.Figure(p.spoken(v.scene.plan), func() { p.drawWire(f, v, room) })
}

func (p stagesPage) drawWire(f *flow, v stageView, room plane.Box) {
	s := v.scene
	at := room.Centre().Sub(s.bounds.Centre())
	place := func(points []plane.Point) []plane.Point { return plane.Placed(points, at, 1) }
	if s.plan {
		drawSilhouette(f.page, s.by, s.poses, s.wire, s.see, at, 1)
	} else {
		f.page.Polyline(sheet.Outline, place(s.passive.left))
		f.page.Polyline(sheet.Outline, place(s.passive.right))
		f.page.Line(sheet.Outline, at.Add(s.passive.left[0]), at.Add(s.passive.right[0]))
	}
	f.page.Polyline(sheet.Centreline, place(s.passive.centre))
	half := math.Max(s.wire.HeightMM(), s.wire.DepthMM()) / 2
	board := &label.Board{Bounds: room, ClearMM: 0.3}
	board.Block(thin(s.passive.centre, at, 1), half)
	small := sheet.Style{SizePt: sheet.SmallPt, Align: sheet.Centre}
	l := labels{board: board}
	for _, r := range v.bends {
		first, last := s.start[r.PathStep], s.start[r.PathStep+1]
		middle := (first + last) / 2
		number := fmt.Sprint(r.Step)
		side := s.passive.left[middle].Sub(s.passive.right[middle])
		l.put(number, []label.Anchor{
			{At: at.Add(s.passive.left[middle]), Away: side},
			{At: at.Add(s.passive.right[middle]), Away: side.Times(-1)},
		}, nil, 1, f.doc.WidthOf(number, small), small.CapMM(), func(box plane.Box) {
			f.page.Text(plane.Point{X: box.Centre().X, Y: box.Min.Y}, number, small)
		})
	}
	l.settleAndDraw(f)
}
