package photo_test

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"springwright/design/photo"
	"springwright/design/photo/phototest"
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r2"
)

const degree = math.Pi / 180

func steps(text string) spring.Steps {
	var s spring.Steps
	for i, word := range strings.Fields(text) {
		var v, r float64 = 0, 0.9659
		if i%2 == 0 {
			fmt.Sscan(word, &v)
			if v > 0 {
				s = append(s, spring.StraightStep(v))
			}
			continue
		}
		if a, b, ok := strings.Cut(word, "@"); ok {
			word = a
			fmt.Sscan(b, &r)
		}
		fmt.Sscan(word, &v)
		s = append(s, spring.BendStep(v*degree, r))
	}
	return s
}

// kinds are springs of several families, straights in mm and bends in degrees in turn.
var kinds = map[string]string{
	"rectangular": "1.5 27 4 73 4.5 -103 8.5 -83 7.5 -130 1 36 1",
	"t":           "1.5 -20 6 110 7 90 2.5 -180 8.5 -180 1 90 2 134 1 16 5",
	"l":           "1 27 3.5 45 5 -90 6 -180@2.2159 3 90 1 134 1.5 -30 1",
	"vertical":    "2 98 7.5 -180 7 85 2",
	"cantilever":  "11.5 -8 5.5 10 3.5",
	"step":        "4 109 1 -90 6.5 -90 1 90 14",
}

var (
	pictures = flag.Int("pictures", 24, "how many pictures are made and read")
	keep     = flag.String("keep", "", "folder for pictures that are read badly")
	only     = flag.Int("only", -1, "one picture")
)

type trial struct {
	bent    phototest.Bent
	nominal spring.Steps
	over    bool
	thing   phototest.Thing
	view    phototest.View
	name    string
}

func randomTrial(i int, card phototest.Layer, big bool) (trial, bool) {
	source := rand.New(rand.NewPCG(uint64(i), 3))
	uniform := func(a, b float64) float64 { return a + (b-a)*source.Float64() }
	names := slices.Sorted(func(yield func(string) bool) {
		for k := range kinds {
			if !yield(k) {
				return
			}
		}
	})
	t := trial{name: names[source.IntN(len(names))]}
	t.nominal = steps(kinds[t.name])
	t.bent.Steps = slices.Clone(t.nominal)
	for k := range t.bent.Steps {
		s := &t.bent.Steps[k]
		if s.Kind == spring.Straight {
			s.LengthMM = math.Max(0.6, s.LengthMM+0.3*source.NormFloat64())
		} else {
			s.AngleRad += 3 * degree * source.NormFloat64()
		}
	}
	t.bent.LegsMM = [2]float64{uniform(3, 8), uniform(1, 6)}
	t.over = source.IntN(2) == 1
	middle, ok := t.bent.Laid(source, t.over, 1.2)
	if !ok {
		return t, false
	}
	const wireMM = 0.4318
	t.thing.Wire = phototest.NewLayer(card.PxPerMM)
	t.thing.Wire.Line(middle, wireMM)
	t.thing.WireTone = uniform(30, 110)
	t.name += fmt.Sprintf(" tone%.0f", t.thing.WireTone)
	if source.IntN(5) == 0 {
		t.thing.WireTone = uniform(140, 175)
		t.name += " light"
	}
	if source.IntN(3) == 0 {
		t.thing.Glare = phototest.NewLayer(card.PxPerMM)
		t.thing.Glare.Line(middle, wireMM*uniform(0.15, 0.45))
		t.thing.GlareTone = uniform(170, 250)
		t.name += " glare"
	}
	if source.IntN(3) == 0 {
		sin, cos := math.Sincos(uniform(0, 2*math.Pi))
		t.thing.ShadowMM = r2.Scale(uniform(0.1, 0.4), r2.Vec{X: cos, Y: sin})
		t.thing.ShadowShare, t.thing.ShadowSoft = uniform(0.1, 0.4), uniform(0.1, 0.5)
		t.name += " shadow"
	}
	v := phototest.View{Width: 2800, Height: 2100, Fill: uniform(0.62, 0.85), DistanceMM: uniform(110, 300), Seed: uint64(i)}
	if big {
		v.Width, v.Height = 4000, 3000
	}
	v.TiltRad, v.TowardsRad, v.RollRad = uniform(0, 30)*degree, uniform(0, 2*math.Pi), uniform(-10, 10)*degree+float64(source.IntN(2))*math.Pi
	v.BlurPx, v.NoiseSD = uniform(0.5, 2), uniform(0.5, 5)
	if big {
		v.BlurPx *= 2
	}
	v.Paper, v.Ink = uniform(180, 240), uniform(15, 70)
	v.Light = r2.Vec{X: uniform(-0.6, 0.6), Y: uniform(-0.6, 0.6)}
	v.Lens = uniform(-0.02, 0.02)
	if source.IntN(3) == 0 {
		v.HandShare, v.HandAt, v.HandSoftPx = uniform(0.1, 0.5), uniform(0.1, 0.9), uniform(3, 60)
		t.name += " hand"
	}
	if source.IntN(2) == 0 {
		v.JPEG = 70
	}
	t.view = v
	return t, true
}

