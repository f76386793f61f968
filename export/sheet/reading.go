package sheet

import "springwright/export/pdf"

// reading is what a page is to somebody who has it read aloud, kept while it is drawn: the
// order of drawing is the order of reading.
type reading struct {
	pdf.Structure
	open []int // the elements that are being drawn, the innermost last
}

// part draws a part of the page that is an element of its own.
func (p *Page) part(e pdf.Element, draw func()) {
	r := &p.read
	e.Parent = r.innermost()
	r.open = append(r.open, len(r.Elements))
	r.Elements = append(r.Elements, e)
	draw()
	r.open = r.open[:len(r.open)-1]
}

// Figure draws a figure: whoever has the page read aloud hears alt in place of it, and not the
// words within.
func (p *Page) Figure(alt string, draw func()) {
	p.part(pdf.Element{Role: pdf.Figure, Alt: alt}, draw)
}

// Leading draws what is read before all else on the page.
func (p *Page) Leading(draw func()) {
	before := len(p.read.Elements)
	draw()
	for i := range p.read.Elements[before:] {
		p.read.Elements[before+i].Leads = true
	}
}

// innermost is the element that is being drawn, -1 where it is the page itself.
func (r *reading) innermost() int {
	if len(r.open) == 0 {
		return -1
	}
	return r.open[len(r.open)-1]
}

// drew notes a path: part of a figure, else for the eye alone.
func (r *reading) drew() {
	element := r.innermost()
	if element >= 0 && r.Elements[element].Role != pdf.Figure {
		element = pdf.Ornament
	}
	r.Drawn = append(r.Drawn, element)
}

// wrote notes a line of text: a part of what is being drawn, else one of its own.
func (r *reading) wrote(s Style) {
	element := r.innermost()
	if element < 0 {
		element = len(r.Elements)
		r.Elements = append(r.Elements, pdf.Element{Role: s.role(), Parent: -1})
	}
	r.Drawn = append(r.Drawn, element)
}

// role is what a text of this style is where it stands alone.
func (s Style) role() pdf.Role {
	switch {
	case s.Align != Left: // what stands at the right heads nothing
		return pdf.Paragraph
	case s.Bold && s.SizePt >= TitlePt:
		return pdf.Title
	case s.Bold && s.SizePt >= HeadPt:
		return pdf.Heading
	default:
		return pdf.Paragraph
	}
}
