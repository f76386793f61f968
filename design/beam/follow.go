package beam

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// ErrNoConvergence means that no equilibrium was found within the smallest step.
var ErrNoConvergence = errors.New("no equilibrium found")

// ErrUnstable means that the wire would snap away from the shape being followed.
var ErrUnstable = errors.New("the wire loses stability and would snap")

// StallError says how far a solution was followed. It wraps ErrNoConvergence or
// ErrUnstable.
type StallError struct {
	Reached float64 // share of the way from the last solution, 0 to 1
	Cause   error
}

func (e *StallError) Error() string {
	return fmt.Sprintf("%v: reached %.1f %% of the way", e.Cause, 100*e.Reached)
}

// Unwrap returns the cause.
func (e *StallError) Unwrap() error { return e.Cause }

// Follow moves the far end from where it is to the hold, in as many steps as the wire
// needs, and stays on the branch of equilibria that it is on. On failure it returns a
// *StallError and the solver keeps the last solution on the way.
func (s *Solver) Follow(hold Hold) error {
	hold.Pose.At = r3.Sub(hold.Pose.At, s.base.At)
	from := s.end()
	turn := RotationBetween(from, hold.Pose)
	fromLoad := s.loadOn(hold.Pose)
	at := func(share float64) target {
		p := from.Turned(r3.Scale(share, turn))
		p.At = mix(from.At, hold.Pose.At, share)
		return target{hold: hold, at: p, load: Wrench{
			ForceN:    mix(fromLoad.ForceN, hold.Load.ForceN, share),
			MomentNMM: mix(fromLoad.MomentNMM, hold.Load.MomentNMM, share),
		}}
	}

	smallest := s.options.SmallestStep
	if s.points != nil {
		smallest = max(smallest, memorySmallest)
	}
	reached, share := 0.0, 1.0
	for tries := 1; reached < 1; tries++ {
		next := min(1, reached+share)
		if 1-next < smallest/2 {
			next = 1
		}
		t := at(next)
		force, moment := s.force, s.moment
		s.keepNodes()
		cause := s.reach(&t)
		if cause == nil {
			reached, share = next, 2*share
			continue
		}
		s.restore(force, moment)
		share /= 2
		if share < smallest || tries >= mostTries {
			if cause == ErrNoConvergence && s.points == nil && share < foldStep && s.folds(reached, func(share float64) (float64, error) {
				t := at(share)
				size := s.stepTo(&t)
				return size, s.reach(&t)
			}) {
				cause = ErrUnstable
			}
			s.restore(force, moment)
			return &StallError{Reached: reached, Cause: cause}
		}
		if share < liftedBelow && s.lift() {
			share = liftedShare
		}
	}
	s.lower()
	return nil
}

// restore goes back to a load and, of a lifted wire, to the nodes last kept.
func (s *Solver) restore(force, moment r3.Vec) {
	s.force, s.moment = force, moment
	s.shoot()
	s.restoreNodes()
	s.updateTangent()
}

const (
	foldStep  = 1e-5 // the largest step at whose end a fold is looked for
	foldBack  = 4e-3 // how far back of it the tangent is compared
	foldTimes = 6    // how much larger it must be
)

// folds tells whether a way that stalls has come to a fold: a limit point, at which the wire
// snaps. There the load grows with the root of the way left to it, so that its rate goes to
// infinity: from foldBack to foldStep by more than √(4e-3/1e-5) = 20 where no more than that
// is left. reach solves at a share of the way and returns the size of the first step to it.
func (s *Solver) folds(reached float64, reach func(share float64) (size float64, err error)) bool {
	const ahead = 1e-9 // of the way: to measure the rate
	near, _ := reach(reached + ahead)
	for back := s.options.SmallestStep; back < foldBack; back *= 2 { // a fold is steep
		if _, err := reach(reached - back); err != nil {
			return false
		}
	}
	if _, err := reach(reached - foldBack); err != nil || reached < foldBack {
		return false
	}
	far, _ := reach(reached - foldBack + ahead)
	return near > foldTimes*far
}

// stepTo is the size of Newton's first step to a target.
func (s *Solver) stepTo(t *target) float64 {
	s.freshTangent()
	res, end := s.residual(t), s.end()
	var jacobian mat6
	if s.lifted.on {
		s.sweep(nil)
		jacobian, _ = s.liftedJacobian(t, &end)
	} else {
		jacobian = s.jacobian(t, &end, &s.flexibility[len(s.steps)])
	}
	tangent := factor(&jacobian)
	delta := tangent.solve(&res)
	return loadSize(&delta, s.scales())
}

