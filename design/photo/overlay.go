package photo

import (
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/font/basicfont"
	"golang.org/x/image/math/fixed"
	"gonum.org/v1/gonum/spatial/r2"
)

// Colours of the overlay, told apart by people who see few colours, too (Okabe & Ito 2008).
var (
	middleColour = color.RGBA{R: 213, G: 94, B: 0, A: 255}
	edgeColour   = color.RGBA{R: 86, G: 180, B: 233, A: 255}
	bendColour   = color.RGBA{R: 0, G: 114, B: 178, A: 255}
)

// overlayPxPerMM is about how large the overlay is: a screen's width for the card (choice).
const overlayPxPerMM = 20.0

// WriteOverlay writes a PNG of the card seen square on, as it was read, with what was read drawn
// over it: the wire's middle and edges, where bends begin and end, their numbers, and A at the
// anchor's end.
func (o Outline) WriteOverlay(w io.Writer) error {
	if o.field == nil {
		return fmt.Errorf("an outline that was not read has no picture")
	}
	p := o.field.shrunk(max(1, int(math.Round(o.field.pxPerMM/overlayPxPerMM))))
	by := max(1, int(math.Round(overlayPxPerMM/p.pxPerMM)))
	picture := image.NewRGBA(image.Rect(0, 0, p.width*by, p.height*by))
	for y := range p.height * by {
		for x := range p.width * by {
			v := uint8(255 * math.Pow(float64(p.pix[y/by*p.width+x/by])/255, 1/tone))
			picture.SetRGBA(x, y, color.RGBA{R: v, G: v, B: v, A: 255})
		}
	}
	d := drawing{picture, &p, float64(by)}
	line := o.line.clone()
	pieces := line.lay()
	for i := range pieces {
		for s := 0.0; s < pieces[i].lengthMM; s += 0.25 / p.pxPerMM {
			at, heading := pieces[i].pose(s)
			left := r2.Vec{X: -math.Sin(heading), Y: math.Cos(heading)}
			d.dot(at, 0.7, middleColour)
			d.dot(r2.Add(at, r2.Scale(o.WireMM/2, left)), 0.7, edgeColour)
			d.dot(r2.Sub(at, r2.Scale(o.WireMM/2, left)), 0.7, edgeColour)
		}
	}
	for i := range pieces {
		if i%2 == 0 {
			continue
		}
		for _, s := range [...]float64{0, pieces[i].lengthMM} {
			at, heading := pieces[i].pose(s)
			left := r2.Vec{X: -math.Sin(heading), Y: math.Cos(heading)}
			for t := -0.6; t <= 0.6; t += 0.2 / p.pxPerMM {
				d.dot(r2.Add(at, r2.Scale(t, left)), 0.7, bendColour)
			}
		}
		at, heading := pieces[i].pose(pieces[i].lengthMM / 2)
		// Outside of the bend, where there is room.
		out := r2.Scale(-math.Copysign(1.4, pieces[i].curvature), r2.Vec{X: -math.Sin(heading), Y: math.Cos(heading)})
		d.text(r2.Add(at, out), fmt.Sprint(i/2+1))
	}
	first, heading := pieces[0].pose(0)
	d.text(r2.Sub(first, r2.Vec{X: 1.2 * math.Cos(heading), Y: 1.2 * math.Sin(heading)}), "A")
	return png.Encode(w, picture)
}

// drawing is a picture of a plate, enlarged.
type drawing struct {
	*image.RGBA
	plate *plate
	by    float64
}

func (d drawing) px(q r2.Vec) (x, y float64) {
	x, y = d.plate.px(q)
	return (x + 0.5) * d.by, (y + 0.5) * d.by
}

func (d drawing) dot(q r2.Vec, radius float64, c color.RGBA) {
	x, y := d.px(q)
	for v := int(y - radius); v <= int(y+radius); v++ {
		for u := int(x - radius); u <= int(x+radius); u++ {
			if math.Hypot(float64(u)+0.5-x, float64(v)+0.5-y) <= radius {
				d.SetRGBA(u, v, c)
			}
		}
	}
}

// text writes letters about a point, twice their size.
func (d drawing) text(q r2.Vec, text string) {
	const times = 2
	face := basicfont.Face7x13
	small := image.NewAlpha(image.Rect(0, 0, 7*len(text), 13))
	writer := font.Drawer{Dst: small, Src: image.NewUniform(color.Opaque), Face: face, Dot: fixed.P(0, face.Ascent)}
	writer.DrawString(text)
	x, y := d.px(q)
	for v := range 13 * times {
		for u := range 7 * len(text) * times {
			if small.AlphaAt(u/times, v/times).A > 127 {
				d.SetRGBA(int(x)+u-7*len(text)*times/2, int(y)+v-13*times/2, bendColour)
			}
		}
	}
}
