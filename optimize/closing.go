package optimize

import (
	"springwright/design/beam"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// closing is the least-squares problem of a pattern whose unloaded end lies in the goal's
// slot, within the room there is. Random numbers give loops that end anywhere; pulled close
// first, they make starting points that the real problem can be solved from.
type closing struct {
	o      *objective // of the pattern; its solver is used
	goal   beam.Pose
	turnMM float64 // what a radian weighs
}

func newClosing(o *objective) *closing {
	c := closing{o: o, goal: o.spring.SeatAt(o.c.Positions - 1).Pose(o.c.Heading), turnMM: turnScaleMM}
	if o.spring.ActiveHold.Hook { // any turn will do
		c.turnMM = 0
	}
	return &c
}

// The rows for the end's place and turn; those for the reach come after them.
const endRows = 6

func (p *closing) size() (variables, residuals int) {
	residuals = endRows
	for _, term := range p.o.reaches {
		if term.position < 0 {
			residuals += term.rows()
		}
	}
	return len(p.o.pattern.Freedoms), residuals
}

const turnScaleMM = 10 // a radian weighs as much as this many mm

func (p *closing) residuals(x, r []float64, jacobian *mat.Dense, enough float64) bool {
	o := p.o
	steps := o.pattern.StepsFor(x)
	o.solver.Reset(o.spring.RodOf(steps), beam.Origin())
	o.nodes = o.solver.AppendNodes(o.nodes[:0])
	end := o.solver.End()
	gap := r3.Sub(end.At, p.goal.At)
	turn := beam.RotationBetween(p.goal, end)
	w := &rows{r: r, jacobian: jacobian, parameters: len(x)}
	for _, v := range [endRows]float64{gap.X, gap.Y, gap.Z, p.turnMM * turn.X, p.turnMM * turn.Y, p.turnMM * turn.Z} {
		w.put(v)
	}
	if jacobian != nil {
		jacobian.Zero()
		o.parameters = o.pattern.Parameters(steps)
		clear(o.slopes)
		o.solver.UnloadedSlopes(o.parameters)
		for j := range x {
			motion := o.solver.NodeSlope(o.solver.Nodes()-1, j, &beam.Slope{})
			// The derivative of the rotation vector is taken as the turn itself: exact at
			// the solution, where it matters.
			for row, slope := range [endRows]float64{
				motion.ShiftMM.X, motion.ShiftMM.Y, motion.ShiftMM.Z,
				p.turnMM * motion.TurnRad.X, p.turnMM * motion.TurnRad.Y, p.turnMM * motion.TurnRad.Z,
			} {
				jacobian.Set(row, j, slope)
			}
		}
	}
	o.reachResiduals(w, -1)
	for row := endRows; row < len(r); row++ { // a mm too far weighs as much as one at the end
		r[row] *= slackMM
		for j := range w.slopes() {
			jacobian.Set(row, j, slackMM*jacobian.At(row, j))
		}
	}
	return true
}
