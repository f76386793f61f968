package export

import (
	"fmt"
	"math"
	"strings"

	"springwright/design"
	"springwright/design/bent"
	"springwright/design/casefile"
	"springwright/design/report"
	"springwright/design/spring"
	"springwright/export/bend"
	"springwright/export/plane"
	"springwright/export/sheet"
	"springwright/export/words"
)

// AsBent is a spring that was bent and measured, over its drawing, with what to correct.
type AsBent struct {
	Frame
	Case        design.Case   // its code, title and teeth, and the heights of the slots
	Drawn, Bent spring.Spring // Bent as it most likely came out, with as many steps
	Chance      float64       // of meeting the target, as bent; the share of those that it may be
	HasTarget   bool          // else there is no chance and nothing to correct
	Ways        []BentWay     // the best correction, and the best two: one or the other is made
}

// BentWay is bends that are corrected together.
type BentWay struct {
	Changes []BentChange
	Chance  float64 // of meeting the target then
}

// BentChange is a correction at a bend or twist, or a fresh bend in the middle of a straight.
type BentChange struct {
	Step  int // of the path
	Fresh bool
	ByRad float64 // above 0 closes a bend further; of a fresh one signed as an angle of the path
}

// AsBentOf is the sheet of a report.
func AsBentOf(frame Frame, c design.Case, drawn spring.Spring, r bent.Report) AsBent {
	a := AsBent{Frame: frame, Case: c, Drawn: drawn, Bent: r.AsBent.Spring, Chance: r.AsBent.Trial.Chance(), HasTarget: r.HasTarget}
	for _, made := range r.Ways() {
		way := BentWay{Chance: made.Trial.Chance()}
		for _, c := range made.Corrections {
			way.Changes = append(way.Changes, BentChange{Step: c.Step, Fresh: c.Fresh, ByRad: c.ByRad})
		}
		a.Ways = append(a.Ways, way)
	}
	return a
}

// File is a file with its name.
type File struct {
	Name string
	Data []byte
}

// AsBentFiles are the sheet of a report, as PDF and as SVG, and the springs that its corrections make, as
// spring files to hold later readings against. The error is that of AsBentSheets.
func AsBentFiles(frame Frame, c design.Case, drawn spring.Spring, r bent.Report) ([]File, error) {
	file, pages, err := AsBentSheets(AsBentOf(frame, c, drawn, r))
	if err != nil {
		return nil, err
	}
	files := []File{{"as-bent.pdf", file}}
	for i, page := range pages {
		files = append(files, File{fmt.Sprintf("as-bent-%d.svg", i+1), page})
	}
	for i, made := range r.Ways() {
		files = append(files, File{fmt.Sprintf("corrected-%d.toml", i+1), casefile.WriteSpring(made.Judged())})
	}
	return files, nil
}

// AsBentSheets returns the sheet as one PDF file and as one SVG file a page. Same input, same bytes. The
// error wraps ErrJob where it cannot be drawn.
func AsBentSheets(a AsBent) (file []byte, pages [][]byte, err error) {
	doc, err := a.compose()
	if err != nil {
		return nil, nil, err
	}
	w := words.NewBook(a.Language)
	return a.written(doc, strings.TrimSpace(w.Say("As bent %s", a.Case.Code)), w.Say("A spring as bent over its drawing at true scale: print at 100 %%"))
}

func (a AsBent) check() error {
	var found faults
	checkTeeth(a.Case.Teeth, found.add)
	a.Frame.check(found.add)
	for _, s := range [...]spring.Spring{a.Drawn, a.Bent} {
		job := Job{Report: report.Report{Spring: s}}
		switch {
		case !(s.Path.WireLengthMM() > 0) || !(s.Wire.HeightMM() > 0):
			found.add("there is no wire to draw")
		case !job.finite():
			found.add("a number is not finite")
		}
	}
	steps := a.Drawn.Path.Steps()
	if len(a.Bent.Path.Steps()) != len(steps) {
		found.add("the spring as bent has %d steps, the drawn one %d", len(a.Bent.Path.Steps()), len(steps))
	}
	for _, way := range a.Ways {
		for _, c := range way.Changes {
			if c.Step < 0 || c.Step >= len(steps) || c.Fresh != (steps[c.Step].Kind == spring.Straight) || math.IsNaN(c.ByRad) {
				found.add("step %d cannot be corrected so", c.Step)
			}
		}
	}
	return found.err()
}

