package export

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"slices"
	"strings"
	"testing"

	"springwright/export/plane"
)

// Text is text that can be marked and searched, a line in one piece, and the file needs nothing from outside. As
// outlines of letters the same pages took 84 to 226 kB each; a third of the largest is what they may take now.
func TestSVGTextIsText(t *testing.T) {
	t.Parallel()
	const mostBytes = 75_000
	for kind, doc := range documents(t, A4, Printer{}) {
		files, err := doc.SVG("title", "description")
		if err != nil {
			t.Fatal(err)
		}
		for i, file := range files {
			if len(file) > mostBytes {
				t.Errorf("%s, page %d: %d bytes", kind, i+1, len(file))
			}
			if n := bytes.Count(file, []byte("http")); n != 1 || bytes.Contains(file, []byte("<use")) {
				t.Errorf("%s, page %d: %d addresses, want that of the name space alone, and no letters one by one", kind, i+1, n)
			}
			if got, want := linesOf(t, file), doc.Pages[i].Texts(); !slices.Equal(got, want) {
				t.Errorf("%s, page %d: texts %q, want %q", kind, i+1, got, want)
			}
		}
	}
}

// linesOf are the texts of an SVG file.
func linesOf(t *testing.T, file []byte) (lines []string) {
	t.Helper()
	for decoder := xml.NewDecoder(bytes.NewReader(file)); ; {
		token, err := decoder.Token()
		if errors.Is(err, io.EOF) {
			return lines
		}
		if err != nil {
			t.Fatal(err)
		}
		if element, ok := token.(xml.StartElement); ok && element.Name.Local == "text" {
			var text string
			if err := decoder.DecodeElement(&text, &element); err != nil {
				t.Fatal(err)
			}
			lines = append(lines, text)
		}
	}
}

// A browser draws the text of an SVG as the PDF has it; a program that ignores the typeface in the file draws it
// in another one, in the same place and nowhere wider.
func TestSVGLooksLikeThePDF(t *testing.T) {
	const dpi = 150
	for _, program := range [...]struct {
		name      string
		inkOffMax float64 // of the ink of a text, one part of the whole
	}{
		{"chromium", 0.12},    // other smoothing of edges
		{"rsvg-convert", 0.6}, // another typeface with thinner strokes: up to 0.49 seen, of a dash, 0.28 of anything else
	} {
		t.Run(program.name, func(t *testing.T) {
			t.Parallel()
			if testing.Short() {
				t.Skip("long: every page through an outside program")
			}
			doc := documents(t, A4, Printer{})["design"]
			want, got := rasterise(t, doc, "pdftoppm", dpi), rasterise(t, doc, program.name, dpi)
			texts := 0
			for i, page := range doc.Pages {
				for _, text := range page.Texts() {
					for _, box := range page.Places(text) {
						texts++
						box = box.Grown(0.2)
						a, b := want[i].inkIn(box), got[i].inkIn(box)
						if off := math.Abs(a-b) / a; off > program.inkOffMax || strings.TrimSpace(text) == "" {
							t.Errorf("page %d: %q has %.2f mm² of ink, want %.2f", i+1, text, b, a)
						}
						// Beside the text, where another typeface might run on.
						beside := plane.Box{Min: plane.Point{X: box.Max.X, Y: box.Min.Y}, Max: plane.Point{X: box.Max.X + 1, Y: box.Max.Y}}
						if a, b := want[i].inkIn(beside), got[i].inkIn(beside); b > a+0.12 {
							t.Errorf("page %d: behind %q is %.2f mm² of ink, want %.2f", i+1, text, b, a)
						}
					}
				}
			}
			if texts < 200 {
				t.Errorf("only %d texts compared", texts)
			}
		})
	}
}

// inkIn is the area of ink in a box, mm².
func (r raster) inkIn(b plane.Box) float64 {
	step := 25.4 / r.dpi
	sum := 0.0
	for x := b.Min.X; x < b.Max.X; x += step {
		for y := b.Min.Y; y < b.Max.Y; y += step {
			sum += r.ink(plane.Point{X: x, Y: y}) * step * step
		}
	}
	return sum
}
