package beam

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// ErrNoStraight means that a wire cannot slide through a slot because no straight of it is
// left outside.
var ErrNoStraight = errors.New("no straight is left that could slide through the slot")

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

// Slot is how a slot holds the wire that runs through it. Inside, the wire is straight and
// rigid; it passes through the slot's centre and may turn about it. The zero value holds
// it at its end, unturned. Angles, and the couples that go with them, are those of
// TurnInSlot: third, second and first order.
type Slot struct {
	LeverMM  float64 // from the wire's end outside the slot to the slot's centre
	FreeTurn [3]bool // the couple about the centre is zero
	TurnRad  r3.Vec  // the angles that are not free
	// Slides lets the wire slide through without friction: no force along it. The straight
	// next to the slot becomes longer or shorter by as much as comes out of it.
	Slides bool
}

// inSlots is how the wire lies in its slots.
type inSlots struct {
	seated    bool
	seat      Pose // of the wire's end in the far slot if it had no play; relative to the base
	base, end Slot
	baseTurn  r3.Vec
	baseSlid  float64 // mm, out of the base's slot
	endSlid   float64 // mm, out of the far slot
}

// Configuration is a state of a Solver to come back to.
type Configuration struct {
	force, moment r3.Vec
	inSlots       inSlots
	nodes         []Pose // of a lifted wire
	spanMM        [2]float64
}

// Configuration returns the present state. It is worthless after a Reset.
func (s *Solver) Configuration() Configuration {
	c := Configuration{force: s.force, moment: s.moment, inSlots: s.inSlots, spanMM: s.spanMM}
	if s.lifted.on {
		c.nodes = append([]Pose(nil), s.nodes...)
	}
	return c
}

// Restore goes back to a state.
func (s *Solver) Restore(c Configuration) {
	s.force, s.moment = c.force, c.moment
	if s.points != nil {
		s.spread(c.spanMM[0], c.spanMM[1]) // exactly: sums of what slid might miss by rounding
	} else {
		s.slide(c.inSlots.baseSlid-s.inSlots.baseSlid, c.inSlots.endSlid-s.inSlots.endSlid)
	}
	s.inSlots = c.inSlots
	s.turnBase()
	s.lifted.on = c.nodes != nil
	copy(s.nodes, c.nodes)
	s.shoot()
	s.stale = true // most that come back go on elsewhere at once
}

// BaseTurn is how the wire is turned in the slot at its base.
func (s *Solver) BaseTurn() r3.Vec { return s.inSlots.baseTurn }

// EndTurn is how the wire is turned in the far slot, after FollowSlots.
func (s *Solver) EndTurn() r3.Vec { return TurnInSlot(s.inSlots.seat, s.end()) }

// SlidMM is how much wire has come out of the two slots, mm.
func (s *Solver) SlidMM() (base, end float64) { return s.inSlots.baseSlid, s.inSlots.endSlid }

// SlotCouples are the couples of the slots on the wire about their centres, N·mm, each on
// the axis of its angle, after FollowSlots.
func (s *Solver) SlotCouples() (base, end r3.Vec) {
	v := s.viewSlots(&s.inSlots.seat)
	return r3.Scale(-1, v.baseAxes.onAxes(v.baseMoment)), v.endAxes.onAxes(v.endMoment)
}

// baseCentre is the centre of the slot at the base.
func (s *Solver) baseCentre() r3.Vec { return r3.Scale(-s.inSlots.base.LeverMM, s.base.D1) }

// turnBase puts the start of the wire where its slot lets it be.
func (s *Solver) turnBase() {
	s.start = s.base.turnedInSlot(s.inSlots.baseTurn)
	s.start.At = s.baseCentre()
	s.start = s.start.Along(s.inSlots.base.LeverMM)
}

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
	first, last := s.straightAt(0, 1), s.straightAt(len(s.steps)-1, -1)
	if baseMM != 0 && !s.canTake(first, baseMM) || endMM != 0 && !s.canTake(last, endMM) {
		return false
	}
	s.lengthen(first, baseMM)
	s.lengthen(last, endMM)
	s.inSlots.baseSlid += baseMM
	s.inSlots.endSlid += endMM
	return true
}

