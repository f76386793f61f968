package optimize

import (
	"springwright/design/beam"

	"gonum.org/v1/gonum/spatial/r3"
)

// closing is the landscape of a pattern whose unloaded end lies in the goal's
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

// turnScaleMM is how many mm a radian weighs as much as: about the size of a loop (choice).
const turnScaleMM = 10

// The rows for the end's place and turn; those for the reach come after them.
const endRows = 6

func (p *closing) size() (numbers, rows int) {
	rows = endRows
	for _, term := range p.o.reaches {
		if term.position < 0 {
			rows += term.rows()
		}
	}
	return len(p.o.pattern.Freedoms), rows
}

// look implements landscape.
func (p *closing) look(x []float64, _ weights, _ float64, r *rows) bool {
	o := p.o
	o.lay(x, r)
	end := o.solver.End()
	gap := r3.Sub(end.At, p.goal.At)
	turn := beam.RotationBetween(p.goal, end)
	for row, v := range [endRows]float64{gap.X, gap.Y, gap.Z, p.turnMM * turn.X, p.turnMM * turn.Y, p.turnMM * turn.Z} {
		if !r.put(kind{part: aims}, v) {
			continue
		}
		r.setSlopes(func(j int) float64 {
			motion := o.nodeSlope(o.solver.Nodes()-1, j)
			// The derivative of the rotation vector is taken as the turn itself: exact at
			// the solution, where it matters.
			return [endRows]float64{
				motion.ShiftMM.X, motion.ShiftMM.Y, motion.ShiftMM.Z,
				p.turnMM * motion.TurnRad.X, p.turnMM * motion.TurnRad.Y, p.turnMM * motion.TurnRad.Z,
			}[row]
		})
	}
	o.putReaches(r, -1)
	for row := endRows; row < r.next; row++ { // a mm too far weighs as much as one at the end
		r.values[row] *= slackMM
		if r.slopes != nil {
			slopes := r.slopes.RawRowView(row)
			for j := range slopes {
				slopes[j] *= slackMM
			}
		}
	}
	return true
}
