package photo_test

import (
	"bytes"
	"math"
	"slices"
	"testing"

	"springwright/design/photo"
	"springwright/design/photo/phototest"

	"gonum.org/v1/gonum/spatial/r2"
)

// Where a shadow lies along the wire, a bend of few degrees is not known to a place along it: the straights
// beside it are told with as much doubt as they are off by, and are left to be measured by hand.
func TestStraightsBesideASmallBend(t *testing.T) {
	l := plainLaid()
	l.steps, l.shadow, l.shadowShare, l.wireTone, l.view.BlurPx = "4 60 5 -7 3 75 1.2 -90 3", r2.Vec{X: 0.2, Y: -0.1}, 0.45, 110, 1.2
	l.expect = func(e *photo.Expect) { e.HeightMM = 0.56 }
	o, err := l.read()
	if err != nil {
		t.Fatal(err)
	}
	drawn := phototest.Steps(l.steps)
	for i, s := range o.Straights {
		if off := math.Abs(s.LengthMM - drawn[s.Step].LengthMM); !s.Leg && off > math.Max(0.08, 3*s.SEMM) {
			t.Errorf("straight %d is off by %.3f mm, its standard error is %.3f mm", i+1, off, s.SEMM)
		}
		if s.ByHand != (i == 1 || i == 2) {
			t.Errorf("straight %d by hand: %t, standard error %.2f mm", i+1, s.ByHand, s.SEMM)
		}
	}
	if !slices.ContainsFunc(o.Notes, func(n photo.Note) bool {
		return n.Kind == photo.StraightsByHand && slices.Equal(n.Values, []float64{1, 2})
	}) {
		t.Errorf("notes %v, want that the straights behind bends 1 and 2 are measured by hand", o.Notes)
	}
}

// A light wire, blurred and with what JPEG leaves of it, is smoothed as wide as it is blurred.
func TestLightWireBlurredInAJPEG(t *testing.T) {
	trial := phototest.Random(35, 2400)
	trial.Draw(refusalCard(), nil)
	picture := trial.View.Encode(phototest.Picture(refusalCard(), trial.Thing, trial.View))
	o, err := photo.Read(bytes.NewReader(picture), trial.Expect())
	if err != nil {
		t.Fatal(err)
	}
	off := trial.Off(o)
	for k, v := range off.AnglesRad {
		if math.Abs(v) > degree {
			t.Errorf("bend %d is off by %.2f°, want at most 1°", k+1, v/degree)
		}
	}
}
