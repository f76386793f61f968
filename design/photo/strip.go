package photo

import (
	"io"
	"math/bits"

	"gonum.org/v1/gonum/spatial/r2"
)

// Owner is whose card it is, as the strip on a course's card tells a picture's reader: the class, and the student
// by number. The zero value is a card without a strip.
type Owner struct {
	Class   uint16 // of 12 bits
	Student uint8  // from 1
}

// Valid tells whether a strip can say it.
func (o Owner) Valid() bool { return o.Class < 1<<classBits && o.Student > 0 }

// The strip is a row of places in the room for the case's code, each with a black square above or below its middle:
// above is a 1. As it is one beside the other that tells them, shadows and uneven light do no harm. The student's
// number stands first, then the class, then a check of both; the highest bit first.
const (
	studentBits, classBits, checkBits = 8, 12, 6
	stripBits                         = studentBits + classBits + checkBits

	stripFromMM  = 34.0 // between the words on the left and the code on the right
	stripPitchMM = 1.0
	stripLowMM   = 1.2
	stripRowMM   = 1.4 // height of a square; its width is the pitch less what print lets grow together
	stripWideMM  = 0.8
	// checkPolynomial is x⁶ + x + 1 (CRC-6-ITU, ITU-T G.704): it tells every one and two wrong places, and of
	// more 63 of 64.
	checkPolynomial = 0x03
)

// check is the check of a strip's other bits.
func stripCheck(word uint32) uint32 {
	var rest uint32
	for i := studentBits + classBits - 1; i >= 0; i-- {
		top := rest>>(checkBits-1)&1 ^ word>>i&1
		rest = rest << 1 & (1<<checkBits - 1)
		if top == 1 {
			rest ^= checkPolynomial
		}
	}
	// All places above or all below are no strip: a card without one must not pass.
	return rest ^ (1<<checkBits - 1)
}

func (o Owner) word() uint32 {
	word := uint32(o.Student)<<classBits | uint32(o.Class)
	return word<<checkBits | stripCheck(word)
}

// stripSquare is where the upper or lower square of a place is, on the card.
func stripSquare(i int, above bool) r2.Box {
	x, y := stripFromMM+stripPitchMM*float64(i)+(stripPitchMM-stripWideMM)/2, stripLowMM
	if above {
		y += stripRowMM
	}
	return r2.NewBox(x, y, x+stripWideMM, y+stripRowMM)
}

// Strip are the black squares of a card, on the card; none for the zero owner.
func (o Owner) Strip() []r2.Box {
	if !o.Valid() {
		return nil
	}
	var all []r2.Box
	for i := range stripBits {
		all = append(all, stripSquare(i, o.word()>>(stripBits-1-i)&1 == 1))
	}
	return all
}

// leastStripShare is how much darker the black one of two squares is at least than the other, as a share of that:
// ink is a third as bright as paper and less, also where both lie in a shadow; glare and grain are less (choice).
const leastStripShare = 0.25

// ReadOwner reads from a picture whose card it shows. It is the zero Owner where the card has no strip, or one
// that cannot be read; a picture without a card is refused with a PictureError.
func ReadOwner(r io.Reader) (Owner, error) {
	g, err := decode(r)
	if err != nil {
		return Owner{}, err
	}
	marks, err := findMarks(g)
	if err != nil {
		return Owner{}, err
	}
	c, err := cameraOf(g, marks)
	if err != nil {
		return Owner{}, err
	}
	var word uint32
	for i := range stripBits {
		above, below := c.brightness(g, stripSquare(i, true)), c.brightness(g, stripSquare(i, false))
		if max(above, below)-min(above, below) < leastStripShare*max(above, below) {
			return Owner{}, nil
		}
		word <<= 1
		if above < below {
			word |= 1
		}
	}
	o := Owner{Class: uint16(word >> checkBits & (1<<classBits - 1)), Student: uint8(word >> (checkBits + classBits))}
	if !o.Valid() || bits.OnesCount32(o.word()^word) > 0 {
		return Owner{}, nil
	}
	return o, nil
}

// brightness is how bright the middle of a box of the card is in the picture; its edges are left out, as blur runs
// over them.
func (c *camera) brightness(g *grey, box r2.Box) float64 {
	const points, inset = 5, 0.25
	size := r2.Sub(box.Max, box.Min)
	var sum float64
	count := 0.0
	for i := range points {
		for j := range points {
			at := func(k int) float64 { return inset + (1-2*inset)*(float64(k)+0.5)/points }
			if v, ok := g.at(c.picture(r2.Add(box.Min, r2.Vec{X: at(i) * size.X, Y: at(j) * size.Y}))); ok {
				sum, count = sum+v, count+1
			}
		}
	}
	return sum / max(1, count)
}
