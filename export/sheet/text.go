package sheet

import (
	"fmt"
	"slices"
	"strings"

	"springwright/export/pdf"
	"springwright/export/plane"

	"github.com/tdewolff/canvas"
)

// Align says which end of a text stands where it is put.
type Align int

// The ends.
const (
	Left Align = iota
	Centre
	Right
)

// Style is how a text is set.
type Style struct {
	SizePt  float64
	Bold    bool
	Align   Align
	Upright bool // runs upwards, turned a quarter turn to the left
}

// The sizes in use, in points.
const (
	TitlePt = 13.0
	HeadPt  = 9.5
	BodyPt  = 8.0
	SmallPt = 6.5
)

const mmPerPt = 25.4 / 72

// CapMM is the height of capitals and digits (0.723 of the size in both weights, measured
// on the outlines of the letter H).
func (s Style) CapMM() float64 { return 0.723 * s.SizePt * mmPerPt }

// LineMM is the distance between lines.
func (s Style) LineMM() float64 { return 1.3 * s.SizePt * mmPerPt }

// DescentMM is how far letters such as g reach below the line.
func (s Style) DescentMM() float64 { return 0.21 * s.SizePt * mmPerPt }

type word struct {
	text string
	box  plane.Box
}

func (d *Document) face(s Style) *canvas.FontFace {
	font := d.regular
	if s.Bold {
		font = d.bold
	}
	return font.Face(s.SizePt, canvas.Black)
}

// WidthOf is how wide a text will be, mm: the sum of its letters' widths, since the typeface
// neither kerns nor joins letters. Shaping each text to know its width would be dear.
func (d *Document) WidthOf(text string, s Style) float64 {
	face := d.face(s)
	units := 0
	for _, r := range text {
		units += int(face.Font.GlyphAdvance(face.Font.GlyphIndex(r)))
	}
	return float64(units) * face.Size / float64(face.Font.Head.UnitsPerEm)
}

// Text writes one line, its baseline at y, and returns its width.
func (p *Page) Text(at plane.Point, text string, s Style) float64 {
	if text == "" {
		return 0
	}
	if lacking := lackingIn(p.document.face(s).Font, text); len(lacking) > 0 {
		p.document.lack(lacking, text)
		return 0
	}
	line := p.document.line(text, s)
	width := p.document.WidthOf(text, s)
	shift := [...]float64{0, -width / 2, -width}[s.Align]
	low := 0.0
	if strings.ContainsAny(text, "gjpqyµ,;()[]/Q") {
		low = s.DescentMM()
	}
	if s.Upright {
		p.context.Push()
		p.context.SetView(canvas.Identity.Translate(at.X, at.Y+shift).Rotate(90))
		p.context.DrawText(0, 0, line)
		p.context.Pop()
		p.wrote(text, s, plane.Box{Min: plane.Point{X: at.X - s.CapMM(), Y: at.Y + shift}, Max: plane.Point{X: at.X + low, Y: at.Y + shift + width}})
		return width
	}
	p.context.DrawText(at.X+shift, at.Y, line)
	p.wrote(text, s, plane.Box{Min: plane.Point{X: at.X + shift, Y: at.Y - low}, Max: plane.Point{X: at.X + shift + width, Y: at.Y + s.CapMM()}})
	return width
}

// shape is all that the letters of a line depend on.
type shape struct {
	text   string
	sizePt float64
	bold   bool
}

// line is a text with its letters placed. Pages are laid out several times until they fit, and have
// much text in common: each line is shaped once.
func (d *Document) line(text string, s Style) *canvas.Text {
	key := shape{text, s.SizePt, s.Bold}
	line := d.lines[key]
	if line == nil {
		if d.lines == nil {
			d.lines = map[shape]*canvas.Text{}
		}
		line = canvas.NewTextLine(d.face(s), text, canvas.Left)
		d.lines[key] = line
	}
	return line
}

// lackingIn lists the characters of a text that a font lacks, each once: they would print
// as nothing.
func lackingIn(font *canvas.Font, text string) []rune {
	var lacking []rune
	for _, r := range text {
		if font.GlyphIndex(r) == 0 && !slices.Contains(lacking, r) {
			lacking = append(lacking, r)
		}
	}
	return lacking
}

