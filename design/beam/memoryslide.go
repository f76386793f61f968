package beam

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// ErrSpan means that a wire is too short to slide as far as it would.
var ErrSpan = errors.New("the wire slips off its support")

// SetSpan sets which part of a wire that remembers lies between the base and the hold, by
// the length of wire before it and before its end. The rest hangs free, its nodes at the
// base or the hold, and every section keeps its own history as the wire slides. The load
// stays, so the end moves until the next Follow holds it.
func (s *Solver) SetSpan(fromMM, toMM float64) {
	s.spread(fromMM, toMM)
	s.shoot()
	s.updateTangent()
}

func (s *Solver) spread(fromMM, toMM float64) {
	s.spanMM = [2]float64{fromMM, toMM}
	atMM := 0.0
	for i := range s.yielding {
		nextMM := atMM + s.steps[i].lengthMM
		s.yielding[i].lengthMM = max(0, min(nextMM, toMM)-max(atMM, fromMM))
		atMM = nextMM
	}
}

// Span is which part of a wire that remembers lies between the base and the hold.
func (s *Solver) Span() (fromMM, toMM float64) { return s.spanMM[0], s.spanMM[1] }

// slideMemory is slide for a wire that remembers: wire beyond the span comes in.
func (s *Solver) slideMemory(baseMM, endMM float64) bool {
	fromMM, toMM := s.Span()
	fromMM -= baseMM
	toMM += endMM
	atMM := 0.0
	for i := range s.steps {
		nextMM := atMM + s.steps[i].lengthMM
		straight := s.steps[i].curvature == (r3.Vec{})
		if !straight && (baseMM != 0 && atMM < fromMM || endMM != 0 && nextMM > toMM) {
			return false
		}
		atMM = nextMM
	}
	const rounding = 1e-12                                            // of sums of the steps' lengths
	if !(fromMM >= 0 && toMM <= atMM*(1+rounding) && fromMM < toMM) { // also catches NaN
		return false
	}
	s.spread(fromMM, toMM)
	return true
}

// straightStretch is the strain beyond the unloaded one next to the base or the hold.
func (s *Solver) straightStretch(atEnd bool) Stretch {
	last := Stretch{}
	for i := range s.yielding {
		if s.yielding[i].lengthMM > 0 {
			last = s.yielding[i].stretch
			if !atEnd {
				break
			}
		}
	}
	return last
}

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
			return fmt.Errorf("%w: it would reach to %.3g mm of %.3g mm", ErrSpan, toMM, s.lengthMM)
		}
		s.SetSpan(fromMM, toMM)
	}
	return ErrNoConvergence
}
