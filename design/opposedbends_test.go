package design

import "springwright/design/beam"

// OpposedBends takes the wire from its passive shape to the first seat and returns its opposed
// bends, as Evaluate does on its way.
func (s Spring) OpposedBends() ([]OpposedBend, error) {
	solver := beam.NewSolver(s.Rod(), beam.Origin(), s.solverOptions())
	slots, err := newSlotFollower(s, solver)
	if err != nil {
		return nil, err
	}
	if _, err := slots.follow(s.SeatAt(0)); err != nil {
		return nil, err
	}
	return s.opposedBends(solver.AppendNodes(nil)), nil
}