// straightAt finds the steps of the piece that lies next to an end, from one step on.
func (s *Solver) straightAt(from, by int) []step {
	for s.steps[from].lengthMM == 0 && from+by >= 0 && from+by < len(s.steps) {
		from += by
	}
	to := from
	for next := to + by; next >= 0 && next < len(s.steps) && s.steps[next].piece == s.steps[from].piece; next += by {
		to = next
	}
	return s.steps[min(from, to) : max(from, to)+1]
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

// slotTarget is where the slots and the wire in them are to be at one share of the way.
type slotTarget struct {
	seat                 Pose
	baseTurn, endTurn    r3.Vec // those not free
	baseLoad, endLoad    r3.Vec // internal couples, those free
	baseForce, endForceN float64
}

// FollowSlots moves the far slot from where it is to a seat, in which the wire would lie
// with its end if it had no play, and lets both slots hold the wire as they are told. It
// goes in as many steps as the wire needs and stays on its branch of equilibria. The first
// call starts from the wire as it lies. On failure it returns a *StallError or a
// *StraightError, and the solver keeps the last solution on the way.
func (s *Solver) FollowSlots(seat Pose, base, end Slot) error {
	seat.At = r3.Sub(seat.At, s.base.At)
	if base.Slides && s.straightAt(0, 1)[0].curvature != (r3.Vec{}) {
		return &StraightError{AtBase: true}
	}
	if end.Slides && s.straightAt(len(s.steps)-1, -1)[0].curvature != (r3.Vec{}) {
		return &StraightError{}
	}
	if !s.inSlots.seated {
		s.inSlots.seat, s.inSlots.seated = s.end(), true
	}
	s.inSlots.base, s.inSlots.end = base, end
	from := s.presentTarget()
	turn := RotationBetween(from.seat, seat)
	at := func(share float64) slotTarget {
		t := slotTarget{
			baseTurn:  mix(from.baseTurn, base.TurnRad, share),
			endTurn:   mix(from.endTurn, end.TurnRad, share),
			baseLoad:  r3.Scale(1-share, from.baseLoad),
			endLoad:   r3.Scale(1-share, from.endLoad),
			baseForce: (1 - share) * from.baseForce,
			endForceN: (1 - share) * from.endForceN,
		}
		t.seat = from.seat.Turned(r3.Scale(share, turn))
		t.seat.At = mix(from.seat.Along(end.LeverMM).At, seat.Along(end.LeverMM).At, share)
		t.seat = t.seat.Along(-end.LeverMM)
		if share == 1 {
			t.seat = seat
		}
		return t
	}

	reached, share := 0.0, 1.0
	for tries := 1; reached < 1; tries++ {
		next := min(1, reached+share)
		if 1-next < s.options.SmallestStep/2 {
			next = 1
		}
		t := at(next)
		before := s.Configuration()
		cause := s.reachSlots(&t)
		if cause == nil {
			reached, share = next, 2*share
			continue
		}
		s.Restore(before)
		share /= 2
		if s.most > 0 && s.crossings > s.most {
			return &StallError{Reached: reached, Cause: ErrNoConvergence}
		}
		if share < s.options.SmallestStep || tries >= mostTries {
			if errors.Is(cause, ErrNoStraight) && s.points == nil && !s.overdrawn {
				if cause = s.overdraw(seat, base, end); cause == nil {
					return nil
				}
			}
			if cause == ErrNoConvergence && s.points == nil && share < foldStep {
				if s.folds(reached, func(share float64) (float64, error) {
					t := at(share)
					size := s.stepToSlots(&t)
					return size, s.reachSlots(&t)
				}) {
					cause = ErrUnstable
				}
				s.Restore(before)
			}
			return &StallError{Reached: reached, Cause: cause}
		}
		if share < liftedBelow && s.lift() {
			share = liftedShare
		}
	}
	s.lower()
	return nil
}

// stepToSlots is the size of Newton's first step to a target.
func (s *Solver) stepToSlots(t *slotTarget) float64 {
	s.freshTangent()
	before := s.inSlots.seat
	s.inSlots.seat = t.seat
	system := s.slotSystem(t)
	delta, _ := system.solve()
	s.inSlots.seat = before
	return delta.size()
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
	baseMM, endMM := math.Inf(1), math.Inf(1) // what is left
	if base.Slides {
		baseMM = lengthOf(s.straightAt(0, 1))
	}
	if end.Slides {
		endMM = lengthOf(s.straightAt(len(s.steps)-1, -1))
	}
	s.overdrawn = false
	if err == nil && min(baseMM, endMM) > 0 {
		t := s.presentTarget()
		if s.stableInSlots(s.slotSystem(&t)) == nil {
			return nil
		}
	}
	s.overdrawn = true
	s.Restore(before)
	s.overdrawn = false
	e := &StraightError{AtBase: baseMM < endMM}
	if e.AtBase {
		e.StraightMM = lengthOf(s.straightAt(0, 1)) - s.inSlots.baseSlid
	} else {
		e.StraightMM = lengthOf(s.straightAt(len(s.steps)-1, -1)) - s.inSlots.endSlid
	}
	if err == nil {
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

// presentTarget is the target that the present state fulfils.
func (s *Solver) presentTarget() slotTarget {
	v := s.viewSlots(&s.inSlots.seat)
	return slotTarget{
		seat:      s.inSlots.seat,
		baseTurn:  s.inSlots.baseTurn,
		endTurn:   v.endTurn,
		baseLoad:  v.baseAxes.onAxes(v.baseMoment),
		endLoad:   v.endAxes.onAxes(v.endMoment),
		baseForce: r3.Dot(s.start.D1, s.force),
		endForceN: r3.Dot(v.end.D1, s.force),
	}
}

// roughPivot is the pivot of the system below which steps are taken with the exact tangent:
// that of RoughTangent would tell what is nearly or wholly neutral from its errors.
const roughPivot = 1e-3

// reachSlots solves for one target from the present solution by Newton's method, its
// tangent taken anew for every step, and leaves the flexibility up to date.
func (s *Solver) reachSlots(t *slotTarget) error {
	for i := range 3 {
		if !s.inSlots.base.FreeTurn[i] {
			setComponent(&s.inSlots.baseTurn, i, component(t.baseTurn, i))
		}
	}
	s.inSlots.seat = t.seat
	s.turnBase()
	s.shoot()
	if s.points != nil {
		return s.reachSlotsWithMemory(t)
	}
	if s.lifted.on {
		return s.reachSlotsLifted(t)
	}
	previous := 0.0
	rough := true
	for i := range newtonMaximum {
		if rough {
			s.roughen()
		} else {
			s.linearise()
		}
		system := s.slotSystem(t)
		if system.worst() <= s.options.Tolerance {
			if rough {
				s.linearise()
				system = s.slotSystem(t)
			}
			return s.stableInSlots(system)
		}
		delta, ok := system.solve()
		if rough && !(system.pivot > roughPivot) {
			rough = false
			s.linearise()
			system = s.slotSystem(t)
			delta, ok = system.solve()
		}
		if !ok {
			return ErrUnstable
		}
		size := delta.size()
		switch {
		case i == 0 && !(s.largestSlotTurn(system, &delta) <= longestTurn),
			i > 0 && !(size <= newtonContraction*previous): // both catch NaN
			return ErrNoConvergence
		}
		previous = size
		if !s.applySlotStep(system, &delta) {
			return ErrNoStraight
		}
		s.turnBase()
		s.shoot()
	}
	return ErrNoConvergence
}
