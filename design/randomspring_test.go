package design

import (
	"math"
	"math/rand/v2"

	"springwright/design/beam"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// randomKind is a kind of random springs that the solver is measured on.
type randomKind struct {
	name string
	draw func(*rand.Rand) Spring
}

// randomKinds are the kinds that are measured, each with a spring drawn by its own numbers.
func randomKinds() []randomKind {
	return []randomKind{
		{"elastic", randomElastic},
		{"play", randomPlaying},
		{"slide", randomSliding},
	}
}

// randomSpringOf draws the n-th spring of a kind: the same whatever was drawn before.
func randomSpringOf(k randomKind, n int) Spring {
	return k.draw(rand.New(rand.NewPCG(uint64(n), 0x5072)))
}

func uniform(r *rand.Rand, low, high float64) float64 { return low + (high-low)*r.Float64() }

func either(r *rand.Rand, size float64) float64 {
	if r.IntN(2) == 0 {
		return -size
	}
	return size
}

func randomVector(r *rand.Rand, size float64) r3.Vec {
	return r3.Scale(size, r3.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()})
}

// randomWire is round in a third of all draws. Sizes and moduli are those of usual alloys.
func randomWire(r *rand.Rand) wire.Wire {
	w := wire.Wire{EMPa: uniform(r, 60e3, 200e3), Poisson: 0.3, YieldMPa: 1000}
	if r.IntN(3) == 0 {
		w.DiameterMM = uniform(r, 0.3, 0.51)
		return w
	}
	w.ThicknessMM = uniform(r, 0.40, 0.46)
	w.WidthMM = uniform(r, 0.46, 0.65)
	return w
}

// randomPath bends one to eight times, a third of it out of the plane, and twists at times.
// It begins and ends with a straight.
func randomPath(r *rand.Rand) Path {
	path := Path{StraightStep(uniform(r, 1.5, 6))}
	for range 1 + r.IntN(8) {
		bend := BendStep(either(r, uniform(r, 0.1, 2)), uniform(r, 0.6, 1.5))
		if r.IntN(3) == 0 {
			bend.Order = 1
		}
		path = append(path, bend)
		if r.IntN(5) == 0 {
			path = append(path, Step{Kind: Twist, AngleRad: either(r, uniform(r, 0.05, 0.8)), LengthMM: uniform(r, 1, 3)})
		}
		path = append(path, StraightStep(uniform(r, 1.5, 8)))
	}
	return path
}

// offPassive puts the first seat a random shift and turn from where the unloaded wire ends,
// and the last one a third of that. A twentieth of the springs each is nearly straight and
// seated too near, so that it bulges, or so far that the wire is drawn nearly straight.
func (s Spring) offPassive(r *rand.Rand) Spring {
	passive := s.passiveSeat()
	shift, turn := randomVector(r, uniform(r, 0.2, 2.5)), randomVector(r, uniform(r, 0.02, 0.3))
	switch r.IntN(20) {
	case 0: // slack
		shift = r3.Scale(-uniform(r, 0.05, 0.4), passive.AtMM)
	case 1: // nearly taut, measured along the line from base to seat
		reach := uniform(r, 0.95, 0.9995) * s.Path.WireLengthMM()
		shift = r3.Sub(r3.Scale(reach, r3.Unit(passive.AtMM)), passive.AtMM)
		turn = r3.Scale(0.3, turn)
	}
	seat := func(share float64) Seat {
		p := Seat{Rotation: passive.Rotation}.Pose(s.Heading).Turned(r3.Scale(share, turn))
		return Seat{
			AtMM:     r3.Add(passive.AtMM, r3.Scale(share, shift)),
			Rotation: beam.RotationBetween(Seat{}.Pose(s.Heading), p),
		}
	}
	s.Start, s.End, s.Positions = seat(1), seat(1.0/3), 2
	return s
}

func randomElastic(r *rand.Rand) Spring {
	s := Spring{
		Path: randomPath(r), Wire: randomWire(r),
		AnchorSlotLengthMM: uniform(r, 2, 5), ActiveSlotLengthMM: uniform(r, 2, 5),
	}
	if r.IntN(10) == 0 { // bends of a few degrees alone
		for i := range s.Path {
			s.Path[i].AngleRad *= 0.05
		}
	}
	return s.offPassive(r)
}

// looseSlot is a slot with up to 0.16 mm of play in height and, in half of the draws, in
// depth as well.
func looseSlot(r *rand.Rand, w wire.Wire) SlotHold {
	h := SlotHold{Play: true, HeightMM: w.HeightMM() + uniform(r, 0.005, 0.16)}
	if r.IntN(2) == 0 {
		h.DepthMM = w.DepthMM() + uniform(r, 0.01, 0.2)
	}
	return h
}

func randomPlaying(r *rand.Rand) Spring {
	s := randomElastic(r)
	switch r.IntN(3) {
	case 0:
		s.AnchorHold = looseSlot(r, s.Wire)
	case 1:
		s.ActiveHold = looseSlot(r, s.Wire)
	default:
		s.AnchorHold, s.ActiveHold = looseSlot(r, s.Wire), looseSlot(r, s.Wire)
	}
	if r.IntN(4) == 0 {
		s.Slide = Slide(1 + r.IntN(2))
	}
	return s
}

func randomSliding(r *rand.Rand) Spring {
	s := randomElastic(r)
	s.Slide = Slide(1 + r.IntN(2))
	return s
}

// chordMM is the distance that the free wire must span to its first seat.
func chordMM(s Spring) float64 { return math.Sqrt(r3.Norm2(s.Start.AtMM)) }
