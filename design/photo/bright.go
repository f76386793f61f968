package photo

import (
	"errors"
	"fmt"
	"slices"
)

const (
	brightShare = 1.05 // of the paper about it: brighter is no paper
	brightMM    = 2.5  // of wire so bright: less is a gleam
	aboutMM     = 6.0  // about a place, that its paper is known from
)

// brightness gives the reason of a picture that is not read because its wire is brighter than the paper,
// where that is so: then all that is looked for, which is dark, is not the wire.
func (f *field) brightness(err error, wireMM float64) error {
	var refused *PictureError
	if !errors.As(err, &refused) {
		return err
	}
	switch refused.Reason {
	case NoWire, SeveralWires, Tangled, CrossesItself, NotFlat, OtherSpring, OtherWire, Unclear, Shaded:
	default: // what it does not explain
		return err
	}
	if mm := f.brightWireMM(wireMM); mm > brightMM {
		return &PictureError{Reason: Bright, Detail: fmt.Sprintf("along %.0f mm or more", mm)}
	}
	return err
}

// brightWireMM is how much of a wire of a width is brighter than the paper: what is so and narrow. The rim of
// light that a sharpened picture has about what is dark is narrower, and the edge of a shadow is not narrow.
func (f *field) brightWireMM(wireMM float64) float64 {
	small := f.shrunk(max(1, f.width/f.coarse.width))
	opened := small
	opened.pix = slices.Clone(small.pix)
	negate := func() {
		for i := range opened.pix {
			opened.pix[i] = -opened.pix[i]
		}
	}
	half := max(1, int(paperWindowMM*small.pxPerMM/2))
	negate()
	box(&opened, half, sliding(nil))
	negate()
	box(&opened, half, sliding(nil))
	paper := f.paper
	paper.pix = slices.Clone(f.paper.pix)
	box(&paper, int(aboutMM*small.pxPerMM/2), sliding(mean32))
	// Thinner things than half of a wire are rims.
	core := small
	core.pix = slices.Clone(small.pix)
	rim := max(1, int(wireMM*small.pxPerMM/4))
	for i := range core.pix {
		core.pix[i] = -core.pix[i]
	}
	box(&core, rim, sliding(nil))
	count := 0
	for i := range small.pix {
		if v := -core.pix[i]; v > brightShare*max(1, opened.pix[i], paper.pix[i]) && f.inField(i%small.width, i/small.width) {
			count++
		}
	}
	wide := float64(max(1, int(wireMM*small.pxPerMM)-2*rim)) // pixels of what is left of it
	return float64(count) / wide / small.pxPerMM
}
