package designtest

import (
	"math"

	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// RandomSpring draws an elastic spring as hands bend them, tied into both slots: two to eight bends, some out of the
// plane, twists, square and round wire of usual alloys and sizes, entered from either side. Its active slot stands 0.2
// to 1.5 mm down or up, up to 1.5 mm aside and turned by up to 0.15 rad about each axis from where the wire lies unloaded, and travels two thirds of the way there. What
// shrinks becomes shorter, straighter and less activated.
func RandomSpring() *rapid.Generator[spring.Spring] { return rapid.Custom(drawSpring) }

func drawSpring(t *rapid.T) spring.Spring {
	s := spring.Spring{
		Path: RandomPath().Draw(t, "path"), Wire: drawWire(t),
		AnchorSlotLengthMM: length(t, 0, 5, "anchor slot"), ActiveSlotLengthMM: length(t, 0, 5, "active slot"),
		Heading: rapid.SampledFrom([]spring.Heading{spring.On, spring.Back}).Draw(t, "heading"), Positions: 3,
	}
	end := UnloadedEnd(s.Path)
	shift, turn := drawVector(t, 1.5, "shift"), drawVector(t, 0.15, "turn")
	shift.Z = signed(t, 0.2, 1.5, "shift z")
	seat := func(share float64) spring.Seat {
		pose := end.Turned(r3.Scale(share, turn))
		pose.At = r3.Add(pose.At, r3.Scale(share, shift))
		return spring.SeatOf(pose, s.Heading)
	}
	s.Start, s.End = seat(1), seat(1.0/3)
	if r3.Norm(r3.Sub(s.Start.Rotation, s.End.Rotation)) > math.Pi { // near a half turn the two may be told the opposite way
		s.End.Rotation = s.Start.Rotation
	}
	return s
}

// RandomPath draws a path that begins and ends with a straight.
func RandomPath() *rapid.Generator[spring.Path] {
	return rapid.Custom(func(t *rapid.T) spring.Path {
		steps := spring.Steps{spring.StraightStep(length(t, 3, 6, "first straight"))}
		for range rapid.IntRange(2, 8).Draw(t, "bends") {
			bend := spring.BendStep(signed(t, 0.1, 2, "bend"), length(t, 0.6, 1.5, "radius"))
			if rapid.IntRange(0, 2).Draw(t, "first order") == 2 {
				bend.Order = 1
			}
			steps = append(steps, bend)
			if rapid.IntRange(0, 4).Draw(t, "twisted") == 4 {
				steps = append(steps, spring.Step{Kind: spring.Twist, AngleRad: signed(t, 0.05, 0.8, "twist"), LengthMM: length(t, 1, 3, "twisted length")})
			}
			steps = append(steps, spring.StraightStep(length(t, 3, 8, "straight")))
		}
		return spring.PathOf(steps...)
	})
}

func drawWire(t *rapid.T) wire.Wire {
	w := wire.Wire{EMPa: length(t, 60e3, 200e3, "E"), Poisson: 0.3, YieldMPa: 1000}
	if rapid.Bool().Draw(t, "round") {
		w.DiameterMM = length(t, 0.3, 0.51, "diameter")
		return w
	}
	w.ThicknessMM, w.WidthMM = length(t, 0.40, 0.46, "thickness"), length(t, 0.46, 0.65, "width")
	return w
}

// RandomPose draws a place and a turn in the mouth.
func RandomPose() *rapid.Generator[beam.Pose] {
	return rapid.Custom(func(t *rapid.T) beam.Pose {
		p := beam.Origin().Turned(drawVector(t, math.Pi/2, "turn"))
		p.At = drawVector(t, 40, "place")
		return p
	})
}

func length(t *rapid.T, low, high float64, name string) float64 {
	return rapid.Float64Range(low, high).Draw(t, name)
}

func signed(t *rapid.T, low, high float64, name string) float64 {
	size := length(t, low, high, name)
	if rapid.Bool().Draw(t, name+" the other way") {
		return -size
	}
	return size
}

func drawVector(t *rapid.T, most float64, name string) r3.Vec {
	return r3.Vec{X: length(t, -most, most, name+" x"), Y: length(t, -most, most, name+" y"), Z: length(t, -most, most, name+" z")}
}