func (a AsBent) compose() (*sheet.Document, error) {
	if err := a.check(); err != nil {
		return nil, err
	}
	f, err := a.Frame.flow()
	if err != nil {
		return nil, err
	}
	f.top.head = headOf(f.words, a.Case, f.say("As bent: not a template to bend over."))
	if err := (asBentPage{a, f.speech}).draw(f); err != nil {
		return nil, err
	}
	return f.finished()
}

// asBentPage is the page.
type asBentPage struct {
	AsBent
	speech
}

func (p asBentPage) draw(f *flow) error {
	f.newPage("As bent")
	f.heading(f.say("As bent"), f.say("Black: as it most likely came out. Grey: as drawn. Both free. Ringed: what to correct."))
	of := func(s spring.Spring) *subject {
		return subjectOf(Job{Frame: p.Frame, Report: report.Report{Case: p.Case, Spring: s}}, p.speech)
	}
	bent, drawn := of(p.Bent), of(p.Drawn)
	scenes := []bentView{{scenes: [2]scene{bent.passiveScene(), drawn.passiveScene()}, scale: 1}}
	if !bent.planar() || !drawn.planar() {
		scenes = append(scenes, bentView{scenes: [2]scene{bent.sceneSeen(bent.bitingSide(), true), drawn.sceneSeen(drawn.bitingSide(), true)}, scale: 1, plan: true})
	}
	body := sheet.Style{SizePt: sheet.BodyPt}
	for i, v := range scenes {
		v.bar = i == 0
		if err := p.view(f, bent, v); err != nil {
			return err
		}
	}
	if p.HasTarget {
		f.block(f.say("Of 100 springs that it may be %d meet the target as bent.", hundred(p.Chance)), body)
	}
	for i, way := range p.Ways {
		f.block(p.wayText(f, bent, i, way), body)
		v := scenes[0]
		v.ringed = way.Changes
		for _, v.scale = range [...]float64{3, 2, 1} { // the largest that a page has room for
			if v.widthMM() <= f.area.Width() && v.heightMM() <= f.area.Height()/3 {
				break
			}
		}
		f.need(v.heightMM() + panelApartMM)
		if err := p.view(f, bent, v); err != nil {
			return err
		}
	}
	switch {
	case len(p.Ways) > 0:
		f.block(f.say("Measure again after correcting. An estimate: check the force with a gauge before tying."), body)
	case p.HasTarget:
		f.block(f.say("No correction gains enough to be worth a bend."), body)
	}
	return nil
}

// hundred is a share of a hundred springs.
func hundred(share float64) int { return int(math.Round(100 * share)) }

// bentView is the wire as bent, and as drawn, from one side.
type bentView struct {
	scenes    [2]scene
	scale     float64
	plan, bar bool
	ringed    []BentChange
}

const ringMM = 2.2 // round what is corrected: outside the wire's own bend of a millimetre

// bounds is the room that both wires take together at true size.
func (v bentView) bounds() plane.Box {
	return v.scenes[0].bounds.Cover(v.scenes[1].bounds.Min).Cover(v.scenes[1].bounds.Max)
}

func (v bentView) widthMM() float64 { return v.scale*v.bounds().Width() + 2*templateRoom }

// heightMM is what the panel takes, with room for numbers and rings.
func (v bentView) heightMM() float64 {
	height := v.scale*v.bounds().Height() + 2*(templateRoom+ringMM) + captionMM
	if v.bar {
		height += nearBarRoomMM
	}
	return height
}

