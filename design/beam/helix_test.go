package beam_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"springwright/design/beam"
)

// helix is a helix about the z axis that starts at (radius, 0, 0). d2 points to the axis,
// d3 is the binormal.
type helix struct{ turns, radiusMM, pitchRad float64 }

func (h helix) lengthMM() float64 { return 2 * math.Pi * h.turns * h.radiusMM / math.Cos(h.pitchRad) }

func (h helix) heightMM() float64 { return h.lengthMM() * math.Sin(h.pitchRad) }

// curvature returns the twist and the bend.
func (h helix) curvature() (twist, bend float64) {
	sin, cos := math.Sincos(h.pitchRad)
	return sin * cos / h.radiusMM, cos * cos / h.radiusMM
}

// start is the frame at the lower end, and the upper one after whole turns.
func (h helix) start() beam.Pose {
	sin, cos := math.Sincos(h.pitchRad)
	return beam.Pose{
		At: r3.Vec{X: h.radiusMM},
		D1: r3.Vec{Y: cos, Z: sin}, D2: r3.Vec{X: -1}, D3: r3.Vec{Y: -sin, Z: cos},
	}
}

func (h helix) wire(section beam.Section) beam.Rod {
	twist, bend := h.curvature()
	return beam.Rod{Section: section, Pieces: []beam.Piece{
		{LengthMM: h.lengthMM(), Curvature: r3.Vec{X: twist, Z: bend}},
	}}
}

// stretched is the helix of the same wire and turns with its ends dz further apart.
func (h helix) stretched(dzMM float64) helix {
	length := h.lengthMM()
	pitch := math.Asin((h.heightMM() + dzMM) / length)
	return helix{h.turns, length * math.Cos(pitch) / (2 * math.Pi * h.turns), pitch}
}

// springWire is round wire of 0.4 mm, E = 200 GPa, ν = 0.3.
func springWire() beam.Section {
	inf := math.Inf(1)
	return beam.Section{EA: inf, GA2: inf, GA3: inf, GJ: 193.3287787, EI2: 251.3274123, EI3: 251.3274123}
}

func coil() helix { return helix{turns: 3, radiusMM: 1.5, pitchRad: 8 * math.Pi / 180} }

func coilOptions() beam.Options { return beam.Options{StepMM: 10, StepRad: 0.04, Tolerance: 1e-12} }

// A helix whose ends are held in the frames of another helix of the same length stays a
// helix: the strains and the load are then constant on the section frame (Love, A Treatise
// on the Mathematical Theory of Elasticity, 4th ed. 1927, article 271). The closed form is
// written out; its two rows were also found by shooting on the Cosserat equations.
func TestHelixStaysHelix(t *testing.T) {
	section, unloaded := springWire(), coil()
	for _, row := range []struct{ dz, force, couple, bending float64 }{
		{1, 3.05875633, -0.12927805, 4.56238681},
		{5, 16.24007323, 0.57577260, 23.35297246},
	} {
		h := unloaded.stretched(row.dz)
		s := beam.NewSolver(unloaded.wire(section), h.start(), coilOptions())
		end := h.start()
		end.At.Z = h.heightMM()
		mustFollow(t, s, beam.Clamp(end))

		twist0, bend0 := unloaded.curvature()
		twist, bend := h.curvature()
		torsion, bending := section.GJ*(twist-twist0), section.EI3*(bend-bend0)
		sin, cos := math.Sincos(h.pitchRad)
		force := (torsion*cos - bending*sin) / h.radiusMM
		couple := torsion*sin + bending*cos
		near(t, "closed-form force", force, row.force, 1e-7)
		near(t, "closed-form couple", couple, row.couple, 1e-7)

		// The load acts along the axis; the start lies a radius beside it.
		nearWrench(t, "base load", s.BaseLoad(), beam.Wrench{
			ForceN:    r3.Vec{Z: -force},
			MomentNMM: r3.Vec{Y: -row.bending, Z: -couple},
		}, 1e-6)
		nearVec(t, "end force", s.EndLoad().ForceN, r3.Vec{Z: force}, 1e-6)
	}
}

// coilMotion returns how a small wrench on the axis moves the upper end of the coil along
// the axis and about it, by a unit of the wrench. The lower end is clamped.
func coilMotion(t *testing.T, forceN, coupleNMM float64) (rise, turn float64) {
	t.Helper()
	h := coil()
	rod := h.wire(springWire())
	top := rod.UnloadedEnd(h.start())
	for _, share := range []float64{-3e-3, 3e-3} {
		s := beam.NewSolver(rod, h.start(), coilOptions())
		mustFollow(t, s, beam.Hang(beam.Wrench{
			ForceN:    r3.Vec{Z: share * forceN},
			MomentNMM: r3.Vec{Y: share * forceN * h.radiusMM, Z: share * coupleNMM},
		}))
		end := s.End()
		turned := beam.RotationBetween(top, end)
		// The rise of the point on the axis that the end carries with it.
		rise += (end.At.Z - top.At.Z + turned.Y*h.radiusMM) / (2 * share)
		turn += turned.Z / (2 * share)
	}
	return rise, turn
}

// Small loads on a coil: the compliance on the axis from the virtual work of its torsion
// and bending, and the handbook's k = G d⁴ / (8 D³ n), which leaves the pitch out.
func TestCoilStiffness(t *testing.T) {
	h, section := coil(), springWire()
	sin, cos := math.Sincos(h.pitchRad)
	length, r := h.lengthMM(), h.radiusMM
	rise := r * r * length * (cos*cos/section.GJ + sin*sin/section.EI3)
	coupled := r * length * sin * cos * (1/section.GJ - 1/section.EI3)
	turn := length * (sin*sin/section.GJ + cos*cos/section.EI3)

	riseByForce, turnByForce := coilMotion(t, 1, 0)
	riseByCouple, turnByCouple := coilMotion(t, 0, 1)
	near(t, "rise by force", riseByForce, rise, 1e-6*rise)
	near(t, "turn by force", turnByForce, coupled, 1e-6*turn)
	near(t, "rise by couple", riseByCouple, coupled, 1e-6*turn)
	near(t, "turn by couple", turnByCouple, turn, 1e-6*turn)

	held := 1 / (riseByForce - turnByForce*riseByCouple/turnByCouple)
	near(t, "stiffness, turn held", held, 3.026848, 3e-6)
	near(t, "stiffness, turn free", 1/riseByForce, 3.022873, 3e-6)
	const d, g = 0.4, 200e3 / 2.6
	near(t, "handbook stiffness", g*d*d*d*d/(8*27*h.turns), held, 0.005*held)
}
