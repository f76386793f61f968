package phototest

import (
	"math"
	"math/rand/v2"

	"springwright/design/photo"
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r2"
)

// Bent is a flat spring as it was bent, with the legs that were left.
type Bent struct {
	Steps  spring.Steps
	LegsMM [2]float64 // beyond the first and the last step
}

// Middle is the wire's middle line, from a place and direction on the card; over turns the
// other face up. Chords of arcs lie within 0.0002 mm.
func (b Bent) Middle(at r2.Vec, heading float64, over bool) []r2.Vec {
	sign := 1.0
	if over {
		sign = -1
	}
	points := []r2.Vec{at}
	straight := func(mm float64) {
		if mm > 0 {
			at = r2.Add(at, r2.Scale(mm, r2.Vec{X: math.Cos(heading), Y: math.Sin(heading)}))
			points = append(points, at)
		}
	}
	straight(b.LegsMM[0])
	for _, s := range b.Steps {
		if s.Kind == spring.Straight {
			straight(s.LengthMM)
			continue
		}
		parts := max(2, int(math.Abs(s.AngleRad)/(2*math.Pi/180)))
		middle := r2.Add(at, r2.Scale(math.Copysign(s.RadiusMM, sign*s.AngleRad), r2.Vec{X: -math.Sin(heading), Y: math.Cos(heading)}))
		for range parts {
			turn := sign * s.AngleRad / float64(parts)
			heading += turn
			at = r2.Add(middle, r2.Scale(math.Copysign(s.RadiusMM, sign*s.AngleRad), r2.Vec{X: math.Sin(heading), Y: -math.Cos(heading)}))
			points = append(points, at)
		}
	}
	straight(b.LegsMM[1])
	return points
}

// Laid lays the spring somewhere into the field, turned anyhow; false where it does not fit.
func (b Bent) Laid(source *rand.Rand, over bool, clearMM float64) ([]r2.Vec, bool) {
	for range 200 {
		points := b.Middle(r2.Vec{}, 2*math.Pi*source.Float64(), over)
		low, high := points[0], points[0]
		for _, p := range points {
			low = r2.Vec{X: math.Min(low.X, p.X), Y: math.Min(low.Y, p.Y)}
			high = r2.Vec{X: math.Max(high.X, p.X), Y: math.Max(high.Y, p.Y)}
		}
		room := photo.Field()
		spare := r2.Sub(r2.Sub(room.Max, room.Min), r2.Sub(high, low))
		if spare.X < 2*clearMM || spare.Y < 2*clearMM {
			continue
		}
		shift := r2.Vec{
			X: room.Min.X + clearMM - low.X + source.Float64()*(spare.X-2*clearMM),
			Y: room.Min.Y + clearMM - low.Y + source.Float64()*(spare.Y-2*clearMM),
		}
		free := true
		for i := range points {
			points[i] = r2.Add(points[i], shift)
		}
		for _, p := range points {
			for _, m := range photo.Marks() {
				d := r2.Sub(p, m.Centre())
				free = free && math.Max(math.Abs(d.X), math.Abs(d.Y)) > photo.MarkMM/2+clearMM
			}
		}
		if free {
			return points, true
		}
	}
	return nil, false
}
