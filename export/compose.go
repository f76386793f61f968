package export

import (
	"errors"
	"fmt"
	"strings"

	"springwright/export/bend"
	"springwright/export/phrase"
	"springwright/export/plane"
	"springwright/export/sheet"
)

const (
	barColumnMM = 9.5  // at the left, for the upright bar
	footMM      = 23.0 // for the level bar, the cautions and the line of origin
	headMM      = 20.5
	gapMM       = 5.0 // between blocks
	barMM       = 100.0
	nearBarMM   = 50.0
	// How far inside the margin the bars run.
	levelBarMM   = 2.4
	uprightBarMM = 1.8
)

// flow lays blocks under each other and starts a new page where one does not fit.
type flow struct {
	job   Job
	doc   *sheet.Document
	page  *sheet.Page
	area  plane.Box // for blocks, on every page
	yMM   float64   // the next block's top
	bends bend.Table
	view  bend.View
	words *phrase.Book
	wires string // what the head of every page says of the wire

	heads   []headText // of all pages
	crowded []error    // labels that found no place
	warned  bool       // the warnings are written
	tried   bool       // what springs bent in trial came to is written
	band    *band      // at the head of the pages that are begun; nil: none
	bands   []*band    // of all pages

	squeezed bool // the page of loads is laid out with less room between its lines
	together bool // its last blocks go to the next page with what belongs to them

	scale plane.Point // what true sizes are drawn larger by, across and up the page
}

// compose lays out all pages.
func compose(job Job) (*sheet.Document, error) {
	f, err := newFlow(job)
	if err != nil {
		return nil, err
	}
	if err := f.layOutAll(job.pages()); err != nil {
		return nil, err
	}
	return f.finished()
}

// finished draws the frames of all pages, of which there will be no more.
func (f *flow) finished() (*sheet.Document, error) {
	for i, p := range f.doc.Pages {
		f.frame(p, i+1, len(f.doc.Pages))
	}
	f.doc.Untranslated = f.words.Missing()
	if err := errors.Join(append(f.crowded, f.doc.Err())...); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrJob, err)
	}
	return f.doc, nil
}

func newFlow(job Job) (*flow, error) {
	if err := job.check(); err != nil {
		return nil, err
	}
	f, err := blankFlow(job)
	if err != nil {
		return nil, err
	}
	f.bends = bend.TableOf(job.Spring, job.Case.Teeth)
	f.wires = f.say("Wire: %s. Cut length %s mm.", wireText(f.words, job.Spring.Wire), sheet.Number(f.bends.CutMM(), 1))
	if b := f.unmetBand(); b != nil {
		f.mark(*b)
	}
	return f, nil
}

// blankFlow is a document without pages. Of the job it needs what the frame shows.
func blankFlow(job Job) (*flow, error) {
	width, height := job.Paper.SizeMM()
	doc, err := sheet.NewDocument(width, height)
	if err != nil {
		return nil, err
	}
	area := doc.Inside()
	area.Min.X += barColumnMM
	area.Min.Y += footMM
	area.Min.Y += correctionMM(job.Printer)
	area.Max.Y -= headMM
	doc.Lang, doc.DecimalComma = job.Language.Tag(), job.Language.DecimalComma()
	return &flow{words: phrase.NewBook(job.Language), job: job, doc: doc, area: area, view: bend.ViewOf(job.Case.Teeth), scale: job.Printer.scale()}, nil
}

// say says a phrase, whose key is the English one, in the language of the job.
func (f *flow) say(english string, args ...any) string { return f.words.Say(english, args...) }

// headed says the heads of a table's columns.
func (f *flow) headed(columns []sheet.Column) []sheet.Column {
	for i, c := range columns {
		columns[i].Head = f.say(c.Head)
	}
	return columns
}

// newPage begins a page whose title is a phrase.
func (f *flow) newPage(english string) { f.addPage(f.say(english)) }

func (f *flow) addPage(title string) {
	f.page = f.doc.AddPage(title)
	f.heads, f.bands = append(f.heads, f.headText()), append(f.bands, f.band)
	f.yMM = f.area.Max.Y
}

// leftMM is the height left on the page.
func (f *flow) leftMM() float64 { return f.yMM - f.area.Min.Y }

// need starts a new page unless heightMM is left.
func (f *flow) need(heightMM float64) {
	if f.leftMM() < heightMM {
		continued := f.say(", continued")
		f.addPage(strings.TrimSuffix(f.page.Title, continued) + continued)
	}
}

// take moves down by heightMM and returns where the block's top left corner is.
func (f *flow) take(heightMM float64) plane.Point {
	at := plane.Point{X: f.area.Min.X, Y: f.yMM}
	f.yMM -= heightMM
	return at
}

// heading writes a heading and, after it, a remark in small letters.
func (f *flow) heading(text, remark string) {
	head := sheet.Style{SizePt: sheet.HeadPt, Bold: true}
	at := f.take(head.LineMM() + 1.2)
	at.Y -= head.CapMM()
	width := f.page.Text(at, text, head)
	small := sheet.Style{SizePt: sheet.SmallPt}
	at.X += width + 2.5
	f.page.Text(at, f.doc.Fit(remark, f.area.Max.X-at.X, small), small)
}

// frame draws what every page carries.
func (f *flow) frame(p *sheet.Page, number, of int) {
	f.head(p, f.heads[number-1])
	f.drawBand(p, f.bands[number-1], f.doc.Inside().Max.Y-headMM+1.8)
	f.foot(p, number, of)
}

// headText is what stands at the head of a page.
type headText struct {
	name, title string
	lines       []string // at most three
}

