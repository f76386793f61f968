package export

import (
	"errors"
	"fmt"
	"strings"

	"springwright/export/plane"
	"springwright/export/sheet"
	"springwright/export/words"
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

// flow is the paginator: it lays blocks under each other and begins a new page where one does
// not fit. What a page tells is known to the types of pages alone.
type flow struct {
	Frame
	speech
	doc   *sheet.Document
	page  *sheet.Page
	area  plane.Box // for blocks, on every page
	yMM   float64   // the next block's top
	scale plane.Point
	top   pageTop   // of the pages that are begun
	tops  []pageTop // of all pages

	crowded []error // labels that found no place
}

// pageTop is what stands above the blocks of a page.
type pageTop struct {
	head headText
	band *band // nil: none
}

// speech says phrases, whose keys are the English ones, in the language of a document.
type speech struct{ words *words.Book }

func (s speech) say(english words.Phrase, args ...any) string { return s.words.Say(english, args...) }

// flow is a document without pages.
func (frame Frame) flow() (*flow, error) {
	doc, err := sheet.NewDocument(frame.Paper.SizeMM())
	if err != nil {
		return nil, err
	}
	area := doc.Inside()
	area.Min.X += barColumnMM
	area.Min.Y += footMM
	area.Min.Y += correctionMM(frame.Printer)
	area.Max.Y -= headMM
	doc.Lang, doc.Words = frame.Language.Tag(), words.NewBook(frame.Language)
	return &flow{Frame: frame, speech: speech{doc.Words}, doc: doc, area: area, scale: frame.Printer.scale()}, nil
}

// finished draws the frames of all pages, of which there will be no more.
func (f *flow) finished() (*sheet.Document, error) {
	for i, p := range f.doc.Pages {
		p.Leading(func() { f.tops[i].head.draw(f, p) })
		f.tops[i].band.draw(p, f.doc.Inside())
		f.foot(p, i+1, len(f.doc.Pages))
	}
	if err := errors.Join(append(f.crowded, f.doc.Err())...); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrJob, err)
	}
	return f.doc, nil
}

// newPage begins a page whose title is a phrase.
func (f *flow) newPage(english words.Phrase) { f.addPage(f.say(english)) }

func (f *flow) addPage(title string) {
	f.page = f.doc.AddPage(title)
	f.tops = append(f.tops, f.top)
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

// onOnePage lays out blocks in one way after another until they take a single page; where no way
// does, the last one stays.
func (f *flow) onOnePage(ways ...func()) { f.onPages(1, ways...) }

// onPages is onOnePage for a number of pages. It reports whether they suffice.
func (f *flow) onPages(most int, ways ...func()) bool {
	first := len(f.doc.Pages)
	for _, lay := range ways {
		f.doc.Pages, f.tops = f.doc.Pages[:first], f.tops[:first]
		if lay(); len(f.doc.Pages) <= first+most {
			return true
		}
	}
	return false
}

// block writes a text over the whole width, on the next page where there is no room.
func (f *flow) block(text string, style sheet.Style) {
	if text == "" {
		return
	}
	height := f.blockMM(text, style)
	f.need(height - blockApartMM)
	f.page.Paragraph(f.take(height), f.area.Width(), text, style)
}

const (
	blockApartMM     = 1.2
	paragraphApartMM = 1.5
)

// blockMM is what a block takes with the room under it.
func (f *flow) blockMM(text string, style sheet.Style) float64 {
	return f.doc.HeightOf(text, f.area.Width(), style) + blockApartMM
}

// paragraph writes a text over the whole width where the page is, with room under it.
func (f *flow) paragraph(text string, style sheet.Style, apartMM float64) {
	f.take(f.page.Paragraph(f.take(0), f.area.Width(), text, style) + apartMM)
}
