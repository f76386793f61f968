package photo_test

import (
	"bytes"
	"math"
	"testing"

	"springwright/design/photo"
	"springwright/design/photo/phototest"
)

const degree = math.Pi / 180

// cardPxPerMM is about 700 dots to the inch.
const cardPxPerMM = 28

// A few springs as random hands bend them, in pictures with all that spoils one. The sheet itself,
// printed by other programs, is read in package export, where most pictures are.
func TestRandomSpringsAreRead(t *testing.T) {
	card := phototest.Card(cardPxPerMM)
	number := 6
	if testing.Short() {
		number = 2
	}
	for i := range number {
		trial := phototest.Random(i, 2400)
		trial.Draw(card, nil)
		picture := trial.View.Encode(phototest.Picture(card, trial.Thing, trial.View))
		o, err := photo.Read(bytes.NewReader(picture), trial.Expect())
		if err != nil {
			t.Errorf("picture %d, %s with %q: %v", i, trial.Name, trial.Spoilt, err)
			continue
		}
		if o.TurnedOver != trial.Over {
			t.Errorf("picture %d, %s: turned over %t, want %t", i, trial.Name, o.TurnedOver, trial.Over)
		}
		off := trial.Off(o)
		for k, v := range off.AnglesRad {
			// What is wanted, and more only where the reading itself says so.
			if limit := math.Max(0.4*degree, 3*off.AnglesSE[k]); math.Abs(v) > limit {
				t.Errorf("picture %d, %s with %q: bend %d is off by %.2f°, its standard error is %.2f°", i, trial.Name, trial.Spoilt, k+1, v/degree, off.AnglesSE[k]/degree)
			}
		}
		for k, v := range off.LengthsMM {
			if limit := math.Max(0.08, 3*off.LengthsSE[k]); math.Abs(v) > limit {
				t.Errorf("picture %d, %s with %q: straight %d is off by %.3f mm, its standard error is %.3f mm", i, trial.Name, trial.Spoilt, k+1, v, off.LengthsSE[k])
			}
		}
	}
}
