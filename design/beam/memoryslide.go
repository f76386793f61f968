package beam

import (
	"gonum.org/v1/gonum/spatial/r3"
)

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
