package solve

import (
	"math"

	"springwright/design/beam"
	"springwright/design/notice"
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

// HookToleranceMM is how far a hook that slides may come to hang from the tooth's point, one
// way: half the width of a bracket, some 3 mm (common practice), less half a millimetre for
// the wire and the hand. Beyond it the hook does not hang on the tooth.
const HookToleranceMM = 1.0

// HookOffMM is how far along the axis of its seat the wire's end lies from the tooth's point,
// with sign: 0 for a hook that does not slide.
func HookOffMM(s spring.Spring, endMM r3.Vec, seat beam.Pose) float64 {
	if !s.HookSlides() {
		return 0
	}
	return r3.Dot(seat.D1, r3.Sub(endMM, seat.At))
}

// hookAt is where the wire's end hangs if it is a hook that slides, else nil.
func hookAt(s spring.Spring, end beam.Pose) *r3.Vec {
	if !s.HookSlides() {
		return nil
	}
	return &end.At
}

// warnOfHook warns of a hook that slides off its tooth.
func (e *Evaluation) warnOfHook(s spring.Spring) {
	const roundingMM = 0.005 // less than is printed
	worst, left := 0.0, 0.0
	for _, p := range e.Record.Positions {
		if p.HookMM == nil {
			continue
		}
		if off := math.Abs(HookOffMM(s, *p.HookMM, p.Seat.Pose(s.Heading))); off > worst {
			worst, left = off, p.TravelLeftMM
		}
	}
	if worst > HookToleranceMM+roundingMM {
		e.Warnings = append(e.Warnings, notice.HookOff{OffMM: worst, AllowedMM: HookToleranceMM, TravelLeftMM: left})
	}
}

const (
	hookProbeMM = 1e-4 // small beside any misfit that a straight wire could bear
	hookSlackN  = 1e-6 // far below what a gauge shows
	hookRounds  = 20
)

// followSlots takes the wire to a seat. Where its far end is a hook that slides along the
// seat's axis, it finds the place on that axis at which no force is left along it.
func (f *slotFollower) followSlots(pose beam.Pose, anchor, active beam.Slot) error {
	if !f.spring.HookSlides() {
		return f.solver.FollowSlots(pose, anchor, active)
	}
	if !f.seated && !f.hooked { // the place in slots without play is a near guess
		if err := f.solver.Follow(f.spring.HoldAtPose(pose)); err != nil {
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
