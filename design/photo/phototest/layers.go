// Package phototest makes pictures of the card for tests: layers of ink and wire, either drawn
// here or by other programs, seen by a camera with all that spoils a picture.
package phototest

import (
	"image"
	"image/color"
	"math"

	"springwright/design/photo"

	"gonum.org/v1/gonum/spatial/r2"
)

// MarginMM is the paper round the card in layers.
const MarginMM = 8.0

// Layer is how much each place of the card and the paper round it is covered, 0 to 1; rows
// from the top.
type Layer struct {
	PxPerMM       float64
	ShiftPx       r2.Vec // where the upper left corner of the paper shown is in the first pixel
	Width, Height int
	Cover         []float32
}

// NewLayer covers nothing.
func NewLayer(pxPerMM float64) Layer {
	l := Layer{PxPerMM: pxPerMM}
	l.Width = int(math.Ceil((photo.CardWidthMM + 2*MarginMM) * pxPerMM))
	l.Height = int(math.Ceil((photo.CardHeightMM + 2*MarginMM) * pxPerMM))
	l.Cover = make([]float32, l.Width*l.Height)
	return l
}

// Like is an empty layer of the same paper.
func (l Layer) Like() Layer {
	l.Cover = make([]float32, len(l.Cover))
	return l
}

// Cut is the card and the paper round it from a page as it was rasterised, black on white; the
// card's lower left corner is at cornerMM of the page, which is heightMM high.
func Cut(page image.Image, pxPerMM float64, cornerMM r2.Vec, heightMM float64) Layer {
	l := NewLayer(pxPerMM)
	left := (cornerMM.X - MarginMM) * pxPerMM
	top := (heightMM - cornerMM.Y - photo.CardHeightMM - MarginMM) * pxPerMM
	x0, y0 := math.Floor(left), math.Floor(top)
	l.ShiftPx = r2.Vec{X: left - x0, Y: top - y0}
	b := page.Bounds()
	for i := range l.Cover {
		p := image.Pt(int(x0)+i%l.Width, int(y0)+i/l.Width).Add(b.Min)
		if p.In(b) {
			l.Cover[i] = 1 - float32(color.GrayModel.Convert(page.At(p.X, p.Y)).(color.Gray).Y)/255
		}
	}
	return l
}

// px is where a point of the card is in the layer.
func (l *Layer) px(q r2.Vec) r2.Vec {
	return r2.Add(l.ShiftPx, r2.Vec{X: (q.X + MarginMM) * l.PxPerMM, Y: (photo.CardHeightMM + MarginMM - q.Y) * l.PxPerMM})
}

// near goes through the pixels about some points of the card.
func (l *Layer) near(points []r2.Vec, growMM float64, do func(i int, q r2.Vec)) {
	box := r2.Box{Min: points[0], Max: points[0]}
	for _, p := range points {
		box.Min = r2.Vec{X: math.Min(box.Min.X, p.X), Y: math.Min(box.Min.Y, p.Y)}
		box.Max = r2.Vec{X: math.Max(box.Max.X, p.X), Y: math.Max(box.Max.Y, p.Y)}
	}
	a, b := l.px(r2.Vec{X: box.Min.X - growMM, Y: box.Max.Y + growMM}), l.px(r2.Vec{X: box.Max.X + growMM, Y: box.Min.Y - growMM})
	for y := max(0, int(a.Y)); y < min(l.Height, int(b.Y)+1); y++ {
		for x := max(0, int(a.X)); x < min(l.Width, int(b.X)+1); x++ {
			do(y*l.Width+x, r2.Vec{
				X: (float64(x)+0.5-l.ShiftPx.X)/l.PxPerMM - MarginMM,
				Y: photo.CardHeightMM + MarginMM - (float64(y)+0.5-l.ShiftPx.Y)/l.PxPerMM,
			})
		}
	}
}

func (l *Layer) cover(i int, depthMM float64) {
	share := float32(math.Min(1, math.Max(0, 0.5+depthMM*l.PxPerMM)))
	l.Cover[i] = max(l.Cover[i], share)
}

// Line covers a line through points, of a width, its ends cut square.
func (l *Layer) Line(points []r2.Vec, widthMM float64) {
	last := len(points) - 2
	for k := range last + 1 {
		a, b := points[k], points[k+1]
		along := r2.Sub(b, a)
		length := r2.Norm(along)
		if length == 0 {
			continue
		}
		along = r2.Scale(1/length, along)
		l.near([]r2.Vec{a, b}, widthMM/2+2/l.PxPerMM, func(i int, q r2.Vec) {
			t := r2.Dot(r2.Sub(q, a), along)
			depth := math.Inf(1)
			if k == 0 {
				depth = math.Min(depth, t)
			}
			if k == last {
				depth = math.Min(depth, length-t)
			}
			t = math.Min(length, math.Max(0, t))
			off := r2.Norm(r2.Sub(q, r2.Add(a, r2.Scale(t, along))))
			if k == 0 && depth < 0 || k == last && depth < 0 {
				off = math.Abs(r2.Cross(r2.Sub(q, a), along))
			}
			l.cover(i, math.Min(depth, widthMM/2-off))
		})
	}
}

// Card is the ink of the card.
func Card(pxPerMM float64) Layer {
	l := NewLayer(pxPerMM)
	for _, m := range photo.Marks() {
		c, corners := m.Centre(), m.Corners()
		l.near(corners[:], 1, func(i int, q r2.Vec) {
			d := r2.Sub(q, c)
			depth := photo.MarkMM/2 - math.Max(math.Abs(d.X), math.Abs(d.Y))
			for _, dot := range m.Dots {
				depth = math.Min(depth, r2.Norm(r2.Sub(q, dot))-photo.DotMM/2)
			}
			l.cover(i, depth)
		})
	}
	for _, line := range photo.FrameLines() {
		l.Line(line[:], photo.FrameMM)
	}
	return l
}

// Strip is the card with the strip that tells whose it is.
func (l Layer) Strip(o photo.Owner) Layer {
	out := l
	out.Cover = append([]float32(nil), l.Cover...)
	for _, b := range o.Strip() {
		middle := (b.Min.X + b.Max.X) / 2
		out.Line([]r2.Vec{{X: middle, Y: b.Min.Y}, {X: middle, Y: b.Max.Y}}, b.Max.X-b.Min.X)
	}
	return out
}

// softened is a layer blurred by two boxes of a width.
func (l Layer) softened(widthMM float64) Layer {
	half := int(widthMM * l.PxPerMM / 2)
	if half < 1 {
		return l
	}
	out := l
	out.Cover = append([]float32(nil), l.Cover...)
	line := make([]float32, max(l.Width, l.Height))
	box := func(start, stride, n int) {
		for range 2 {
			var sum float32
			for i := range n {
				line[i] = out.Cover[start+i*stride]
			}
			for i := -half; i <= half; i++ {
				sum += line[min(n-1, max(0, i))]
			}
			for i := range n {
				out.Cover[start+i*stride] = sum / float32(2*half+1)
				sum += line[min(n-1, i+half+1)] - line[max(0, i-half)]
			}
		}
	}
	for y := range l.Height {
		box(y*l.Width, 1, l.Width)
	}
	for x := range l.Width {
		box(x, l.Width, l.Height)
	}
	return out
}
