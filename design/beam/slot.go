package beam

import (
	"errors"

	"gonum.org/v1/gonum/spatial/r3"
)

// ErrNoStraight means that a wire cannot slide through a slot because no straight of it is
// left outside.
var ErrNoStraight = errors.New("no straight is left that could slide through the slot")

// Slot is how a slot holds the wire that runs through it. Inside, but for Give, the wire is straight and
// rigid; it passes through the slot's centre and may turn about it. The zero value holds
// it at its end, unturned. Angles, and the couples that go with them, are those of
// TurnInSlot: third, second and first order.
type Slot struct {
	LeverMM  float64 // from the wire's end outside the slot to the slot's centre
	FreeTurn [3]bool // the couple about the centre is zero
	TurnRad  r3.Vec  // the angles that are not free
	// Slides lets the wire slide through without friction: no force along it but ForceN. The
	// straight next to the slot becomes longer or shorter by as much as comes out of it.
	Slides bool
	ForceN float64 // internal force along the wire where it slides, tension above 0
	// Glides lets the end of the wire move along the slot's axis instead, as a hook along the wire
	// that it hangs on, with no force along that axis but ForceN. Only the far slot can.
	Glides bool
	// HeightArmMM and DepthArmMM are how far the edges between which the wire lies are from the
	// slot's centre; 0: it passes through the centre. With an arm the coordinates of
	// SlotCoordinates take the place of the angle: FreeTurn and TurnRad are of the first of
	// two, FreeEdge and EdgeRad of the other, in height and in depth.
	HeightArmMM, DepthArmMM float64
	FreeEdge                [2]bool
	EdgeRad                 [2]float64
	// Give is how far a coordinate that is held goes beyond that by the load that goes with it, rad
	// per N·mm; see BendInside.
	Give SlotCoordinates
}

// inSlots is how the wire lies in its slots.
type inSlots struct {
	seated    bool
	seat      Pose // of the wire's end in the far slot if it had no play; relative to the base
	base, end Slot
	baseTurn  r3.Vec
	baseShift r3.Vec  // on the slot's axes, mm
	baseSlid  float64 // mm, out of the base's slot
	endSlid   float64 // mm, out of the far slot
}

// Configuration is a state of a Solver to come back to.
type Configuration struct {
	force, moment r3.Vec
	inSlots       inSlots
	nodes         []Pose // of a lifted wire
	spanMM        [2]float64
	stepMM        [2]float64 // length of the steps next to the base and the far end
}

// Configuration returns the present state. It is worthless after a Reset.
func (s *Solver) Configuration() Configuration {
	c := Configuration{force: s.force, moment: s.moment, inSlots: s.inSlots, spanMM: s.spanMM}
	for k, at := range s.ends {
		for _, st := range s.steps[at[0]:at[1]] { // all alike
			c.stepMM[k] = st.lengthMM
		}
	}
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
		for k, at := range s.ends {
			for i := at[0]; i < at[1]; i++ {
				s.steps[i].lengthMM = c.stepMM[k]
			}
		}
	}
	s.inSlots = c.inSlots
	s.turnBase()
	s.lifted.on = c.nodes != nil
	copy(s.nodes, c.nodes)
	s.shoot()
	s.stale = true // most that come back go on elsewhere at once
}

// Slid is the state with as much wire let out of the slots as in another.
func (c Configuration) Slid(as Configuration) Configuration {
	c.inSlots.baseSlid, c.inSlots.endSlid = as.inSlots.baseSlid, as.inSlots.endSlid
	c.stepMM = as.stepMM
	return c
}

// SlidMM is how much wire has come out of the two slots, mm.
func (s *Solver) SlidMM() (base, end float64) { return s.inSlots.baseSlid, s.inSlots.endSlid }

// baseCentre is the point of the wire at the centre of the slot at the base.
func (s *Solver) baseCentre() r3.Vec {
	return r3.Add(r3.Scale(-s.inSlots.base.LeverMM, s.base.D1), s.base.ToGlobal(s.inSlots.baseShift))
}

// turnBase puts the start of the wire where its slot lets it be.
func (s *Solver) turnBase() {
	s.start = s.base.turnedInSlot(s.inSlots.baseTurn)
	s.start.At = s.baseCentre()
	s.start = s.start.Along(s.inSlots.base.LeverMM)
}

// slotTarget is where the slots and the wire in them are to be at one share of the way.
type slotTarget struct {
	seat                 Pose
	base, end            SlotCoordinates // those not free
	baseLoad, endLoad    SlotCoordinates // internal loads, those free
	baseForce, endForceN float64
}

// FollowSlots moves the far slot from where it is to a seat, in which the wire would lie
// with its end if it had no play, and lets both slots hold the wire as they are told. It
// goes in as many steps as the wire needs and stays on its branch of equilibria. The first
// call starts from the wire as it lies. On failure it returns a *StallError or a
// *StraightError, and the solver keeps the last solution on the way.
func (s *Solver) FollowSlots(seat Pose, base, end Slot) error {
	seat.At = r3.Sub(seat.At, s.base.At)
	if base.Slides && s.straightAt(true)[0].curvature != (r3.Vec{}) {
		return &StraightError{AtBase: true}
	}
	if end.Slides && s.straightAt(false)[0].curvature != (r3.Vec{}) {
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
			base:      mixCoordinates(from.base, base.held(), share),
			end:       mixCoordinates(from.end, end.held(), share),
			baseLoad:  mixCoordinates(from.baseLoad, SlotCoordinates{}, share),
			endLoad:   mixCoordinates(from.endLoad, SlotCoordinates{}, share),
			baseForce: (1-share)*from.baseForce + share*base.ForceN,
			endForceN: (1-share)*from.endForceN + share*end.ForceN,
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

// presentTarget is the target that the present state fulfils.
func (s *Solver) presentTarget() slotTarget {
	v := s.viewSlots(&s.inSlots.seat)
	t := slotTarget{
		seat:      s.inSlots.seat,
		base:      s.inSlots.base.coordinates(s.inSlots.baseTurn, s.inSlots.baseShift),
		end:       s.inSlots.end.coordinates(v.endTurn, v.endShift),
		baseForce: r3.Dot(s.start.D1, s.force),
		endForceN: r3.Dot(v.end.D1, s.force),
	}
	if s.inSlots.end.Glides {
		t.endForceN = v.endForce.X
	}
	t.baseLoad, t.endLoad = s.slotLoads(&v)
	for i := range t.base { // where it is held, not what that has given
		t.base[i] -= s.inSlots.base.Give[i] * t.baseLoad[i]
		t.end[i] += s.inSlots.end.Give[i] * t.endLoad[i]
	}
	return t
}

// roughPivot is the pivot of the system below which steps are taken with the exact tangent:
// that of RoughTangent would tell what is nearly or wholly neutral from its errors.
const roughPivot = 1e-3

// holdBase puts the wire where the slot at the base holds it.
func (s *Solver) holdBase(t *slotTarget) {
	q := s.inSlots.base.coordinates(s.inSlots.baseTurn, s.inSlots.baseShift)
	for i := range q {
		if !s.inSlots.base.solved(i) {
			q[i] = t.base[i]
		}
	}
	s.inSlots.baseTurn, s.inSlots.baseShift = s.inSlots.base.place(q)
}

// reachSlots solves for one target from the present solution by Newton's method, its
// tangent taken anew for every step, and leaves the flexibility up to date.
func (s *Solver) reachSlots(t *slotTarget) error {
	s.holdBase(t)
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
			switch {
			case !rough:
			case len(system.extras) == 0: // its stability asks for no stiffness
				s.stale = true
			default:
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
