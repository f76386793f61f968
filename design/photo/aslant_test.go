package photo_test

import (
	"bytes"
	"encoding/binary"
	"errors"
	"image"
	"math"
	"runtime"
	"testing"

	"springwright/design/photo"
	"springwright/design/photo/phototest"

	"gonum.org/v1/gonum/spatial/r2"
)

// readNear reads a picture and holds it against what was bent.
func (l *laid) readNear(t *testing.T, angleDeg, lengthMM float64) {
	t.Helper()
	o, err := l.read()
	if err != nil {
		t.Fatal(err)
	}
	bent := l.steps
	if l.bent != "" {
		bent = l.bent
	}
	want := phototest.Steps(bent)
	for _, b := range o.Bends {
		if off := (b.AngleRad - want[b.Step].AngleRad) / degree; math.Abs(off) > angleDeg {
			t.Errorf("bend %d is %.2f° off, want at most %g", b.Number, off, angleDeg)
		}
	}
	for i, s := range o.Straights {
		if off := s.LengthMM - want[s.Step].LengthMM; !s.Leg && math.Abs(off) > lengthMM {
			t.Errorf("straight %d is %.3f mm off, want at most %g", i+1, off, lengthMM)
		}
	}
}

// A wire has a height: from aside one of its sides is seen, on pieces across the view, and is read all
// the same.
func TestWireSeenAslant(t *testing.T) {
	for name, towards := range map[string]r2.Vec{"along": {X: 0.3}, "up": {Y: 0.3}, "across": {X: -0.2, Y: 0.2}} {
		l := plainLaid()
		l.expect = func(e *photo.Expect) { e.HeightMM = 0.5588 }
		l.change = func(_ *laid, wire *phototest.Layer, middle []r2.Vec) {
			const layers = 12
			for k := range layers + 1 {
				moved := make([]r2.Vec, len(middle))
				for i, q := range middle {
					moved[i] = r2.Add(q, r2.Scale(float64(k)/layers, towards))
				}
				wire.Line(moved, phototest.WireMM)
			}
		}
		t.Run(name, func(t *testing.T) { l.readNear(t, 0.4, 0.08) })
	}
}

// Low light casts a shadow that is wider than the wire.
func TestLongShadow(t *testing.T) {
	for name, shadow := range map[string]r2.Vec{"to the right": {X: 0.9, Y: -0.1}, "up": {X: 0.2, Y: 0.7}} {
		l := plainLaid()
		l.shadow, l.shadowShare = shadow, 0.4
		t.Run(name, func(t *testing.T) { l.readNear(t, 0.4, 0.08) })
	}
}

// A speck on the wire of a helix, where it crosses itself, is no end of it.
func TestSpeckOnAHelix(t *testing.T) {
	l := plainLaid()
	l.steps, l.at, l.legs = "10 -335@1.6 8 20 5", r2.Vec{X: 20, Y: 25}, [2]float64{4, 3}
	l.change = func(_ *laid, wire *phototest.Layer, middle []r2.Vec) {
		wire.Line(middle, phototest.WireMM)
		low := middle[0]
		for _, q := range middle {
			if q.Y < low.Y {
				low = q
			}
		}
		wire.Line([]r2.Vec{low, r2.Add(low, r2.Vec{Y: -0.75})}, 0.3)
	}
	l.readNear(t, 0.4, 0.08)
}

