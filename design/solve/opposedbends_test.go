package solve

import (
	"springwright/design/beam"
	"springwright/design/spring"
)

// OpposedBends takes the wire from its passive shape to the first seat and returns its opposed
// bends, as Evaluate does on its way.
func OpposedBends(s spring.Spring) ([]OpposedBend, error) {
	solver := beam.NewSolver(s.Rod(), beam.Origin(), solverOptions(s))
	slots, err := newSlotFollower(s, solver)
	if err != nil {
		return nil, err
	}
	if _, err := slots.follow(s.SeatAt(0)); err != nil {
		return nil, err
	}
	return opposedBends(s, solver.AppendNodes(nil)), nil
}
