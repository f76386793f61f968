package photo_test

import (
	"math"
	"testing"

	"springwright/design/photo"
	"springwright/design/photo/phototest"

	"gonum.org/v1/gonum/spatial/r2"
)

// The card is where the camera has it, all over, to a small part of what lengths are wanted to.
func TestCardIsFoundInThePicture(t *testing.T) {
	plain := phototest.View{Width: 2000, Height: 1400, Fill: 0.85, DistanceMM: 200, Paper: 225, Ink: 40, NoiseSD: 2, BlurPx: 0.8, Seed: 1}
	card := phototest.Card(cardPxPerMM)
	for name, change := range map[string]func(v *phototest.View){
		"plain":         func(*phototest.View) {},
		"upside down":   func(v *phototest.View) { v.RollRad = math.Pi },
		"tilted by 30°": func(v *phototest.View) { v.TiltRad, v.TowardsRad, v.RollRad, v.Fill = 30*degree, 0.7, 2.1, 0.58 },
		"lens":          func(v *phototest.View) { v.Lens, v.TiltRad = 0.03, 0.2 },
		"JPEG and blur": func(v *phototest.View) { v.JPEG, v.BlurPx, v.NoiseSD = 70, 2, 5 },
		"uneven light": func(v *phototest.View) {
			v.HandShare, v.HandAt, v.HandSoftPx, v.Light = 0.5, 0.3, 20, r2.Vec{X: 0.5, Y: -0.3}
		},
		"small, in a corner": func(v *phototest.View) { v.Fill, v.ShiftPx = 0.5, r2.Vec{X: 200, Y: -250} },
	} {
		v := plain
		change(&v)
		seen, err := photo.CardIn(v.Encode(phototest.Picture(card, phototest.Thing{}, v)))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		most, to := 0.0, v.ToCard()
		for x := 0.0; x < float64(v.Width); x += 20 {
			for y := 0.0; y < float64(v.Height); y += 20 {
				q := to(x, y)
				if q.X > 0 && q.Y > 0 && q.X < photo.CardWidthMM && q.Y < photo.CardHeightMM {
					most = math.Max(most, r2.Norm(r2.Sub(seen(r2.Vec{X: x, Y: y}), q)))
				}
			}
		}
		t.Logf("%s: off by up to %.4f mm", name, most)
		// A third of a pixel of the coarsest of these pictures.
		if !(most < 0.03) {
			t.Errorf("%s: off by up to %.4f mm, want less than 0.03", name, most)
		}
	}
}
