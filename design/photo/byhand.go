package photo

import (
	"fmt"
	"math"
)

const (
	// A quarter beyond what a skilled hand itself errs by, 1.25° and 0.19 mm: from there on the drawing says
	// more of the spring than the reading does, which must not pass for measured.
	mostAngleSE  = 1.5 * math.Pi / 180
	mostLengthSE = 0.25
	mostByHand   = 0.5 // of the numbers: then the picture is none to read
)

// byHand notes what is to be measured by hand as the picture does not tell it well enough, and refuses
// a picture that tells too little.
func (o *Outline) byHand() error {
	var bends, straights []float64
	all := 0
	for i := range o.Bends {
		b := &o.Bends[i]
		all++
		if b.ByHand = b.SERad > mostAngleSE; b.ByHand {
			bends = append(bends, float64(b.Number))
		}
	}
	for i := range o.Straights {
		s := &o.Straights[i]
		if s.Leg || s.Step < 0 {
			continue
		}
		all++
		if s.ByHand = s.SEMM > mostLengthSE; s.ByHand {
			straights = append(straights, float64(i))
		}
	}
	if few := len(bends) + len(straights); float64(few) > mostByHand*float64(all) {
		return &PictureError{Reason: Unclear, Detail: fmt.Sprintf("%d of %d angles and lengths could be told to no better than %.1f° and %.2f mm", few, all, mostAngleSE*180/math.Pi, mostLengthSE)}
	}
	if len(bends) > 0 {
		o.Notes = append(o.Notes, Note{BendsByHand, bends})
	}
	if len(straights) > 0 {
		o.Notes = append(o.Notes, Note{StraightsByHand, straights})
	}
	return nil
}
