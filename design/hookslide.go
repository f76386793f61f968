package design

import (
	"math"

	"springwright/design/beam"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	hookProbeMM = 1e-4 // small beside any misfit that a straight wire could bear
	hookSlackN  = 1e-6 // far below what a gauge shows
	hookRounds  = 20
)

// followSlots takes the wire to a seat. Where its far end is a hook that slides along the
// seat's axis, it finds the place on that axis at which no force is left along it.
func (f *slotFollower) followSlots(pose beam.Pose, anchor, active beam.Slot) error {
	if !f.spring.hookSlides() {
		return f.solver.FollowSlots(pose, anchor, active)
	}
	if !f.seated && !f.hooked { // the place in slots without play is a near guess
		if err := f.solver.Follow(f.spring.holdAt(pose)); err != nil {
			return err
		}
		f.hookMM, f.hooked = r3.Dot(pose.D1, r3.Sub(f.solver.End().At, pose.At)), true
	}
	active.Slides = false
	axial := func(shiftMM float64) (float64, error) {
		at := pose
		at.At = r3.Add(pose.At, r3.Scale(shiftMM, pose.D1))
		err := f.solver.FollowSlots(at, anchor, active)
		return r3.Dot(pose.D1, f.solver.EndLoad().ForceN), err
	}
	lastMM, shiftMM := f.hookMM, f.hookMM+hookProbeMM
	last, err := axial(lastMM)
	for range hookRounds {
		if err != nil {
			return err
		}
		var force float64
		if force, err = axial(shiftMM); err != nil {
			return err
		}
		if math.Abs(force) <= hookSlackN {
			f.hookMM = shiftMM
			return nil
		}
		next := shiftMM - force*(shiftMM-lastMM)/(force-last)
		if math.IsNaN(next) || math.IsInf(next, 0) {
			break
		}
		lastMM, last, shiftMM = shiftMM, force, next
	}
	return beam.ErrNoConvergence
}
