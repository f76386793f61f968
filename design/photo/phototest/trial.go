package phototest

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"springwright/design/photo"
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r2"
)

const degree = math.Pi / 180

// WireMM is the thickness of the wire of all trials, 0.017 in.
const WireMM = 0.4318

// kinds are springs of several families, straights in mm and bends in degrees in turn, a radius
// behind @ where it is not that of usual pliers.
var kinds = [...]struct{ Name, Steps string }{
	{"rectangular loop", "1.5 27 4 73 4.5 -103 8.5 -83 7.5 -130 1 36 1"},
	{"T-loop", "1.5 -20 6 110 7 90 2.5 -180 8.5 -180 1 90 2 134 1 16 5"},
	{"L-loop", "1 27 3.5 45 5 -90 6 -180@2.2159 3 90 1 134 1.5 -30 1"},
	{"vertical loop", "2 98 7.5 -180 7 85 2"},
	{"cantilever", "11.5 -8 5.5 10 3.5"},
	{"step", "4 109 1 -90 6.5 -90 1 90 14"},
}

// Steps reads a spring such as "2 98 7.5 -180@1.2 7": mm and degrees in turn.
func Steps(text string) spring.Steps {
	var steps spring.Steps
	for i, word := range strings.Fields(text) {
		value, radius := 0.0, 0.9659
		if _, err := fmt.Sscanf(word, "%g@%g", &value, &radius); err != nil && value == 0 {
			panic(fmt.Sprintf("%q in the spring %q", word, text))
		}
		if i%2 == 0 {
			steps = append(steps, spring.StraightStep(value))
		} else {
			steps = append(steps, spring.BendStep(value*degree, radius))
		}
	}
	return steps
}

// Trial is a spring as drawn, as it was bent and as a picture was taken of it.
type Trial struct {
	Name    string   // of the kind of spring
	Spoilt  []string // by what
	Drawn   spring.Steps
	Bent    Bent
	Over    bool
	Middle  []r2.Vec // on the card
	Thing   Thing
	View    View
	glareMM float64
}

// Expect is what the reader is told.
func (t *Trial) Expect() photo.Expect {
	return photo.Expect{Steps: t.Drawn, WireMM: WireMM, LegsMM: [2]float64{3, 1}}
}

