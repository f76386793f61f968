package photo_test

import (
	"bytes"
	"errors"
	"flag"
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"testing"

	"springwright/design/photo"
	"springwright/design/photo/phototest"

	"gonum.org/v1/gonum/spatial/r2"
)

// Whatever is in a file, it is read or refused with a reason.
func FuzzRead(f *testing.F) {
	// Whole pictures that are too small, and halves of one that is not: others take too long each
	// for the many that are tried. TestStrokesOverTheCard has whole cards.
	for _, v := range [...]phototest.View{{}, {JPEG: 70}} {
		f.Add(v.Encode(image.NewGray(image.Rect(0, 0, 20, 20))))
		file := v.Encode(image.NewGray(image.Rect(0, 0, 400, 400)))
		f.Add(file[:len(file)/2])
	}
	e := photo.Expect{Steps: phototest.Steps("4 60 8 -110 6 75 3"), WireMM: phototest.WireMM}
	f.Fuzz(func(t *testing.T, data []byte) {
		_, err := photo.Read(bytes.NewReader(data), e)
		var refused *photo.PictureError
		if !errors.As(err, &refused) {
			t.Fatalf("%v, want a reason", err)
		}
		if _, err := photo.ReadOwner(bytes.NewReader(data)); !errors.As(err, &refused) {
			t.Fatalf("whose it is: %v, want a reason", err)
		}
	})
}

var strokeTrials = flag.Int("strokes", 15, "how many pictures with strokes over them are read")

// Whatever is on a card, it is read or refused with a reason; and what is read is not far off what
// is there: strokes of any tone, thin and thick, over the field or over all, hide a wire or make
// it look otherwise.
func TestStrokesOverTheCard(t *testing.T) {
	l := plainLaid()
	l.view.Width, l.view.Height, l.view.Fill = 1000, 700, 0.92
	wire := refusalCard().Like()
	wire.Line(phototest.Bent{Steps: phototest.Steps(l.steps), LegsMM: l.legs}.Middle(l.at, 0, false), phototest.WireMM)
	clean := phototest.Picture(refusalCard(), phototest.Thing{Wire: wire, WireTone: 70}, l.view)
	e := photo.Expect{Steps: phototest.Steps(l.steps), WireMM: phototest.WireMM, LegsMM: [2]float64{4, 3}}
	number, read := *strokeTrials, 0
	for i := range number {
		source := rand.New(rand.NewPCG(uint64(i), 11))
		picture := image.NewGray(clean.Rect)
		copy(picture.Pix, clean.Pix)
		for range source.IntN(3) {
			low, high := r2.Vec{X: 20, Y: 20}, r2.Vec{X: 980, Y: 680}
			if source.IntN(2) == 0 {
				low, high = r2.Vec{X: 130, Y: 120}, r2.Vec{X: 870, Y: 560}
			}
			at := func() r2.Vec {
				return r2.Vec{X: low.X + source.Float64()*(high.X-low.X), Y: low.Y + source.Float64()*(high.Y-low.Y)}
			}
			a, b := at(), at()
			b = r2.Add(a, r2.Scale(source.Float64(), r2.Sub(b, a)))
			half, tone := 0.5+6*source.Float64()*source.Float64(), uint8(source.IntN(256))
			length := math.Max(1, r2.Norm(r2.Sub(b, a)))
			for s := 0.0; s <= 1; s += 0.4 / length {
				q := r2.Add(a, r2.Scale(s, r2.Sub(b, a)))
				for y := math.Floor(q.Y - half); y <= q.Y+half; y++ {
					for x := math.Floor(q.X - half); x <= q.X+half; x++ {
						if math.Hypot(x+0.5-q.X, y+0.5-q.Y) < half {
							picture.SetGray(int(x), int(y), color.Gray{Y: tone})
						}
					}
				}
			}
		}
		o, err := photo.Read(bytes.NewReader(l.view.Encode(picture)), e)
		if err != nil {
			var refused *photo.PictureError
			if !errors.As(err, &refused) {
				t.Errorf("strokes %d: %v, want a reason", i, err)
			}
			continue
		}
		read++
		for k, want := range [...]float64{60, -110, 75} {
			if got, se := o.Bends[k].AngleRad/degree, o.Bends[k].SERad/degree; !(math.Abs(got-want) < math.Max(1, 4*se)) {
				t.Errorf("strokes %d: bend %d is read as %.2f ± %.2f°, want %g", i, k+1, got, se, want)
			}
		}
		for k, want := range [...]float64{8, 6} {
			if got, se := o.Straights[k+1].LengthMM, o.Straights[k+1].SEMM; !(math.Abs(got-want) < math.Max(0.2, 4*se)) {
				t.Errorf("strokes %d: straight %d is read as %.3f ± %.3f mm, want %g", i, k+2, got, se, want)
			}
		}
	}
	t.Logf("%d of %d were read", read, number)
	if read < number/5 || read == number {
		t.Errorf("%d of %d were read, want some and not all", read, number)
	}
}
