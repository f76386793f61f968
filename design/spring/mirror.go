package spring

import (
	"slices"

	"springwright/design/beam"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// Mirrored returns the spring for the same teeth on the other side of the mouth. x and z
// stay what they are there; y, which is z × x, changes between cheek and tongue. So the
// twin is the image behind a mirror across y: what turns about y stays, all else that
// leaves the plane seen from the cheek changes its sign.
func (s Spring) Mirrored() Spring {
	if s.Teeth != (tooth.Pair{}) {
		s.Teeth = s.Teeth.Mirrored()
	}
	s.Path = s.Path.Mirrored()
	s.Start, s.End = s.Start.mirrored(), s.End.mirrored()
	if s.Shortfall != nil {
		twin := s.Shortfall.Mirrored()
		s.Shortfall = &twin
	}
	return s
}

// OneSided tells whether the spring differs from its twin for the other side: its wire or its
// seats leave the plane seen from the cheek. Such a spring, taken for the wrong side, pushes
// and turns the teeth the wrong way across the arch.
func (s Spring) OneSided() bool {
	twin := s.Mirrored()
	return !slices.Equal(s.Path.steps, twin.Path.steps) || s.Start != twin.Start || s.End != twin.End
}

// Mirrored returns the path with its first-order bends and its twists the other way.
func (p Path) Mirrored() Path { return Path{p.steps.Mirrored()} }

// Mirrored returns the steps with first-order bends and twists the other way.
func (s Steps) Mirrored() Steps {
	twin := slices.Clone(s)
	for i, step := range twin {
		if step.Chiral() {
			twin[i].AngleRad = 0 - step.AngleRad // 0 stays 0, not −0
		}
	}
	return twin
}

// Chiral tells whether the step's angle changes its sign in the mirror.
func (s Step) Chiral() bool { return s.Kind == Twist || s.Kind == Bend && s.Order == 1 }

// mirrored is the seat in the mirror across y.
func (s Seat) mirrored() Seat {
	s.AtMM.Y = -s.AtMM.Y
	s.Rotation.X, s.Rotation.Z = -s.Rotation.X, -s.Rotation.Z
	return s
}

// Mirrored is how the wire of a spring that is its own image may lie as well as it does.
func (p Position) Mirrored() OtherRest {
	return OtherRest{
		Active: p.Active.Mirrored(), Anchor: p.Anchor.Mirrored(), StressRatio: p.StressRatio,
		Play: PlayState{Active: p.Play.Active.Mirrored(), Anchor: p.Play.Anchor.Mirrored(), SlidMM: p.Play.SlidMM},
	}
}

// Mirrored is the state in the mirror across y.
func (s SlotState) Mirrored() SlotState {
	s.ThirdOrder, s.FirstOrder = s.ThirdOrder.Mirrored(), s.FirstOrder.Mirrored()
	s.TurnRad.X, s.TurnRad.Z = -s.TurnRad.X, -s.TurnRad.Z
	s.ShiftMM.Y = -s.ShiftMM.Y
	return s
}

// Mirrored is the wall that the wire lies at in the mirror across y, of a turn that changes its sign there.
func (c Contact) Mirrored() Contact {
	switch c {
	case PlusWall:
		return MinusWall
	case MinusWall:
		return PlusWall
	default:
		return c
	}
}

// MirroredPose is a pose of the wire as its twin has it: the frame stays right-handed.
func MirroredPose(p beam.Pose) beam.Pose {
	flip := func(v r3.Vec) r3.Vec { return r3.Vec{X: v.X, Y: -v.Y, Z: v.Z} }
	return beam.Pose{At: flip(p.At), D1: flip(p.D1), D2: r3.Scale(-1, flip(p.D2)), D3: flip(p.D3)}
}

// MirroredTurn is a turn or a couple in the mirror across y.
func MirroredTurn(v r3.Vec) r3.Vec { return r3.Vec{X: 0 - v.X, Y: v.Y, Z: 0 - v.Z} }

// Mirrored is the pattern of the mirrored springs.
func (p Pattern) Mirrored() Pattern {
	p.Steps = p.Steps.Mirrored()
	p.Freedoms = append([]Freedom(nil), p.Freedoms...)
	for i, f := range p.Freedoms {
		if f.Angle && p.Steps[f.Step].Chiral() {
			p.Freedoms[i].Min, p.Freedoms[i].Max, p.Freedoms[i].Neutral = 0-f.Max, 0-f.Min, 0-f.Neutral
		}
	}
	return p
}

// MirroredValues are those of the pattern's freedoms in a mirrored spring.
func (p Pattern) MirroredValues(values []float64) []float64 {
	twin := append([]float64(nil), values...)
	for i, f := range p.Freedoms {
		if f.Angle && p.Steps[f.Step].Chiral() {
			twin[i] = 0 - values[i] // 0 stays 0, not −0
		}
	}
	return twin
}
