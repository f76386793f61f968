package beam

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	slideIterations = 60
	// slideTolerance is the largest error of a sliding end: its place as a share of the
	// wire's length and the force along the wire as a share of EI/L².
	slideTolerance = 1e-8
)

// SlideOver moves the far end of the span to a support that lets the wire turn and slide.
// The force along the wire at the support is at most friction times the force across it
// (Coulomb), and as large while the wire slides, against its motion. Move the support in
// steps: the sense of sliding may change between but not within them.
func (s *Solver) SlideOver(support r3.Vec, friction float64) error {
	support = r3.Sub(support, s.base.At)
	force, moment := s.force, s.moment
	fromMM, toMM := s.Span()
	restore := func() {
		s.force, s.moment = force, moment
		s.SetSpan(fromMM, toMM)
	}
	for _, sense := range [...]float64{1, -1} {
		err := s.slip(support, sense*friction)
		_, nowMM := s.Span()
		if err == nil && (friction == 0 || sense*(nowMM-toMM) >= 0) {
			s.Keep()
			return nil
		}
		restore()
		if friction == 0 {
			return err
		}
	}
	// It slides neither way, so it sticks.
	t := supported(support)
	if err := s.reachWithMemory(&t); err != nil {
		restore()
		return err
	}
	return nil
}

// supported is a target at a place in which the end is free to turn.
func supported(at r3.Vec) target {
	t := target{hold: Hold{Pose: Origin(), FreeTurn: [3]bool{true, true, true}}, at: Origin()}
	t.at.At = at
	return t
}

// slip solves with the force along the wire at the support grip times that across it. With
// the wire's length held, stretching would resist every step of the way; so the end is let
// free in the direction that carries no force, and wire is fed in or out by as much as it
// then lies off the support, until both the direction and the length are right.
func (s *Solver) slip(support r3.Vec, grip float64) error {
	t := supported(support)
	t.hold.FreeMove[0] = true
	for range slideIterations {
		end := s.end()
		n := end.ToLocal(s.force)
		if across := math.Hypot(n.Y, n.Z); across > 0 {
			// Turn d1 away from the force across by the friction angle.
			turn := r3.Scale(math.Atan(grip)/across, r3.Vec{Y: n.Z, Z: -n.Y})
			end = end.Turned(end.ToGlobal(turn))
		}
		t.hold.Pose.D1, t.hold.Pose.D2, t.hold.Pose.D3 = end.D1, end.D2, end.D3
		if err := s.solveWithMemory(&t); err != nil {
			return err
		}
		end = s.end()
		n = end.ToLocal(s.force)
		excess := s.scales().force * math.Abs(n.X-grip*math.Hypot(n.Y, n.Z))
		overMM := r3.Dot(end.D1, r3.Sub(end.At, support))
		if excess <= slideTolerance && math.Abs(overMM) <= slideTolerance*s.lengthMM {
			return nil
		}
		fromMM, toMM := s.Span()
		toMM -= overMM
		if !(toMM > fromMM && toMM <= s.lengthMM) { // also catches NaN
			return fmt.Errorf("the wire slips off its support: it would reach to %.3g mm of %.3g mm", toMM, s.lengthMM)
		}
		s.SetSpan(fromMM, toMM)
	}
	return ErrNoConvergence
}
