package sheet

import (
	"bytes"
	"fmt"

	"github.com/tdewolff/canvas"
)

// outlines draws text in SVG as filled outlines, since programs that read SVG often ignore
// embedded fonts. Each letter's outline is written once, in the typeface's own units, and
// used wherever the letter stands: a tenth of the size of outlines written each time.
type outlines struct {
	canvas.Renderer
	document *Document
	out      *bytes.Buffer // the one that Renderer writes to, unbuffered
	heightMM float64       // of the page
	drawn    map[letter]bool
}

// letter is a glyph of one weight.
type letter struct {
	weight byte
	glyph  uint16
}

func (l letter) id() string { return fmt.Sprintf("%c%d", l.weight, l.glyph) }

// RenderText draws a text whose spans are plain: of one weight, without decorations.
func (o *outlines) RenderText(t *canvas.Text, m canvas.Matrix) {
	t.WalkSpans(func(x, y float64, span canvas.TextSpan) {
		weight := byte('r')
		if span.Face.Font == o.document.bold {
			weight = 'b'
		}
		for _, g := range span.Glyphs {
			o.define(letter{weight, g.ID}, span.Face)
		}
		// From the typeface's units, y up, to the file's mm, y down.
		em := span.Face.MmPerEm
		v := canvas.Identity.ReflectYAbout(o.heightMM/2).Mul(m).Translate(x, y).Scale(em, em)
		fmt.Fprintf(o.out, `<g transform="matrix(%.9g %.9g %.9g %.9g %.9g %.9g)">`, v[0][0], v[1][0], v[0][1], v[1][1], v[0][2], v[1][2])
		at := int32(0)
		for _, g := range span.Glyphs {
			if l := (letter{weight, g.ID}); o.drawn[l] {
				fmt.Fprintf(o.out, `<use xlink:href="#%s" x="%d"/>`, l.id(), at+g.XOffset)
			}
			at += g.XAdvance
		}
		o.out.WriteString("</g>")
	})
}

// define writes a letter's outline unless that was done, or there is none as for a space.
func (o *outlines) define(l letter, face *canvas.FontFace) {
	if o.drawn[l] {
		return
	}
	path := &canvas.Path{}
	if err := face.Font.GlyphPath(path, l.glyph, 0, 0, 0, 1, face.Hinting); err != nil {
		o.document.fail("outline of glyph %d: %w", l.glyph, err)
		return
	}
	if path.Empty() {
		return
	}
	o.drawn[l] = true
	fmt.Fprintf(o.out, `<defs><path id="%s" d="%s"/></defs>`, l.id(), path.ToSVG())
}
