package optimize

import (
	"math"

	"springwright/design/solve"

	"gonum.org/v1/gonum/spatial/r3"
)

// A hook that slides comes to hang where no force is left along its axis. That place has to
// be on the tooth.

// hookExcessMM is how much farther the hook hangs from the tooth's point at a position than
// it may; negative within.
func (o *objective) hookExcessMM(position int) float64 {
	return math.Abs(solve.HookOffMM(o.spring, o.solver.End().At, o.seats[position])) - solve.HookToleranceMM
}

// putHook puts the row of the place of a hook that slides; none for other ends.
func (o *objective) putHook(r *rows, position int) {
	if !o.spring.HookSlides() || !putExcess(r, o.hookExcessMM(position)) {
		return
	}
	seat := o.seats[position]
	outwards := r3.Scale(math.Copysign(1, solve.HookOffMM(o.spring, o.solver.End().At, seat)), seat.D1)
	r.setSlopes(func(j int) float64 { return r3.Dot(outwards, o.slopes[j].EndShiftMM) / slackMM })
}