// A telephone may store a picture mirrored or turned, and the file then tells it.
func TestStoredOrientation(t *testing.T) {
	l := plainLaid()
	l.view.JPEG = 90
	wire := refusalCard().Like()
	wire.Line(phototest.Bent{Steps: phototest.Steps(l.steps), LegsMM: l.legs}.Middle(l.at, 0, false), phototest.WireMM)
	shown := phototest.Picture(refusalCard(), phototest.Thing{Wire: wire, WireTone: 70}, l.view)
	e := photo.Expect{Steps: phototest.Steps(l.steps), WireMM: phototest.WireMM, LegsMM: [2]float64{4, 3}}
	w, h := l.view.Width, l.view.Height
	for orientation, stored := range map[uint16]func(x, y int) (int, int){ // of a stored pixel, the one shown
		1: func(x, y int) (int, int) { return x, y },
		2: func(x, y int) (int, int) { return w - 1 - x, y },
		4: func(x, y int) (int, int) { return x, h - 1 - y },
		5: func(x, y int) (int, int) { return y, x },
		6: func(x, y int) (int, int) { return w - 1 - y, x },
		7: func(x, y int) (int, int) { return w - 1 - y, h - 1 - x },
	} {
		size := image.Rect(0, 0, w, h)
		if orientation >= 5 {
			size = image.Rect(0, 0, h, w)
		}
		picture := image.NewGray(size)
		for y := range size.Max.Y {
			for x := range size.Max.X {
				u, v := stored(x, y)
				picture.SetGray(x, y, shown.GrayAt(u, v))
			}
		}
		for _, order := range []binary.AppendByteOrder{binary.BigEndian, binary.LittleEndian} {
			tiff := []byte("MM")
			if order.String() == "LittleEndian" {
				tiff = []byte("II")
			}
			tiff = order.AppendUint16(tiff, 42)
			tiff = order.AppendUint32(tiff, 8)
			tiff = order.AppendUint16(tiff, 1)
			tiff = order.AppendUint16(tiff, 0x0112)
			tiff = order.AppendUint16(tiff, 3)
			tiff = order.AppendUint32(tiff, 1)
			tiff = order.AppendUint16(tiff, orientation)
			tiff = append(tiff, 0, 0, 0, 0, 0, 0)
			body := append([]byte("Exif\x00\x00"), tiff...)
			file := l.view.Encode(picture)
			with := append([]byte{0xFF, 0xD8, 0xFF, 0xE1}, binary.BigEndian.AppendUint16(nil, uint16(2+len(body)))...)
			with = append(append(with, body...), file[2:]...)
			o, err := photo.Read(bytes.NewReader(with), e)
			if err != nil {
				t.Errorf("orientation %d: %v", orientation, err)
			} else if o.TurnedOver {
				t.Errorf("orientation %d: turned over, want not", orientation)
			}
			if orientation != 2 {
				break
			}
		}
	}
}

// A small file that declares a large picture is refused before room for it is taken.
func TestDeclaredLargeIsRefusedInNoRoom(t *testing.T) {
	jpeg := func(width, height uint16) []byte {
		file := phototest.View{JPEG: 70}.Encode(image.NewGray(image.Rect(0, 0, 16, 16)))
		i := bytes.Index(file, []byte{0xFF, 0xC0})
		binary.BigEndian.PutUint16(file[i+5:], height)
		binary.BigEndian.PutUint16(file[i+7:], width)
		return file
	}
	e := photo.Expect{Steps: phototest.Steps("3 90 7"), WireMM: 0.4}
	for name, test := range map[string]struct {
		data []byte
		want photo.Reason
	}{
		"PNG, 60000 × 60000":          {pngHead(60000, 60000, 8, 0), photo.TooLarge},
		"PNG, 7000 × 7000, no pixels": {pngHead(7000, 7000, 8, 0), photo.NoPicture},
		"PNG, 16 bits":                {append(pngHead(7900, 7900, 16, 6), make([]byte, 1<<20)...), photo.TooLarge},
		"JPEG, 60000 × 60000":         {jpeg(60000, 60000), photo.TooLarge},
		"JPEG, 8000 × 8000":           {jpeg(8000, 8000), photo.NoPicture},
	} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, err := photo.Read(bytes.NewReader(test.data), e)
		runtime.ReadMemStats(&after)
		var refused *photo.PictureError
		if !errors.As(err, &refused) || refused.Reason != test.want {
			t.Errorf("%s: %v, want %q", name, err, test.want)
		}
		if mb := (after.TotalAlloc - before.TotalAlloc) >> 20; mb > 16 {
			t.Errorf("%s: %d MB were taken", name, mb)
		}
	}
}
