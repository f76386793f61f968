// Package sheet draws pages in millimetres and writes them as PDF and SVG. It is the only
// place that knows the drawing package: everything else lays out pages with its words.
//
// A page's origin is its bottom left corner, x to the right, y up. Black on white with
// one grey; two weights of one typeface.
package sheet

import (
	"bytes"
	"errors"
	"fmt"
	"image/color"

	"springwright/export/pdf"
	"springwright/export/plane"
	"springwright/export/words"

	"github.com/tdewolff/canvas"
	canvaspdf "github.com/tdewolff/canvas/renderers/pdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
)

// MarginMM is kept clear all round: many printers cannot print closer to the edge.
const MarginMM = 12.7

// Document is a set of pages of one size. A fault while drawing is kept and returned when
// the document is written.
type Document struct {
	WidthMM, HeightMM float64
	Pages             []*Page
	Lang              string      // language tag such as "en-GB"
	Words             *words.Book // for the numbers of charts; nil: English

	regular, bold *canvas.Font
	lines         map[shape]*canvas.Text // those written so far
	err           error
	lacked        map[rune]bool // characters that err names
}

// NewDocument returns an empty document. It loads its own copy of the typeface: a font
// shared between documents would be a data race.
func NewDocument(widthMM, heightMM float64) (*Document, error) {
	// The family is called Go: names such as Helvetica would not be embedded.
	family := canvas.NewFontFamily("Go")
	if err := family.LoadFont(goregular.TTF, 0, canvas.FontRegular); err != nil {
		return nil, fmt.Errorf("regular weight of the typeface: %w", err)
	}
	if err := family.LoadFont(gobold.TTF, 0, canvas.FontBold); err != nil {
		return nil, fmt.Errorf("bold weight of the typeface: %w", err)
	}
	return &Document{
		WidthMM: widthMM, HeightMM: heightMM,
		regular: family.Face(10, canvas.Black, canvas.FontRegular).Font,
		bold:    family.Face(10, canvas.Black, canvas.FontBold).Font,
	}, nil
}

// AddPage adds an empty page.
func (d *Document) AddPage(title string) *Page {
	c := canvas.New(d.WidthMM, d.HeightMM)
	p := &Page{Title: title, document: d, canvas: c, context: canvas.NewContext(c)}
	d.Pages = append(d.Pages, p)
	return p
}

// Inside is the part of every page that may be printed on.
func (d *Document) Inside() plane.Box {
	return plane.Box{Max: plane.Point{X: d.WidthMM, Y: d.HeightMM}}.Grown(-MarginMM)
}

func (d *Document) fail(format string, args ...any) {
	d.err = errors.Join(d.err, fmt.Errorf(format, args...))
}

// Err returns what went wrong while drawing: characters that the typeface lacks, and
// anything within MarginMM of the edge.
func (d *Document) Err() error {
	if d.err != nil {
		return d.err
	}
	for i, p := range d.Pages {
		for _, box := range p.inked {
			if !d.Inside().Grown(0.01).Holds(box) {
				return fmt.Errorf("page %d, %s: %s at %.1f…%.1f × %.1f…%.1f mm is closer than %.1f mm to the edge of the paper",
					i+1, p.Title, p.what(box), box.Min.X, box.Max.X, box.Min.Y, box.Max.Y, MarginMM)
			}
		}
	}
	return nil
}

// what names the ink in a box.
func (p *Page) what(box plane.Box) string {
	for _, w := range p.texts {
		if w.box == box {
			return fmt.Sprintf("the text %q", w.text)
		}
	}
	return "a line"
}

// PDF writes all pages as one file.
func (d *Document) PDF(info pdf.Info) ([]byte, error) {
	if err := d.Err(); err != nil {
		return nil, err
	}
	if len(d.Pages) == 0 {
		return nil, errors.New("a document without pages")
	}
	var raw bytes.Buffer
	info.Lang = d.Lang
	renderer := canvaspdf.New(&raw, d.WidthMM, d.HeightMM, nil)
	for i, p := range d.Pages {
		if i > 0 {
			renderer.NewPage(d.WidthMM, d.HeightMM)
		}
		p.canvas.RenderTo(renderer)
		info.Pages = append(info.Pages, p.Title)
		info.Structures = append(info.Structures, p.read.Structure)
	}
	if err := renderer.Close(); err != nil {
		return nil, err
	}
	return pdf.Finish(raw.Bytes(), info)
}

// ink is a pen's or a fill's colour.
func ink(grey bool) color.RGBA {
	if grey {
		return color.RGBA{R: 0x80, G: 0x80, B: 0x80, A: 0xFF}
	}
	return canvas.Black
}