// view draws both wires; the error wraps ErrJob.
func (p asBentPage) view(f *flow, bent *subject, v bentView) error {
	height := v.heightMM()
	if v.widthMM() > f.area.Width() || height+panelApartMM > f.leftMM() {
		return fmt.Errorf("%w: it takes %.0f × %.0f mm with its numbers, %s has room for %.0f × %.0f mm", ErrJob, v.widthMM(), height, f.Paper, f.area.Width(), f.leftMM()-panelApartMM)
	}
	corner := f.take(height + panelApartMM)
	panel := plane.Box{Min: plane.Point{X: corner.X, Y: corner.Y - height}, Max: plane.Point{X: corner.X + f.area.Width(), Y: corner.Y}}
	room := panel.Grown(-0.8)
	room.Max.Y -= captionMM
	if v.bar {
		room.Min.Y += nearBarRoomMM
	}
	wire, drawn := v.scenes[0], v.scenes[1].passive
	at := room.Centre().Sub(v.bounds().Centre().Times(v.scale))
	l := labels{board: wire.board(room, at, v.scale)}
	l.board.Block(thin(drawn.centre, at, v.scale), v.scale*wire.wire.HeightMM()/2)
	var rings []plane.Point
	for _, c := range v.ringed {
		centre := at.Add(middleOf(wire, c.Step).Times(v.scale))
		rings = append(rings, centre)
		l.board.Block(circle(centre, v.scale*ringMM), 0.1)
	}
	l.putNumbers(f, bent.bendLabels(wire, at, v.scale))
	if !l.settle(f, reordered) {
		return fmt.Errorf("%w: %w", ErrJob, errCrowded)
	}
	f.page.Rectangle(sheet.Construction, panel)
	side := f.say("from the cheek")
	if v.plan {
		side = f.say("from the biting side")
	}
	drawCaption(f, panel, fmt.Sprintf("%g:1", v.scale), side)
	if v.bar {
		drawBar(f.page, f.scale, plane.Point{X: panel.Centre().X - nearBarMM*f.scale.X/2, Y: panel.Min.Y + 3}, nearBarMM, false)
	}
	f.page.Polyline(sheet.Construction, plane.Placed(drawn.edge(), at, v.scale))
	wire.draw(f.page, at, v.scale)
	for _, r := range rings {
		f.page.Circle(sheet.Mark, r, v.scale*ringMM)
	}
	l.draw(f.page)
	return nil
}

// middleOf is the middle of a step as seen.
func middleOf(s scene, step int) plane.Point {
	first, last := s.start[step], s.start[step+1]
	if last-first < 2 {
		return s.passive.centre[first].Add(s.passive.centre[last]).Times(0.5)
	}
	return s.passive.centre[(first+last)/2]
}

// circle is a ring as a line.
func circle(centre plane.Point, radiusMM float64) []plane.Point {
	const sides = 24 // labels need no finer obstacle
	var points []plane.Point
	for i := range sides + 1 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / sides)
		points = append(points, centre.Add(plane.Point{X: radiusMM * cos, Y: radiusMM * sin}))
	}
	return points
}

// wayText says what to correct, and what comes of it.
func (p asBentPage) wayText(f *flow, bent *subject, i int, way BentWay) string {
	var parts []string
	for _, c := range way.Changes {
		parts = append(parts, p.changeText(f, bent, c))
	}
	text := f.say("Best correction: %s.", strings.Join(parts, "; "))
	if i > 0 || len(way.Changes) > 1 {
		text = f.say("Or, at two places: %s.", strings.Join(parts, "; "))
	}
	return text + " " + f.say("Then %d of 100 meet it.", hundred(way.Chance))
}

// changeText is one correction as a sentence.
func (p asBentPage) changeText(f *flow, bent *subject, c BentChange) string {
	by := f.words.Degrees(math.Abs(c.ByRad))
	numbers := p.Drawn.Path.BendNumbers()
	if !c.Fresh {
		if c.ByRad < 0 {
			return f.say("open bend %d by %s, against the direction of its last bend", numbers[c.Step], by)
		}
		return f.say("close bend %d by %s more, in the direction of its last bend", numbers[c.Step], by)
	}
	before, behind := 0, 0
	for i, n := range numbers {
		if i < c.Step {
			before = max(before, n)
		} else if behind == 0 {
			behind = n
		}
	}
	where := f.say("between bends %d and %d", before, behind)
	switch {
	case before == 0:
		where = f.say("between the anchor slot and bend %d", behind)
	case behind == 0:
		where = f.say("between bend %d and the active slot", before)
	}
	return f.say("bend the middle of the straight %s by %s, %s", where, by, p.freshWay(f, bent, c))
}

// freshWay is which way a fresh bend goes.
func (p asBentPage) freshWay(f *flow, bent *subject, c BentChange) string {
	steps := p.Bent.Path.Steps()
	half := spring.StraightStep(steps[c.Step].LengthMM / 2)
	made := p.Bent
	made.Path = spring.PathOf(append(append(append(spring.Steps(nil), steps[:c.Step]...), half, spring.BendStep(c.ByRad, 1), half), steps[c.Step+1:]...)...)
	for _, row := range bend.TableOf(made, p.Case.Teeth).Rows {
		switch {
		case row.PathStep != c.Step+1:
		case !row.InView:
			return f.say("to %s", f.words.Side(row.Towards))
		case row.SeenRad > 0:
			return f.say("to the left, seen from the cheek")
		default:
			return f.say("to the right, seen from the cheek")
		}
	}
	return ""
}