// mostTries bounds the work of one Follow. The longest way that random springs needed took
// about a third of it.
const mostTries = 400

// memorySmallest is the smallest step of a wire that remembers: each that it takes is kept, and
// none is looked for that needs shorter ones.
const memorySmallest = 1.0 / 2048

func mix(a, b r3.Vec, share float64) r3.Vec {
	return r3.Add(r3.Scale(1-share, a), r3.Scale(share, b))
}

// loadOn is the load on the far end about that end, on the axes of a pose.
func (s *Solver) loadOn(axes Pose) Wrench {
	end := s.end()
	return Wrench{ForceN: axes.ToLocal(s.force), MomentNMM: axes.ToLocal(s.endMoment(&end))}
}

const (
	// Newton's steps must at least halve: a slower sequence may be on its way to another
	// branch of equilibria (Deuflhard, Newton Methods for Nonlinear Problems, 2004,
	// section 5.1).
	newtonContraction = 0.5
	// A tangent is kept while it still cuts the steps to this share.
	keepTangent   = 0.2
	newtonMaximum = 30
	// Newton's first step must not turn any section by more than this, rad: with steps that
	// halve, all of them then turn it by less than π, and the wire cannot arrive on a branch
	// on which it is wound once more.
	longestTurn = 1.0
)

// reach solves for one target from the present solution, whose flexibility is up to date,
// and leaves it up to date.
func (s *Solver) reach(t *target) error {
	if s.points != nil {
		return s.reachWithMemory(t)
	}
	if s.lifted.on {
		return s.reachLifted(t)
	}
	s.freshTangent()
	end := s.end()
	jacobian := s.jacobian(t, &end, &s.flexibility[len(s.steps)])
	tangent := factor(&jacobian)
	if tangent.singular {
		return ErrUnstable
	}
	scale := s.scales()
	previous := math.Inf(1)
	fresh := true
	var update broyden
	for range newtonMaximum {
		res := s.residual(t)
		if largest(&res) <= s.options.Tolerance {
			s.updateTangent()
			if s.trusted {
				return nil
			}
			return s.stable(&t.hold)
		}
		delta := tangent.solve(&res)
		update.correct(&delta, scale)
		size := loadSize(&delta, scale)
		if !fresh && size > keepTangent*previous {
			s.updateTangent()
			end = s.end()
			jacobian = s.jacobian(t, &end, &s.flexibility[len(s.steps)])
			if tangent = factor(&jacobian); tangent.singular {
				return ErrUnstable
			}
			update = broyden{}
			delta = tangent.solve(&res)
			update.correct(&delta, scale)
			size = loadSize(&delta, scale)
		}
		if fresh && s.largestTurn(&delta, &vec6{}) > longestTurn {
			return ErrNoConvergence
		}
		if !(size <= newtonContraction*previous) { // also catches NaN
			return ErrNoConvergence
		}
		previous, fresh = size, false
		s.force = r3.Sub(s.force, r3.Vec{X: delta[0], Y: delta[1], Z: delta[2]})
		s.moment = r3.Sub(s.moment, r3.Vec{X: delta[3], Y: delta[4], Z: delta[5]})
		s.shoot()
	}
	return ErrNoConvergence
}

// largestTurn is the largest turn of a node, rad, by a motion of the start and a change of the load
// that it feels, to first order.
func (s *Solver) largestTurn(load, origin *vec6) float64 {
	var most float64
	for i := range s.flexibility {
		f := &s.flexibility[i]
		var square float64
		for k := range 3 {
			r := &f[k]
			turn := origin[k] + r[0]*load[0] + r[1]*load[1] + r[2]*load[2] + r[3]*load[3] + r[4]*load[4] + r[5]*load[5]
			square += turn * turn
		}
		most = max(most, square) // keeps a NaN
	}
	return math.Sqrt(most)
}

func largest(v *vec6) float64 {
	var most float64
	for _, x := range v {
		most = max(most, math.Abs(x)) // keeps a NaN
	}
	return most
}

func loadSize(v *vec6, scale scales) float64 {
	return math.Hypot(
		scale.force*math.Sqrt(v[0]*v[0]+v[1]*v[1]+v[2]*v[2]),
		scale.moment*math.Sqrt(v[3]*v[3]+v[4]*v[4]+v[5]*v[5]),
	)
}