func TestRead(t *testing.T) {
	card := phototest.Card(28)
	var angles, lengths, zAngles, zLengths []float64
	refused := map[string]int{}
	wrong := 0
	for i := range *pictures {
		if *only >= 0 && i != *only {
			continue
		}
		tr, ok := randomTrial(i, card, false)
		if !ok {
			continue
		}
		picture := phototest.Picture(card, tr.thing, tr.view)
		data := tr.view.Encode(picture)
		start := time.Now()
		o, err := photo.Read(bytes.NewReader(data), photo.Expect{Steps: tr.nominal, WireMM: 0.4318})
		took := time.Since(start)
		save := func() {
			if *keep != "" {
				os.WriteFile(fmt.Sprintf("%s/%d.png", *keep, i), phototest.View{}.Encode(picture), 0o644)
			}
		}
		if err != nil {
			var p *photo.PictureError
			errors.As(err, &p)
			refused[p.Reason.String()]++
			t.Logf("%d %s: %v (%v)", i, tr.name, err, took)
			save()
			continue
		}
		worstA, worstL := 0.0, 0.0
		for _, b := range o.Bends {
			d := (b.AngleRad - tr.bent.Steps[b.Step].AngleRad) / degree
			angles = append(angles, math.Abs(d))
			zAngles = append(zAngles, d/(b.SERad/degree))
			worstA = math.Max(worstA, math.Abs(d))
		}
		for _, s := range o.Straights {
			if s.Leg || s.Step < 0 {
				continue
			}
			d := s.LengthMM - tr.bent.Steps[s.Step].LengthMM
			lengths = append(lengths, math.Abs(d))
			zLengths = append(zLengths, d/s.SEMM)
			worstL = math.Max(worstL, math.Abs(d))
		}
		if o.TurnedOver != tr.over {
			wrong++
			t.Errorf("%d %s: face", i, tr.name)
		}
		mark := ""
		if worstA > 0.4 || worstL > 0.08 || *only >= 0 {
			mark = "****"
			save()
		}
		t.Logf("%d %s: worst %.2f° %.3f mm, scatter %.3f width %.3f ppm %.0f lost %v %s (%v)", i, tr.name, worstA, worstL, o.ScatterMM, o.WireMM, o.PxPerMM, o.Notes, mark, took)
	}
	report := func(name string, v, z []float64) {
		if len(v) == 0 {
			return
		}
		slices.Sort(v)
		rms := 0.0
		for i := range z {
			z[i] = math.Abs(z[i])
			rms += z[i] * z[i]
		}
		slices.Sort(z)
		t.Logf("%s: median %.3f, 95 %% %.3f, worst %.3f of %d; z rms %.2f, median %.2f, 95%% %.2f", name, v[len(v)/2], v[len(v)*95/100], v[len(v)-1], len(v), math.Sqrt(rms/float64(len(z))), z[len(z)/2], z[len(z)*95/100])
	}
	report("angles", angles, zAngles)
	report("lengths", lengths, zLengths)
	t.Logf("refused %v, wrong %d", refused, wrong)
}
