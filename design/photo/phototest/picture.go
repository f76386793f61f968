package phototest

import (
	"bytes"
	"image"
	"image/jpeg"
	"image/png"
	"math"
	"math/rand/v2"

	"springwright/design/photo"

	"gonum.org/v1/gonum/spatial/r2"
)

// Thing is what lies on the card: the wire, and the glare along it.
type Thing struct {
	Wire  Layer
	Glare Layer // may be empty
	// Tones are brightnesses as they come out in a picture, 0 to 255.
	WireTone, GlareTone float64
	// Shadow falls beside the wire.
	ShadowMM    r2.Vec
	ShadowShare float64 // of the light that it takes, 0 to 1
	ShadowSoft  float64 // mm
}

// View is how a picture is taken.
type View struct {
	Width, Height int
	Fill          float64 // share of the width that the card takes, about
	TiltRad       float64 // of the camera from straight above
	TowardsRad    float64 // which way it is tilted
	RollRad       float64 // about its own axis
	DistanceMM    float64
	ShiftPx       r2.Vec
	Lens          float64 // share by which corners move outwards
	BowMM         float64 // height of a paper that is bent along its length, in the middle
	BlurPx        float64
	NoiseSD       float64 // of 255
	Paper, Ink    float64 // tones
	Light         r2.Vec  // share by which it grows over the picture
	HandShare     float64 // of the light that a shadow over a part of the picture takes
	HandAt        float64 // where across the picture it begins, 0 to 1
	HandSoftPx    float64
	Mirror        bool
	JPEG          int // quality; 0: PNG
	Seed          uint64
}

// linear is the light of a tone; the exponent is about that of sRGB (IEC 61966-2-1).
func linear(tone float64) float64 { return math.Pow(tone/255, 2.2) }

// ToCard is the point of the card that a pixel shows.
func (v View) ToCard() func(x, y float64) r2.Vec {
	sin, cos := math.Sincos(v.TiltRad)
	towardsSin, towardsCos := math.Sincos(v.TowardsRad)
	rollSin, rollCos := math.Sincos(v.RollRad)
	focal := v.Fill * float64(v.Width) * v.DistanceMM / photo.CardWidthMM
	halfDiagonal := math.Hypot(float64(v.Width), float64(v.Height)) / 2
	// The camera looks at the card's middle from DistanceMM away.
	type vec [3]float64
	forward := vec{sin * towardsCos, sin * towardsSin, -cos}
	side := vec{-towardsSin, towardsCos, 0}
	up := vec{side[1]*forward[2] - side[2]*forward[1], side[2]*forward[0] - side[0]*forward[2], side[0]*forward[1] - side[1]*forward[0]}
	eye := vec{-v.DistanceMM * forward[0], -v.DistanceMM * forward[1], -v.DistanceMM * forward[2]}
	// So turned about the axis that the card is upright without roll.
	rotate := func(a, b vec, s, c float64) (vec, vec) {
		var p, q vec
		for i := range p {
			p[i], q[i] = c*a[i]+s*b[i], -s*a[i]+c*b[i]
		}
		return p, q
	}
	// The angle of the card's x axis in the picture is taken out.
	angle := math.Atan2(up[0], side[0])
	right, upward := rotate(side, up, math.Sin(angle), math.Cos(angle))
	right, upward = rotate(right, upward, rollSin, rollCos)
	return func(x, y float64) r2.Vec {
		if v.Mirror {
			x = float64(v.Width) - x
		}
		a := r2.Vec{X: x - float64(v.Width)/2 - v.ShiftPx.X, Y: float64(v.Height)/2 - y + v.ShiftPx.Y}
		if v.Lens != 0 { // seen at u·(1 + lens·|u|²)
			d := r2.Scale(1/halfDiagonal, a)
			u := d
			for range 12 {
				u = r2.Scale(1/(1+v.Lens*r2.Norm2(u)), d)
			}
			a = r2.Scale(halfDiagonal, u)
		}
		var ray vec
		for i := range ray {
			ray[i] = forward[i] + a.X/focal*right[i] + a.Y/focal*upward[i]
		}
		t := -eye[2] / ray[2]
		q := r2.Vec{X: eye[0] + t*ray[0], Y: eye[1] + t*ray[1]}
		for range 4 * min(1, int(math.Ceil(math.Abs(v.BowMM)))) { // where the ray meets the bent paper
			s := q.X / (photo.CardWidthMM / 2)
			t = (v.BowMM*(1-s*s) - eye[2]) / ray[2]
			q = r2.Vec{X: eye[0] + t*ray[0], Y: eye[1] + t*ray[1]}
		}
		return r2.Add(q, r2.Vec{X: photo.CardWidthMM / 2, Y: photo.CardHeightMM / 2})
	}
}

