package photo_test

import (
	"image"
	"math"
	"os"
	"testing"
	"time"

	"springwright/design/photo"
	"springwright/design/photo/phototest"

	"gonum.org/v1/gonum/spatial/r2"
)

func views() map[string]phototest.View {
	plain := phototest.View{Width: 2000, Height: 1400, Fill: 0.85, DistanceMM: 200, Paper: 225, Ink: 40, NoiseSD: 2, BlurPx: 0.8, Seed: 1}
	all := map[string]phototest.View{"plain": plain}
	add := func(name string, change func(v *phototest.View)) {
		v := plain
		change(&v)
		all[name] = v
	}
	add("tilted", func(v *phototest.View) { v.TiltRad, v.TowardsRad, v.RollRad = 0.5, 0.7, 2.1; v.Fill = 0.5 })
	add("lens", func(v *phototest.View) { v.Lens = 0.03; v.TiltRad = 0.2 })
	add("jpeg", func(v *phototest.View) { v.JPEG, v.BlurPx, v.NoiseSD = 70, 2, 5 })
	add("hand", func(v *phototest.View) {
		v.HandShare, v.HandAt, v.HandSoftPx = 0.5, 0.3, 20
		v.Light = r2.Vec{X: 0.5, Y: -0.3}
	})
	add("small", func(v *phototest.View) { v.Fill = 0.42; v.ShiftPx = r2.Vec{X: 200, Y: -250} })
	add("12mp", func(v *phototest.View) { v.Width, v.Height, v.JPEG = 4000, 3000, 90 })
	return all
}

func TestCard(t *testing.T) {
	card := phototest.Card(24)
	for name, v := range views() {
		pic := phototest.Picture(card, phototest.Thing{}, v)
		data := v.Encode(pic)
		os.WriteFile("/tmp/wph/"+name+".bin", data, 0o644)
		start := time.Now()
		seen, errMM, blur, lens, err := photo.SeenBy(data)
		took := time.Since(start)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		most := 0.0
		to := v.ToCard()
		for x := 0; x < v.Width; x += 20 {
			for y := 0; y < v.Height; y += 20 {
				q := to(float64(x), float64(y))
				if q.X < 0 || q.Y < 0 || q.X > 85.6 || q.Y > 54 {
					continue
				}
				most = math.Max(most, r2.Norm(r2.Sub(seen(r2.Vec{X: float64(x), Y: float64(y)}), q)))
			}
		}
		t.Logf("%s: off %.4f mm, scatter %.4f, blur %.4f, lens %.4f (%v)", name, most, errMM, blur, lens, took)
	}
	_ = image.Rect
}
