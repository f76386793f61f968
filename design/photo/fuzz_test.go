package photo_test

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"math"
	"testing"

	"springwright/design/photo"
	"springwright/design/photo/phototest"

	"gonum.org/v1/gonum/spatial/r2"
)

// Whatever is in a file, and whatever is on a card, is read without a panic, and what is read is
// finite. The first byte chooses: the rest is a file, or strokes over a picture of a card.
func FuzzRead(f *testing.F) {
	l := plainLaid()
	l.view.Width, l.view.Height, l.view.Fill = 900, 640, 0.92
	wire := refusalCard.Like()
	wire.Line(phototest.Bent{Steps: phototest.Steps(l.steps), LegsMM: l.legs}.Middle(l.at, 0, false), phototest.WireMM)
	clean := phototest.Picture(refusalCard, phototest.Thing{Wire: wire, WireTone: 70}, l.view)
	e := photo.Expect{Steps: phototest.Steps(l.steps), WireMM: phototest.WireMM, LegsMM: [2]float64{4, 3}}
	if _, err := photo.Read(bytes.NewReader(l.view.Encode(clean)), e); err != nil {
		f.Fatal(err) // else the strokes would only be laid over what is refused anyway
	}
	jpeg := l.view
	jpeg.JPEG = 50
	f.Add(append([]byte{0}, jpeg.Encode(clean)[:4000]...))
	f.Add([]byte{1})
	f.Add([]byte{1, 100, 100, 140, 90, 3, 60, 20, 20, 200, 200, 1, 0})
	f.Add([]byte{2, 100, 100, 140, 90, 3, 60, 20, 20, 200, 200, 1, 0})
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) == 0 {
			return
		}
		file := data[1:]
		if data[0] != 0 {
			picture := image.NewGray(clean.Rect)
			copy(picture.Pix, clean.Pix)
			for stroke := file; len(stroke) >= 6; stroke = stroke[6:] {
				at := func(k int) r2.Vec { // within the field, or anywhere
					x, y := float64(stroke[k])/255, float64(stroke[k+1])/255
					if data[0] == 1 {
						x, y = 0.1+0.8*x, 0.15+0.6*y
					}
					return r2.Vec{X: x * 900, Y: y * 640}
				}
				a, b := at(0), at(2)
				half := 1 + float64(stroke[4]%40)/4
				for s := 0.0; s <= 1; s += 0.25 / math.Max(1, r2.Norm(r2.Sub(b, a))) {
					q := r2.Add(a, r2.Scale(s, r2.Sub(b, a)))
					for y := q.Y - half; y <= q.Y+half; y++ {
						for x := q.X - half; x <= q.X+half; x++ {
							picture.SetGray(int(x), int(y), color.Gray{Y: stroke[5]})
						}
					}
					if half > 3 {
						s += half / 4 / math.Max(1, r2.Norm(r2.Sub(b, a)))
					}
				}
			}
			file = l.view.Encode(picture)
		}
		o, err := photo.Read(bytes.NewReader(file), e)
		if err != nil {
			var refused *photo.PictureError
			if !errors.As(err, &refused) {
				t.Fatalf("refused without a reason: %v", err)
			}
			return
		}
		for _, s := range o.Straights {
			if !(s.LengthMM > -0.2 && s.LengthMM < 200 && s.SEMM >= 0 && s.SEMM < 100) {
				t.Fatalf("a straight of %v mm, standard error %v", s.LengthMM, s.SEMM)
			}
		}
		for _, b := range o.Bends {
			if !(math.Abs(b.AngleRad) < 7 && b.SERad >= 0 && b.SERad < 10) {
				t.Fatalf("a bend of %v rad, standard error %v", b.AngleRad, b.SERad)
			}
		}
	})
}