// Picture is what a camera makes of a card with a thing on it.
func Picture(card Layer, thing Thing, v View) *image.Gray {
	light := make([]float32, len(card.Cover))
	paper, ink, wire, glare := linear(v.Paper), linear(v.Ink), linear(thing.WireTone), linear(thing.GlareTone)
	var shadow Layer
	if thing.ShadowShare > 0 {
		shadow = thing.Wire.softened(thing.ShadowSoft)
	}
	dx, dy := int(math.Round(thing.ShadowMM.X*card.PxPerMM)), -int(math.Round(thing.ShadowMM.Y*card.PxPerMM))
	for i, c := range card.Cover {
		l := paper + float64(c)*(ink-paper)
		if shadow.Cover != nil {
			x, y := i%card.Width-dx, i/card.Width-dy
			if x >= 0 && y >= 0 && x < card.Width && y < card.Height {
				l *= 1 - thing.ShadowShare*float64(shadow.Cover[y*card.Width+x])
			}
		}
		if thing.Wire.Cover != nil {
			l += float64(thing.Wire.Cover[i]) * (wire - l)
		}
		if thing.Glare.Cover != nil {
			l += float64(thing.Glare.Cover[i]) * (glare - l)
		}
		light[i] = float32(l)
	}
	return v.take(card, light)
}

func (v View) take(on Layer, light []float32) *image.Gray {
	to := v.ToCard()
	seen := make([]float32, v.Width*v.Height)
	for y := range v.Height {
		for x := range v.Width {
			q := on.px(to(float64(x)+0.5, float64(y)+0.5))
			var l float64
			if u, w := q.X-0.5, q.Y-0.5; u >= 0 && w >= 0 && u < float64(on.Width-1) && w < float64(on.Height-1) {
				i, j := int(u), int(w)
				u, w = u-float64(i), w-float64(j)
				k := j*on.Width + i
				l = (float64(light[k])*(1-u)+float64(light[k+1])*u)*(1-w) + (float64(light[k+on.Width])*(1-u)+float64(light[k+on.Width+1])*u)*w
			} else {
				l = linear(90) // the table
			}
			l *= 1 + v.Light.X*(float64(x)/float64(v.Width)-0.5) + v.Light.Y*(float64(y)/float64(v.Height)-0.5)
			if v.HandShare > 0 {
				edge := v.HandAt*float64(v.Width) + 0.2*float64(y)
				l *= 1 - v.HandShare/(1+math.Exp((edge-float64(x))/math.Max(1, v.HandSoftPx)))
			}
			seen[y*v.Width+x] = float32(l)
		}
	}
	gaussian(seen, v.Width, v.Height, v.BlurPx)
	source := rand.New(rand.NewPCG(v.Seed, 7))
	out := image.NewGray(image.Rect(0, 0, v.Width, v.Height))
	for i, l := range seen {
		tone := 255*math.Pow(math.Max(0, float64(l)), 1/2.2) + v.NoiseSD*source.NormFloat64()
		out.Pix[i] = uint8(math.Min(255, math.Max(0, math.Round(tone))))
	}
	return out
}

// gaussian blurs in place.
func gaussian(pix []float32, width, height int, sd float64) {
	if sd <= 0 {
		return
	}
	half := int(math.Ceil(3 * sd))
	kernel := make([]float32, 2*half+1)
	var sum float32
	for i := range kernel {
		kernel[i] = float32(math.Exp(-float64((i-half)*(i-half)) / (2 * sd * sd)))
		sum += kernel[i]
	}
	for i := range kernel {
		kernel[i] /= sum
	}
	line := make([]float32, max(width, height)+2*half)
	blur := func(start, stride, n int) {
		for i := range n + 2*half {
			line[i] = pix[start+min(n-1, max(0, i-half))*stride]
		}
		for i := range n {
			var v float32
			for k, w := range kernel {
				v += w * line[i+k]
			}
			pix[start+i*stride] = v
		}
	}
	for y := range height {
		blur(y*width, 1, width)
	}
	for x := range width {
		blur(x, width, height)
	}
}

// Encode writes a picture as the view says.
func (v View) Encode(picture image.Image) []byte {
	var b bytes.Buffer
	var err error
	if v.JPEG > 0 {
		err = jpeg.Encode(&b, picture, &jpeg.Options{Quality: v.JPEG})
	} else {
		err = (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(&b, picture)
	}
	if err != nil {
		panic(err) // a buffer takes all that is written
	}
	return b.Bytes()
}
