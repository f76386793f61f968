package optimize

import (
	"math"

	"springwright/design/beam"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// A hook that slides comes to hang where no force is left along its axis. That place has to
// be on the tooth.

// hookExcessMM is how much farther the hook hangs from the tooth's point at a position than
// it may; negative within.
func (o *objective) hookExcessMM(position int) float64 {
	return math.Abs(solve.HookOffMM(o.spring, o.solver.End().At, o.holds[position].Pose)) - solve.HookToleranceMM
}

// hookResidual puts the row for the place of a hook that slides; none for other ends.
func (o *objective) hookResidual(w *rows, position int) {
	if !o.spring.HookSlides() || !o.excess(w, o.hookExcessMM(position)) {
		return
	}
	seat := o.holds[position].Pose
	outwards := r3.Scale(math.Copysign(1, solve.HookOffMM(o.spring, o.solver.End().At, seat)), seat.D1)
	for j := range w.slopes() {
		w.setLast(j, r3.Dot(outwards, o.slopes[j].EndShiftMM)/slackMM)
	}
}

// activeSlope is the change of the load on the active tooth, about its slot's centre, by a
// slope of the solution in a slot that stays. Where a hook slides its force moves with it.
func activeSlope(spring spring.Spring, solver *beam.Solver, slope beam.Slope, seat beam.Pose) tooth.Load {
	change := slope.End
	if spring.HookSlides() {
		change.MomentNMM = r3.Add(change.MomentNMM, r3.Cross(slope.EndShiftMM, solver.EndLoad().ForceN))
	}
	return spring.ActiveLoad(change, solver.End().At, seat)
}
