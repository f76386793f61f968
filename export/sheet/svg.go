package sheet

import (
	"bytes"
	"errors"
	"fmt"
	"html"
	"image"
	"math"
	"strconv"
	"strings"

	"github.com/tdewolff/canvas"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
)

// SVG writes each page as a file of its own, text as text, which can be marked and searched, in the typeface of
// the PDF file, whose letters in use on any page each file carries. Without the page rule browsers shrink it.
func (d *Document) SVG(title, description string) ([][]byte, error) {
	if err := d.Err(); err != nil {
		return nil, err
	}
	letters := [2]map[rune]bool{{}, {}}
	drawn := make([]svgPage, len(d.Pages))
	for i, p := range d.Pages {
		drawn[i] = svgPage{document: d, letters: letters}
		p.canvas.RenderTo(&drawn[i])
		drawn[i].open("")
	}
	regular, err := embedded(goregular.TTF, "400", letters[0])
	bold, boldErr := embedded(gobold.TTF, "700", letters[1])
	if err := errors.Join(d.err, err, boldErr); err != nil {
		return nil, err
	}
	var files [][]byte
	for i, p := range d.Pages {
		var file bytes.Buffer
		width, height := svgNumber(d.WidthMM), svgNumber(d.HeightMM)
		fmt.Fprintf(&file, `<?xml version="1.0" encoding="UTF-8"?>`+"\n"+
			`<svg version="1.1" width="%[1]smm" height="%[2]smm" viewBox="0 0 %[1]s %[2]s" xmlns="http://www.w3.org/2000/svg" lang="%[3]s" xml:lang="%[3]s" xml:space="preserve">`,
			width, height, html.EscapeString(d.Lang))
		fmt.Fprintf(&file, "<title>%s</title><desc>%s</desc>", html.EscapeString(title+", "+p.Title), html.EscapeString(description))
		fmt.Fprintf(&file, `<style>@page{size:%smm %smm;margin:0}text{font-family:%s;text-rendering:geometricPrecision;white-space:pre}%s%s</style>`,
			width, height, svgTypefaces, regular, bold)
		file.Write(drawn[i].body.Bytes())
		file.WriteString("</svg>\n")
		files = append(files, file.Bytes())
	}
	return files, nil
}

// svgPage writes what is drawn on a page in mm from its top left corner, y down. What follows each other in one
// style stands in one group.
type svgPage struct {
	document *Document
	body     bytes.Buffer
	group    string           // the open one; empty: none
	letters  [2]map[rune]bool // in use so far, of the regular and the bold weight
}

// Size is the size of the page, mm.
func (s *svgPage) Size() (width, height float64) { return s.document.WidthMM, s.document.HeightMM }

// open begins a group of a style unless the open one has it; an empty style only ends that one.
func (s *svgPage) open(style string) {
	if style == s.group {
		return
	}
	if s.group != "" {
		s.body.WriteString("</g>\n")
	}
	if style != "" {
		s.body.WriteString("<g " + style + ">")
	}
	s.group = style
}

// RenderPath draws lines of one colour and width, or an area of one colour.
func (s *svgPage) RenderPath(path *canvas.Path, style canvas.Style, m canvas.Matrix) {
	colour := func(paint canvas.Paint) string {
		if paint.Color == canvas.Black {
			return "#000"
		}
		return fmt.Sprintf("#%02x%02x%02x", paint.Color.R, paint.Color.G, paint.Color.B)
	}
	if style.HasStroke() {
		s.open(fmt.Sprintf(`fill="none" stroke="%s" stroke-width="%s" stroke-linejoin="round"`, colour(style.Stroke), svgNumber(style.StrokeWidth)))
	} else {
		s.open(fmt.Sprintf(`fill="%s"`, colour(style.Fill)))
	}
	fmt.Fprintf(&s.body, `<path d="%s"/>`, svgPath(path.Copy().Transform(canvas.Identity.ReflectYAbout(s.document.HeightMM/2).Mul(m))))
}

