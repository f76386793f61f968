package photo

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	_ "image/jpeg" // decoders of the pictures that are read
	_ "image/png"
	"io"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Bounds of a picture, choices: the largest telephone sensors give 200 million pixels but save
// 50 or fewer; at less than 400 pixels a wire on the card would be narrower than two.
const (
	mostPixels = 64_000_000
	leastSide  = 400
	mostBytes  = 96 << 20
	// mostDecodedMB lets 64 million pixels of 8 bits for each colour through.
	mostDecodedMB = 256
)

// grey is a picture's brightness, 0 to 255.
type grey struct {
	pix           []uint8
	width, height int
}

// decode reads a PNG or JPEG picture, whose size it knows before it takes it apart.
func decode(r io.Reader) (*grey, error) {
	data, err := io.ReadAll(io.LimitReader(r, mostBytes+1))
	if err != nil {
		return nil, fmt.Errorf("reading the picture: %w", err)
	}
	if len(data) > mostBytes {
		return nil, &PictureError{Reason: TooLarge, Detail: fmt.Sprintf("more than %d MB", mostBytes>>20)}
	}
	config, format, err := image.DecodeConfig(bytes.NewReader(data))
	switch {
	case errors.Is(err, image.ErrFormat):
		return nil, &PictureError{Reason: NoPicture} // says so already
	case err != nil:
		return nil, &PictureError{Reason: NoPicture, Detail: err.Error()}
	}
	size := fmt.Sprintf("%d × %d pixels", config.Width, config.Height)
	if config.Width <= 0 || config.Height <= 0 || config.Width > mostPixels/config.Height {
		return nil, &PictureError{Reason: TooLarge, Detail: size}
	}
	if min(config.Width, config.Height) < leastSide {
		return nil, &PictureError{Reason: TooSmall, Detail: size}
	}
	pixels := config.Width * config.Height
	if mb := pixels * decodedBytes(config.ColorModel) >> 20; mb > mostDecodedMB {
		return nil, &PictureError{Reason: TooLarge, Detail: fmt.Sprintf("%s of %d bytes each: save it with 8 bits for each colour", size, decodedBytes(config.ColorModel))}
	}
	if len(data) < leastFileBytes(format, pixels) { // before room for so many pixels is taken
		return nil, &PictureError{Reason: NoPicture, Detail: fmt.Sprintf("%d bytes are too few for %s: the file is cut short", len(data), size)}
	}
	picture, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, &PictureError{Reason: NoPicture, Detail: err.Error()}
	}
	g := greyOf(picture)
	if storedMirrored(data) {
		g.mirror()
	}
	return g, nil
}

// decodedBytes is what a pixel takes when it is decoded.
func decodedBytes(m color.Model) int {
	switch m {
	case color.GrayModel:
		return 1
	case color.Gray16Model:
		return 2
	case color.YCbCrModel:
		return 3
	case color.RGBAModel, color.NRGBAModel, color.CMYKModel:
		return 4
	case color.RGBA64Model, color.NRGBA64Model:
		return 8
	}
	return 1 // of a palette
}

// leastFileBytes is less than any whole file of so many pixels has.
func leastFileBytes(format string, pixels int) int {
	if format == "png" {
		// A bit for each pixel, and deflate makes 258 bytes of two bits at the best (RFC 1951).
		return pixels / 8 / 1032
	}
	return pixels / 64 / 8 // at least one bit for each block of 8 × 8 pixels (ITU-T T.81)
}

// greyOf is the brightness of a picture; what is see-through lies on white.
func greyOf(picture image.Image) *grey {
	b := picture.Bounds()
	g := &grey{pix: make([]uint8, b.Dx()*b.Dy()), width: b.Dx(), height: b.Dy()}
	row := func(y int) []uint8 { return g.pix[y*g.width : (y+1)*g.width] }
	switch p := picture.(type) {
	case *image.Gray:
		for y := range g.height {
			copy(row(y), p.Pix[y*p.Stride:])
		}
	case *image.YCbCr:
		for y := range g.height {
			copy(row(y), p.Y[y*p.YStride:])
		}
	case *image.RGBA:
		for y := range g.height {
			fromFour(row(y), p.Pix[y*p.Stride:], true)
		}
	case *image.NRGBA:
		for y := range g.height {
			fromFour(row(y), p.Pix[y*p.Stride:], false)
		}
	default:
		for y := range g.height {
			for x, line := 0, row(y); x < g.width; x++ {
				red, green, blue, alpha := picture.At(b.Min.X+x, b.Min.Y+y).RGBA()
				paper := 0xFFFF - alpha
				line[x] = color.GrayModel.Convert(color.RGBA64{R: uint16(red + paper), G: uint16(green + paper), B: uint16(blue + paper), A: 0xFFFF}).(color.Gray).Y
			}
		}
	}
	return g
}

// fromFour turns pixels of red, green, blue and alpha into brightness, with the weights of
// JPEG (ITU-R BT.601).
func fromFour(line, pix []uint8, premultiplied bool) {
	for x := range line {
		q := pix[4*x : 4*x+4 : 4*x+4]
		y := (19595*uint32(q[0]) + 38470*uint32(q[1]) + 7471*uint32(q[2]) + 1<<15) >> 16
		if alpha := uint32(q[3]); alpha < 255 {
			if !premultiplied {
				y = y * alpha / 255
			}
			y += 255 - alpha
		}
		line[x] = uint8(min(y, 255))
	}
}

// at is the brightness at a point, between the middles of pixels; false outside.
func (g *grey) at(p r2.Vec) (float64, bool) {
	x, y := p.X-0.5, p.Y-0.5
	if !(x >= 0 && y >= 0 && x < float64(g.width-1) && y < float64(g.height-1)) {
		return 0, false
	}
	i, j := int(x), int(y)
	u, v := x-float64(i), y-float64(j)
	q := g.pix[j*g.width+i:]
	low := float64(q[0])*(1-u) + float64(q[1])*u
	high := float64(q[g.width])*(1-u) + float64(q[g.width+1])*u
	return low*(1-v) + high*v, true
}

// shrunk is the picture with squares of by × by pixels averaged to one.
func (g *grey) shrunk(by int) *grey {
	if by <= 1 {
		return g
	}
	s := &grey{width: g.width / by, height: g.height / by}
	s.pix = make([]uint8, s.width*s.height)
	sums := make([]uint32, s.width)
	for y := range s.height {
		clear(sums)
		for k := range by {
			line := g.pix[(y*by+k)*g.width:]
			for x := range sums {
				var sum uint32
				for _, v := range line[x*by : (x+1)*by] {
					sum += uint32(v)
				}
				sums[x] += sum
			}
		}
		for x, sum := range sums {
			s.pix[y*s.width+x] = uint8(sum / uint32(by*by))
		}
	}
	return s
}

func finite(vs ...float64) bool {
	for _, v := range vs {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}