// Random is a trial of a number, with a picture so many pixels wide. Wire and glare are still to
// be drawn, by Draw.
//
// In one piece: numbers drawn one after the other, in an order that must stay.
func Random(number int, widthPx int) *Trial {
	source := rand.New(rand.NewPCG(uint64(number), 3))
	uniform := func(a, b float64) float64 { return a + (b-a)*source.Float64() }
	one := func(in int) bool { return source.IntN(in) == 0 }
	var t Trial
	for laid := false; !laid; {
		kind := kinds[source.IntN(len(kinds))]
		t = Trial{Name: kind.Name, Drawn: Steps(kind.Steps), Over: one(2)}
		// A hand twice as bad as a skilled one.
		t.Bent.Steps = slices.Clone(t.Drawn)
		for k := range t.Bent.Steps {
			s := &t.Bent.Steps[k]
			if s.Kind == spring.Straight {
				s.LengthMM = math.Max(0.8, s.LengthMM+0.3*source.NormFloat64())
			} else {
				s.AngleRad += 2.5 * degree * source.NormFloat64()
			}
		}
		t.Bent.LegsMM = [2]float64{uniform(3, 8), uniform(1, 6)}
		t.Middle, laid = t.Bent.Laid(source, t.Over, 1.2)
	}
	spoil := func(by string) { t.Spoilt = append(t.Spoilt, by) }
	t.Thing.WireTone = uniform(30, 110)
	if one(5) {
		t.Thing.WireTone = uniform(140, 175)
		spoil("light wire")
	}
	if one(3) {
		t.glareMM = WireMM * uniform(0.15, 0.45)
		t.Thing.GlareTone = uniform(170, 250)
		spoil("glare")
	}
	if one(3) {
		sin, cos := math.Sincos(uniform(0, 2*math.Pi))
		t.Thing.ShadowMM = r2.Scale(uniform(0.1, 0.4), r2.Vec{X: cos, Y: sin})
		t.Thing.ShadowShare, t.Thing.ShadowSoft = uniform(0.1, 0.4), uniform(0.1, 0.5)
		spoil("shadow beside the wire")
	}
	v := View{Width: widthPx, Height: widthPx * 3 / 4, Fill: uniform(0.62, 0.85), DistanceMM: uniform(110, 300), Seed: uint64(number)}
	v.TiltRad, v.TowardsRad, v.RollRad = uniform(0, 30)*degree, uniform(0, 2*math.Pi), uniform(-10, 10)*degree+float64(source.IntN(2))*math.Pi
	if v.TiltRad > 20*degree {
		spoil("tilt over 20°")
	}
	v.BlurPx, v.NoiseSD = uniform(0.5, 2)*float64(widthPx)/2000, uniform(0.5, 5)
	if v.BlurPx > 1.5*float64(widthPx)/2000 {
		spoil("blur")
	}
	if v.NoiseSD > 3.5 {
		spoil("noise")
	}
	v.Paper, v.Ink = uniform(180, 240), uniform(15, 70)
	v.Light = r2.Vec{X: uniform(-0.6, 0.6), Y: uniform(-0.6, 0.6)}
	v.Lens = uniform(-0.02, 0.02)
	if one(3) {
		v.HandShare, v.HandAt, v.HandSoftPx = uniform(0.1, 0.5), uniform(0.1, 0.9), uniform(3, 60)
		spoil("shadow on one side")
	}
	if one(2) {
		v.JPEG = 70
		spoil("JPEG 70")
	}
	t.View = v
	return &t
}

// Draw puts the wire onto the card; wire is nil where it is to be drawn here.
func (t *Trial) Draw(card Layer, wire *Layer) {
	if wire == nil {
		drawn := card.Like()
		drawn.Line(t.Middle, WireMM)
		wire = &drawn
	}
	t.Thing.Wire = *wire
	if t.glareMM > 0 {
		t.Thing.Glare = card.Like()
		t.Thing.Glare.Line(t.Middle, t.glareMM)
	}
}

// Outline is the wire's edge as a polygon.
func (t *Trial) Outline() []r2.Vec {
	var left, right []r2.Vec
	n := len(t.Middle)
	for i, p := range t.Middle {
		var along r2.Vec
		if i > 0 {
			along = r2.Add(along, r2.Unit(r2.Sub(p, t.Middle[i-1])))
		}
		if i < n-1 {
			along = r2.Add(along, r2.Unit(r2.Sub(t.Middle[i+1], p)))
		}
		along = r2.Scale(WireMM/2, r2.Unit(along))
		left = append(left, r2.Add(p, r2.Vec{X: -along.Y, Y: along.X}))
		right = append(right, r2.Sub(p, r2.Vec{X: -along.Y, Y: along.X}))
	}
	slices.Reverse(right)
	return append(left, right...)
}

// Off is by how much a reading is off the spring that was bent.
type Off struct {
	AnglesRad, LengthsMM []float64
	AnglesSE, LengthsSE  []float64 // what the reading says of it
}

// Off compares a reading with the truth.
func (t *Trial) Off(o photo.Outline) (off Off) {
	for _, b := range o.Bends {
		off.AnglesRad = append(off.AnglesRad, b.AngleRad-t.Bent.Steps[b.Step].AngleRad)
		off.AnglesSE = append(off.AnglesSE, b.SERad)
	}
	for _, s := range o.Straights {
		if !s.Leg && s.Step >= 0 {
			off.LengthsMM = append(off.LengthsMM, s.LengthMM-t.Bent.Steps[s.Step].LengthMM)
			off.LengthsSE = append(off.LengthsSE, s.SEMM)
		}
	}
	return off
}
