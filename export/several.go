package export

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"springwright/design"
	"springwright/design/report"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/export/plane"
	"springwright/export/sheet"
	"springwright/export/words"
)

// SpringSheet is several springs to be drawn at true size on as few pages as may be.
type SpringSheet struct {
	Frame
	Springs  []SheetSpring
	Twins    bool // behind each spring its mirrored twin for the other side
	PerSheet int  // springs on a page; 0: as many as fit
}

// SheetSpring is one spring of a sheet.
type SheetSpring struct {
	Code                   string // such as the case code; never a patient's name
	Teeth                  tooth.Pair
	Spring                 spring.Spring
	AnchorSlot, ActiveSlot spring.Slot // as far as their heights are known
	Evaluation             solve.Evaluation
	Unsolved               error // why there is no evaluation, or none to go by; may wrap design.ErrYield
}

// Springs returns the sheet as one PDF file and as one SVG file a page. Same input, same
// bytes. The error wraps ErrJob where something cannot be drawn or does not fit.
func Springs(s SpringSheet) (file []byte, pages [][]byte, err error) {
	doc, _, err := s.compose()
	if err != nil {
		return nil, nil, err
	}
	return s.written(doc, s.title(), words.NewBook(s.Language).Say("Bending templates at true scale: print at 100 %%"))
}

func (s SpringSheet) title() string {
	if len(s.Springs) == 1 {
		return words.NewBook(s.Language).Say("Bending template %s", s.Springs[0].Code)
	}
	return words.NewBook(s.Language).Say("Bending templates of %d springs", len(s.Springs))
}

// placed is a spring's drawing in its cell, for looking at it afterwards.
type placed struct {
	page           int
	cell, template plane.Box
}

// panel is a spring ready to be put into a cell.
type panel struct {
	*subject
	name   string
	lines  []string
	unmet  bool        // the first line says that it misses its target
	checks []checkLine // under the lines
	scenes []scene     // one, or two under each other
}

const (
	cellApartMM = 2.0
	cellLineMM  = 3.2
	cellTextMM  = 52.0 // checks are broken to lines of that length (choice: three cells side by side)
	compassWide = 32.0 // what the arrows with their words take
)

// compose lays out the pages and says where each spring went.
func (s SpringSheet) compose() (*sheet.Document, []placed, error) {
	if err := s.check(); err != nil {
		return nil, nil, err
	}
	f, err := s.flow()
	if err != nil {
		return nil, nil, err
	}
	panels := s.panels(f)
	cells, err := s.grid(f, panels)
	if err != nil {
		return nil, nil, err
	}
	f.top.head = springsHead(f.speech, panels)
	perPage := cells.columns * cells.rows
	if s.PerSheet > 0 {
		perPage = s.PerSheet
	}
	var places []placed
	for some := range slices.Chunk(panels, perPage) {
		places = append(places, springsPage{some, cells}.draw(f)...)
	}
	doc, err := f.finished()
	return doc, places, err
}

// flow is a sheet without pages, marked where a spring misses its target.
func (s SpringSheet) flow() (*flow, error) {
	f, err := s.Frame.flow()
	if err != nil {
		return nil, err
	}
	var items []string
	unmet := 0
	for _, spring := range s.Springs {
		missed := f.words.Shortfall(spring.Teeth, spring.Spring)
		if len(missed) == 0 {
			continue
		}
		unmet++
		if len(s.Springs) > 1 {
			missed[0] = spring.Code + ": " + missed[0] // a code keeps its small letters
		} else {
			missed[0] = words.Capital(missed[0])
		}
		items = append(items, missed...)
	}
	switch {
	case unmet > 0 && len(s.Springs) == 1:
		f.mark(f.bandOf(f.say(unmetTitle), items))
	case unmet > 0:
		f.mark(f.bandOf(f.say("Springs on this sheet that do not meet the target they were designed for: %d of %d.", unmet, len(s.Springs)), items))
	}
	return f, nil
}

