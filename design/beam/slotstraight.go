package beam

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// StraightError says at which end no straight is left to slide in. It wraps ErrNoStraight.
type StraightError struct {
	AtBase     bool
	StraightMM float64 // of the unloaded wire next to the slot
	MissingMM  float64 // how much more would have to slide in; 0: not found
}

func (e *StraightError) Error() string {
	where := "far"
	if e.AtBase {
		where = "near"
	}
	return fmt.Sprintf("%v at the %s end", ErrNoStraight, where)
}

// Unwrap returns ErrNoStraight.
func (e *StraightError) Unwrap() error { return ErrNoStraight }

// slide lets more wire out of the slots. It reports false, and leaves the wire as it is,
// where the straights do not allow it.
func (s *Solver) slide(baseMM, endMM float64) bool {
	if s.points != nil {
		if !s.slideMemory(baseMM, endMM) {
			return false
		}
		s.inSlots.baseSlid += baseMM
		s.inSlots.endSlid += endMM
		return true
	}
	first, last := s.straightAt(true), s.straightAt(false)
	if baseMM != 0 && !s.canTake(first, baseMM) || endMM != 0 && !s.canTake(last, endMM) {
		return false
	}
	s.lengthen(first, baseMM)
	s.lengthen(last, endMM)
	s.inSlots.baseSlid += baseMM
	s.inSlots.endSlid += endMM
	return true
}

// straightAt are the steps of the piece next to the base or to the far end.
func (s *Solver) straightAt(atBase bool) []step {
	at := s.ends[1]
	if atBase {
		at = s.ends[0]
	}
	return s.steps[at[0]:at[1]]
}

// findEnds finds the steps of the first and the last piece that have a length, before any has slid.
func (s *Solver) findEnds() {
	s.ends = [2][2]int{}
	if len(s.steps) == 0 {
		return
	}
	for k, by := range [...]int{1, -1} {
		from := 0
		if by < 0 {
			from = len(s.steps) - 1
		}
		for s.steps[from].lengthMM == 0 && from+by >= 0 && from+by < len(s.steps) {
			from += by
		}
		to := from
		for next := to + by; next >= 0 && next < len(s.steps) && s.steps[next].piece == s.steps[from].piece; next += by {
			to = next
		}
		s.ends[k] = [2]int{min(from, to), max(from, to) + 1}
	}
}

// canTake tells whether steps are straight and stay longer than nothing.
func (s *Solver) canTake(steps []step, moreMM float64) bool {
	return steps[0].curvature == (r3.Vec{}) && (s.overdrawn || steps[0].lengthMM+moreMM/float64(len(steps)) > 0)
}

func (s *Solver) lengthen(steps []step, moreMM float64) {
	if moreMM == 0 {
		return
	}
	for i := range steps {
		steps[i].lengthMM += moreMM / float64(len(steps))
	}
}

// overdraw tells at which end a straight is used up, and how much more of it would have to
// slide into its slot: it goes on with a straight of negative length, on which nothing else
// in the equations depends, and comes back to the present solution. Where all straights are
// there again at the seat itself, nothing is missing, and the solver stays in it.
func (s *Solver) overdraw(seat Pose, base, end Slot) error {
	before := s.Configuration()
	s.overdrawn = true
	seat.At = r3.Add(seat.At, s.base.At)
	err := s.FollowSlots(seat, base, end)
	baseMM, endMM := s.straightsLeft(base, end)
	s.overdrawn = false
	if err == nil && min(baseMM, endMM) > 0 {
		t := s.presentTarget()
		if s.stableInSlots(s.slotSystem(&t)) == nil {
			return nil
		}
	}
	return s.straightError(before, err == nil)
}

// straightsLeft are the straights at the ends at which the wire slides; +Inf where it does not.
func (s *Solver) straightsLeft(base, end Slot) (baseMM, endMM float64) {
	baseMM, endMM = math.Inf(1), math.Inf(1)
	if base.Slides {
		baseMM = lengthOf(s.straightAt(true))
	}
	if end.Slides {
		endMM = lengthOf(s.straightAt(false))
	}
	return baseMM, endMM
}

// straightError tells what is missing of a straight, if the overdrawn wire has been solved, and
// goes back to where it was.
func (s *Solver) straightError(before Configuration, solved bool) error {
	baseMM, endMM := s.straightsLeft(s.inSlots.base, s.inSlots.end)
	s.overdrawn = true
	s.Restore(before)
	s.overdrawn = false
	e := &StraightError{AtBase: baseMM < endMM}
	if e.AtBase {
		e.StraightMM = lengthOf(s.straightAt(true)) - s.inSlots.baseSlid
	} else {
		e.StraightMM = lengthOf(s.straightAt(false)) - s.inSlots.endSlid
	}
	if solved {
		e.MissingMM = max(0, -min(baseMM, endMM))
	}
	return e
}

func lengthOf(steps []step) (sum float64) {
	for i := range steps {
		sum += steps[i].lengthMM
	}
	return sum
}