// RenderText writes a text whose spans are plain: of one weight, without decorations, level or turned by a
// quarter to the left.
func (s *svgPage) RenderText(t *canvas.Text, m canvas.Matrix) {
	t.WalkSpans(func(x, y float64, span canvas.TextSpan) {
		weight, bold := 0, ""
		if span.Face.Font == s.document.bold {
			weight, bold = 1, ` font-weight="700"`
		}
		for _, r := range span.Text {
			s.letters[weight][r] = true
		}
		s.open(fmt.Sprintf(`font-size="%s"%s`, svgNumber(span.Face.Size), bold))
		at := m.Dot(canvas.Point{X: x, Y: y})
		place := fmt.Sprintf(`x="%s" y="%s"`, svgNumber(at.X), svgNumber(s.document.HeightMM-at.Y))
		if m[1][0] > 0.5 {
			place = fmt.Sprintf(`transform="translate(%s %s)rotate(-90)"`, svgNumber(at.X), svgNumber(s.document.HeightMM-at.Y))
		}
		// Where the embedded typeface is ignored the length holds what stands behind the text in its place.
		fmt.Fprintf(&s.body, `<text %s textLength="%s">%s</text>`, place, svgNumber(span.Width), html.EscapeString(span.Text))
	})
}

// RenderImage is not called: sheets have no pictures.
func (s *svgPage) RenderImage(image.Image, canvas.Matrix) {
	s.document.fail("a picture on a page")
}

// svgStepMM is what coordinates are rounded to: a fortieth of a dot of a printer with 600 dots to the inch.
const svgStepMM = 0.001

// svgNumber writes a number of mm to svgStepMM.
func svgNumber(v float64) string {
	return svgSteps(int(math.Round(v / svgStepMM)))
}

func svgSteps(steps int) string {
	text := strconv.FormatFloat(float64(steps)*svgStepMM, 'f', 3, 64)
	text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	switch rest, negative := strings.CutPrefix(text, "-"); {
	case negative && strings.HasPrefix(rest, "0."):
		return "-" + rest[1:]
	case strings.HasPrefix(text, "0."):
		return text[1:]
	}
	return text
}

// svgPath writes a path from point to point. Each step is one between rounded points, so that rounding does not
// add up.
//
// In one piece: a switch over the kinds of segments, which share the last rounded point.
func svgPath(path *canvas.Path) string {
	var b strings.Builder
	var from, begun [2]int // in steps
	last := byte(0)
	number := func(steps int) {
		text := svgSteps(steps)
		if c := b.String()[b.Len()-1]; text[0] != '-' && (c >= '0' && c <= '9' || c == '.') {
			b.WriteByte(' ')
		}
		b.WriteString(text)
	}
	command := func(c byte) {
		if c != last {
			b.WriteByte(c)
		}
		last = c
	}
	rounded := func(p canvas.Point) [2]int {
		return [2]int{int(math.Round(p.X / svgStepMM)), int(math.Round(p.Y / svgStepMM))}
	}
	to := func(p canvas.Point) {
		at := rounded(p)
		number(at[0] - from[0])
		number(at[1] - from[1])
	}
	for s := path.Scanner(); s.Scan(); {
		end := rounded(s.End())
		switch s.Cmd() {
		case canvas.MoveToCmd:
			b.WriteByte('M')
			number(end[0])
			number(end[1])
			last, begun = 0, end
		case canvas.LineToCmd:
			command('l')
			to(s.End())
		case canvas.QuadToCmd:
			command('q')
			to(s.CP1())
			to(s.End())
		case canvas.CubeToCmd:
			command('c')
			to(s.CP1())
			to(s.CP2())
			to(s.End())
		case canvas.ArcToCmd:
			rx, ry, turn, large, sweep := s.Arc()
			command('a')
			number(rounded(canvas.Point{X: rx})[0])
			number(rounded(canvas.Point{X: ry})[0])
			number(rounded(canvas.Point{X: turn * 180 / math.Pi})[0])
			for _, flag := range [...]bool{large, sweep} {
				if flag {
					b.WriteString(" 1")
				} else {
					b.WriteString(" 0")
				}
			}
			to(s.End())
		case canvas.CloseCmd:
			command('z')
			end = begun
		}
		from = end
	}
	return b.String()
}