func (s SpringSheet) check() error {
	var found faults
	if len(s.Springs) == 0 {
		found.add("there is no spring")
	}
	if s.PerSheet < 0 {
		found.add("%d springs a sheet (allowed: 1 or more, 0 for as many as fit)", s.PerSheet)
	}
	for _, spring := range s.Springs {
		job := s.job(spring)
		add := func(format string, args ...any) { found.add(spring.Code+": "+format, args...) }
		checkTeeth(spring.Teeth, add)
		s.Frame.check(add)
		if own := spring.Spring.Teeth; own != (tooth.Pair{}) && own != spring.Teeth {
			add("it is made for %v, not for %v", own, spring.Teeth)
		}
		if !(spring.Spring.Path.WireLengthMM() > 0) || !(spring.Spring.Wire.HeightMM() > 0) {
			add("there is no wire to draw")
		}
		if !job.finite() || !finiteShortfall(spring.Spring.Shortfall) {
			add("a number is not finite")
		}
	}
	return found.err()
}

// job is a spring of the sheet as far as its drawing shows it.
func (s SpringSheet) job(spring SheetSpring) Job {
	return Job{
		Frame: s.Frame,
		Report: report.Report{
			Case:   design.Case{Code: spring.Code, Teeth: spring.Teeth, AnchorSlot: spring.AnchorSlot, ActiveSlot: spring.ActiveSlot},
			Spring: spring.Spring, Evaluation: spring.Evaluation,
		},
	}
}

// panels prepares all drawings, twins behind their springs.
func (s SpringSheet) panels(f *flow) []panel {
	var panels []panel
	for _, spring := range s.Springs {
		job := s.job(spring)
		panels = append(panels, panelOf(f, job, "%d from %d, %s", spring.Unsolved))
		if s.Twins {
			panels = append(panels, panelOf(f, job.twin(), "twin: %d from %d, %s", spring.Unsolved))
		}
	}
	return panels
}

func panelOf(f *flow, job Job, kind words.Phrase, unsolved error) panel {
	p := panel{name: job.Case.Code, subject: subjectOf(job, f.speech)}
	teeth := job.Case.Teeth
	p.lines = []string{
		f.say(kind, int(teeth.Active), int(teeth.Anchor), f.words.Quadrant(teeth.Active)),
		f.say("%s, cut %s mm", f.words.Alloy(job.Spring.Wire), f.words.Number(p.bends.CutMM(), 1)),
		sizeText(f.words, job.Spring.Wire),
	}
	if p.unmet = job.Spring.Shortfall != nil && !job.Spring.Shortfall.None(); p.unmet {
		p.lines = slices.Insert(p.lines, 0, f.say("NOT MET: misses its target"))
	}
	if !p.planar() {
		p.lines = append(p.lines, f.say("not flat: bends %s", p.outOfPlane()))
	}
	for _, text := range p.cellChecks(unsolved) {
		style := sheet.Style{SizePt: sheet.SmallPt, Bold: text.bold}
		for _, line := range f.doc.Wrap(text.text, cellTextMM, style) {
			p.checks = append(p.checks, checkLine{line, text.bold})
		}
	}
	p.scenes = []scene{p.passiveScene()}
	if !p.planar() {
		p.scenes = append(p.scenes, p.sceneSeen(p.bitingSide(), true))
	}
	return p
}

// outOfPlane numbers the bends that the drawing does not show, such as "2–6, 8".
func (p panel) outOfPlane() string {
	var runs []string
	first := 0 // of the run that is open
	for i, r := range p.bends.Rows {
		if r.InView && !r.Twist {
			continue
		}
		if first == 0 {
			first = r.Step
		}
		if last := i == len(p.bends.Rows)-1 || p.bends.Rows[i+1].InView && !p.bends.Rows[i+1].Twist; last {
			switch r.Step - first {
			case 0:
				runs = append(runs, fmt.Sprint(first))
			case 1:
				runs = append(runs, fmt.Sprint(first), fmt.Sprint(r.Step))
			default:
				runs = append(runs, fmt.Sprintf("%d–%d", first, r.Step))
			}
			first = 0
		}
	}
	return strings.Join(runs, ", ")
}

// grid is the cells of a page, in the room above the bar that all its springs share.
type grid struct {
	room          plane.Box
	columns, rows int
}

// gridIn is as many cells as a page has room for.
func gridIn(f *flow, width, height float64) grid {
	g := grid{room: f.area}
	g.room.Min.Y += nearBarRoomMM
	g.columns = int((g.room.Width() + cellApartMM) / (width + cellApartMM))
	g.rows = int((g.room.Height() + cellApartMM) / (height + cellApartMM))
	return g
}