// quadrantPhrases are in the order of the quadrants' numbers.
var quadrantPhrases = [...]string{
	"Upper right quadrant, the patient's right side, seen from the cheek.",
	"Upper left quadrant, the patient's left side, seen from the cheek.",
	"Lower left quadrant, the patient's left side, seen from the cheek.",
	"Lower right quadrant, the patient's right side, seen from the cheek.",
}

func (f *flow) headText() headText {
	name := f.job.Case.Code
	if name == "" {
		name = f.say("no case code")
	}
	teeth := f.job.Case.Teeth
	if !teeth.Active.Valid() || !teeth.Anchor.Valid() { // a sheet of several springs, or of none
		return headText{name: name}
	}
	return headText{name, f.job.Case.Title, []string{
		f.say("Active tooth %d, %s. Anchor tooth %d, %s.", int(teeth.Active), f.say(teeth.Active.Name()), int(teeth.Anchor), f.say(teeth.Anchor.Name())),
		f.say(quadrantPhrases[teeth.Active.Quadrant()-1]),
		f.wires,
	}}
}

func (f *flow) head(p *sheet.Page, text headText) {
	inside := f.doc.Inside()
	title := sheet.Style{SizePt: sheet.TitlePt, Bold: true}
	body := sheet.Style{SizePt: sheet.BodyPt}
	y := inside.Max.Y - title.CapMM()

	paper := title
	paper.Align = sheet.Right
	taken := p.Text(plane.Point{X: inside.Max.X, Y: y}, f.job.Paper.String(), paper)
	right := inside.Max.X - taken - 4

	name := title
	name.Verbatim = true
	width := p.Text(plane.Point{X: inside.Min.X, Y: y}, f.doc.Fit(text.name, 70, name), name)
	subtitle := sheet.Style{SizePt: sheet.HeadPt}
	x := inside.Min.X + width + 3
	p.Text(plane.Point{X: x, Y: y}, f.doc.Fit(text.title, right-x, subtitle), subtitle)

	full := inside.Width()
	for i, line := range text.lines {
		p.Text(plane.Point{X: inside.Min.X, Y: y - 4.7 - float64(i)*3.7}, f.doc.Fit(line, full, body), body)
	}
	rule := inside.Max.Y - headMM + 3.2
	p.Line(sheet.Mark, plane.Point{X: inside.Min.X, Y: rule}, plane.Point{X: inside.Max.X, Y: rule})
}

func (f *flow) foot(p *sheet.Page, number, of int) {
	inside := f.doc.Inside()
	left := f.area.Min.X
	small := sheet.Style{SizePt: sheet.SmallPt}
	bold := sheet.Style{SizePt: sheet.SmallPt, Bold: true}

	// The bars start from one corner and stay clear of each other.
	y := inside.Min.Y + levelBarMM
	f.bar(p, plane.Point{X: left, Y: y}, barMM, false)
	f.bar(p, plane.Point{X: inside.Min.X + uprightBarMM, Y: inside.Min.Y + footMM}, barMM, true)
	x := left + barMM*f.scale.X + 4
	p.Text(plane.Point{X: x, Y: y + 1.3}, f.say("Print at 100 %% (actual size). Measure both bars."), bold)
	p.Text(plane.Point{X: x, Y: y + 1.3 - bold.LineMM()}, f.say("Off by more than 0.5 mm: do not use."), bold)

	var origin []string
	if len(f.words.Missing()) > 0 {
		origin = append(origin, f.say("Partly in English: a phrase is not translated."))
	}
	origin = append(origin, strings.TrimSpace("springwright "+f.job.Version))
	if f.job.Date != "" {
		origin = append(origin, f.job.Date)
	}
	if f.job.Fingerprint != "" {
		origin = append(origin, f.say("fingerprint %s", f.job.Fingerprint))
	}
	pages := small
	pages.Align = sheet.Right
	lineY := inside.Min.Y + 8.2
	if text := f.job.Printer.text(f.words); text != "" {
		p.Text(plane.Point{X: left, Y: lineY}, f.doc.Fit(text, inside.Max.X-left, small), small)
		lineY += correctionMM(f.job.Printer)
	}
	taken := p.Text(plane.Point{X: inside.Max.X, Y: lineY}, f.say("%s, page %d of %d", p.Title, number, of), pages)
	p.Text(plane.Point{X: left, Y: lineY}, f.doc.Fit(strings.Join(origin, " · "), inside.Max.X-left-taken-4, small), small)

	rule := f.area.Min.Y - 4
	p.Line(sheet.Construction, plane.Point{X: left, Y: rule}, plane.Point{X: inside.Max.X, Y: rule})
	p.Paragraph(plane.Point{X: left, Y: rule - 1.2}, inside.Max.X-left, f.say(shortCautions), small)
}

// bar draws a scale bar from at to the right or upwards; its length counts from the middle
// of one end tick to the middle of the other.
func (f *flow) bar(p *sheet.Page, at plane.Point, lengthMM float64, upright bool) {
	const tickMM = 1.0
	along, across := plane.Point{X: lengthMM * f.scale.X}, plane.Point{Y: tickMM}
	style := sheet.Style{SizePt: sheet.SmallPt, Align: sheet.Centre, Upright: upright}
	label := at.Add(plane.Point{X: along.X / 2, Y: tickMM})
	if upright {
		along, across = plane.Point{Y: lengthMM * f.scale.Y}, plane.Point{X: tickMM}
		label = at.Add(plane.Point{X: tickMM + style.CapMM() + 0.3, Y: along.Y / 2})
	}
	p.Line(sheet.Bar, at, at.Add(along))
	for _, end := range [...]plane.Point{at, at.Add(along)} {
		p.Line(sheet.Bar, end.Sub(across), end.Add(across))
	}
	p.Text(label, fmt.Sprintf("%g mm", lengthMM), style)
}