// Lacking lists the characters of a text that one of the typeface's weights lacks.
func (d *Document) Lacking(text string) []rune {
	lacking := lackingIn(d.regular, text)
	for _, r := range lackingIn(d.bold, text) {
		if !slices.Contains(lacking, r) {
			lacking = append(lacking, r)
		}
	}
	return lacking
}

// lack fails for each of the characters, unless it has done so before: a title stands on
// every page.
func (d *Document) lack(characters []rune, text string) {
	if d.lacked == nil {
		d.lacked = map[rune]bool{}
	}
	for _, r := range characters {
		if !d.lacked[r] {
			d.fail("the typeface lacks the character %q (U+%04X) of %q", r, r, text)
		}
		d.lacked[r] = true
	}
}

func (p *Page) wrote(text string, s Style, box plane.Box) {
	p.read.wrote(s)
	p.texts = append(p.texts, word{text, box})
	p.ink(box)
}

// Paragraph writes a text in lines of at most widthMM, the top of its capitals at at.Y,
// and returns the height it took.
func (p *Page) Paragraph(at plane.Point, widthMM float64, text string, s Style) float64 {
	lines := p.document.Wrap(text, widthMM, s)
	draw := func() {
		for i, line := range lines {
			p.Text(plane.Point{X: at.X, Y: at.Y - s.CapMM() - float64(i)*s.LineMM()}, line, s)
		}
	}
	if len(lines) > 1 {
		p.part(pdf.Element{Role: s.role(), Reads: strings.Join(lines, " ")}, draw)
	} else {
		draw()
	}
	return float64(len(lines)) * s.LineMM()
}

// HeightOf is the height that Paragraph takes for a text.
func (d *Document) HeightOf(text string, widthMM float64, s Style) float64 {
	return float64(len(d.Wrap(text, widthMM, s))) * s.LineMM()
}

// Wrap breaks a text into lines of at most widthMM, but not between a number and its unit.
// A word wider than that is cut.
func (d *Document) Wrap(text string, widthMM float64, s Style) []string {
	var lines []string
	line, length := "", 0.0
	space := d.WidthOf(" ", s)
	for _, word := range unbroken(strings.Fields(text)) {
		word = d.Fit(word, widthMM, s)
		width := d.WidthOf(word, s)
		switch {
		case line == "":
			line, length = word, width
		case length+space+width <= widthMM:
			line, length = line+" "+word, length+space+width
		default:
			lines = append(lines, line)
			line, length = word, width
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// Fit cuts a text that is wider than widthMM and ends it with an ellipsis.
func (d *Document) Fit(text string, widthMM float64, s Style) string {
	if d.WidthOf(text, s) <= widthMM {
		return text
	}
	runes := []rune(text)
	for len(runes) > 0 {
		runes = runes[:len(runes)-1]
		if cut := strings.TrimRight(string(runes), " ,·") + "…"; d.WidthOf(cut, s) <= widthMM {
			return cut
		}
	}
	return ""
}

// Texts lists what is written on the page, line by line.
func (p *Page) Texts() []string {
	texts := make([]string, len(p.texts))
	for i, w := range p.texts {
		texts[i] = w.text
	}
	return texts
}

// WidthOf is how wide a text will be on the page, mm.
func (p *Page) WidthOf(text string, s Style) float64 { return p.document.WidthOf(text, s) }

// Places lists where a line of text stands on the page, in the order of writing.
func (p *Page) Places(text string) []plane.Box {
	var places []plane.Box
	for _, w := range p.texts {
		if w.text == text {
			places = append(places, w.box)
		}
	}
	return places
}

// Faults lists what a reader would stumble over: texts that touch each other or a line.
func (p *Page) Faults() []string {
	var faults []string
	for i, w := range p.texts {
		inside := w.box.Grown(-0.02)
		for _, other := range p.texts[:i] {
			if inside.Overlaps(other.box) {
				faults = append(faults, fmt.Sprintf("%q touches %q", w.text, other.text))
			}
		}
		for _, s := range p.strokes {
			if inside.Touches(s) {
				faults = append(faults, fmt.Sprintf("%q is touched by a line from (%.1f, %.1f) to (%.1f, %.1f)", w.text, s.A.X, s.A.Y, s.B.X, s.B.Y))
			}
		}
	}
	return faults
}