// grid says how many columns and rows of cells a page has.
func (s SpringSheet) grid(f *flow, panels []panel) (grid, error) {
	var width, height float64
	for _, p := range panels {
		w, h := p.sizeMM(f)
		width, height = math.Max(width, w), math.Max(height, h)
	}
	g := gridIn(f, width, height)
	mostColumns, mostRows := g.columns, g.rows
	most := mostColumns * mostRows
	roomWidth, roomHeight := g.room.Width(), g.room.Height()
	if most == 0 {
		text := fmt.Sprintf("the largest spring takes %.0f × %.0f mm with its numbers, %s has room for %.0f × %.0f mm",
			width, height, s.Paper, roomWidth, roomHeight)
		return grid{}, fmt.Errorf("%w: %s%s", ErrJob, text, s.otherPaper(width, height))
	}
	if s.PerSheet > most {
		return grid{}, fmt.Errorf("%w: %d springs a sheet do not fit: the largest takes %.0f × %.0f mm with its numbers, so that %s holds at most %d",
			ErrJob, s.PerSheet, width, height, s.Paper, most)
	}
	wanted := min(most, len(panels))
	if s.PerSheet > 0 {
		wanted = s.PerSheet
	}
	// The fewest empty cells; of those the ones most like the largest spring.
	unlike := func(c, r int) float64 {
		return math.Abs(math.Log(roomWidth / float64(c) / width * height / (roomHeight / float64(r))))
	}
	g.columns, g.rows = 0, 0
	for c := 1; c <= mostColumns; c++ {
		r := (wanted + c - 1) / c
		if r > mostRows {
			continue
		}
		if empty, least := c*r, g.columns*g.rows; g.columns == 0 || empty < least || empty == least && unlike(c, r) < unlike(g.columns, g.rows) {
			g.columns, g.rows = c, r
		}
	}
	return g, nil
}

// otherPaper says whether the other paper would do.
func (s SpringSheet) otherPaper(width, height float64) string {
	s.Paper = A4 + Letter - s.Paper
	f, err := s.flow()
	if err != nil {
		return ""
	}
	if g := gridIn(f, width, height); g.columns*g.rows == 0 {
		return ""
	}
	return fmt.Sprintf("; it fits on %s", s.Paper)
}

// springsHead stands at the head of all pages.
func springsHead(words speech, all []panel) headText {
	name := words.say("1 spring")
	if len(all) > 1 {
		name = words.say("%d springs", len(all))
	}
	lay := words.say("Passive springs, ready bent, seen from the cheek. Lay the wire on the drawing after every bend.")
	if slices.ContainsFunc(all, func(p panel) bool { return len(p.scenes) > 1 }) {
		lay = words.say("Passive springs, ready bent. Only flat ones are laid on the drawing; the others go by both views and their bend list.")
	}
	return headText{name, words.say("bending templates, 1:1"), []string{
		lay,
		words.say("Boxes: slots, the active one as it stands now; dashed: where it should come to. Numbers: bends, in order along the wire. E: end mark."),
		words.say("Each spring belongs to the one case and the teeth that its code names."),
	}}
}

// springsPage is a page of springs, each in a cell, with the bar that they share.
type springsPage struct {
	panels []panel
	grid
}

func (p springsPage) draw(f *flow) (places []placed) {
	f.newPage("Springs")
	width := nearBarMM * f.scale.X
	drawBar(f.page, f.scale, plane.Point{X: f.area.Centre().X - width/2, Y: f.area.Min.Y + 2}, nearBarMM, false)
	for i, spring := range p.panels {
		cell := p.cell(i)
		places = append(places, placed{len(f.doc.Pages), cell, spring.draw(f, cell)})
	}
	return places
}

// cell is one cell of a page, the first one top left.
func (g grid) cell(i int) plane.Box {
	column, row := i%g.columns, i/g.columns
	w := (g.room.Width() - cellApartMM*float64(g.columns-1)) / float64(g.columns)
	h := (g.room.Height() - cellApartMM*float64(g.rows-1)) / float64(g.rows)
	left := g.room.Min.X + float64(column)*(w+cellApartMM)
	top := g.room.Max.Y - float64(row)*(h+cellApartMM)
	return plane.Box{Min: plane.Point{X: left, Y: top - h}, Max: plane.Point{X: left + w, Y: top}}
}
