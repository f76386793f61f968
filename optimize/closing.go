package optimize

import (
	"springwright/design"
	"springwright/design/beam"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// closing is the least-squares problem of a pattern whose unloaded end lies in the goal's
// slot. Random numbers give loops that end anywhere; pulled close first, they make
// starting points that the real problem can be solved from.
type closing struct {
	pattern    design.Pattern
	rod        beam.Rod
	goal       beam.Pose
	turnMM     float64 // what a radian weighs
	solver     *beam.Solver
	parameters []beam.Parameter
}

func newClosing(c design.Case, pattern design.Pattern) *closing {
	spring := c.SpringFor(pattern.Path)
	turnMM := float64(turnScaleMM)
	if spring.ActiveHold.Hook { // any turn will do
		turnMM = 0
	}
	return &closing{
		turnMM:  turnMM,
		pattern: pattern,
		rod:     spring.Rod(),
		goal:    spring.SeatAt(c.Positions - 1).Pose(c.Heading),
		solver:  beam.NewSolver(spring.Rod(), beam.Origin(), searchAccuracy),
	}
}

func (p *closing) size() (variables, residuals int) { return len(p.pattern.Freedoms), 6 }

const turnScaleMM = 10 // a radian weighs as much as this many mm

func (p *closing) residuals(x, r []float64, jacobian *mat.Dense, enough float64) bool {
	path := p.pattern.PathFor(x)
	p.rod.Pieces = path.Pieces()
	p.solver.Reset(p.rod, beam.Origin())
	end := p.solver.End()
	gap := r3.Sub(end.At, p.goal.At)
	turn := beam.RotationBetween(p.goal, end)
	copy(r, []float64{gap.X, gap.Y, gap.Z, p.turnMM * turn.X, p.turnMM * turn.Y, p.turnMM * turn.Z})
	if jacobian == nil {
		return true
	}
	p.parameters = p.pattern.Parameters(path)
	p.solver.UnloadedSlopes(p.parameters)
	for j := range x {
		motion := p.solver.NodeSlope(p.solver.Nodes()-1, j, &beam.Slope{})
		// The derivative of the rotation vector is taken as the turn itself: exact at
		// the solution, where it matters.
		jacobian.SetCol(j, []float64{
			motion.ShiftMM.X, motion.ShiftMM.Y, motion.ShiftMM.Z,
			p.turnMM * motion.TurnRad.X, p.turnMM * motion.TurnRad.Y, p.turnMM * motion.TurnRad.Z,
		})
	}
	return true
}
