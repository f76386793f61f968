package beam

// reachSlotsWithMemory is the loop of reachSlots for a wire that remembers: a step is halved
// until it brings the wire nearer to its target, as in solveWithMemory, or makes the next
// step shorter (Deuflhard, Newton Methods for Nonlinear Problems, 2004, section 3.1): wire
// that slides is so stiff along itself that the error alone may have to rise. The tangent depends
// on the way the wire goes, so that it has no second variation to judge stability by.
func (s *Solver) reachSlotsWithMemory(t *slotTarget) error {
	s.updateTangent()
	system := s.slotSystem(t)
	for range memoryMaximum {
		miss := system.worst()
		if miss <= s.options.Tolerance {
			return nil
		}
		delta, ok := system.solve()
		if !ok {
			return ErrUnstable
		}
		if !(s.largestSlotTurn(system, &delta) <= longestTurn) { // also catches NaN
			return ErrNoConvergence
		}
		before := s.Configuration()
		corner := s.atCorner()
		cause := ErrNoConvergence
		for share := 1.0; ; share /= 2 {
			if share < memoryLeastStep {
				return cause
			}
			part := delta
			for i := range part {
				part[i] *= share
			}
			if s.applySlotStep(system, &part) {
				s.turnBase()
				s.shoot()
				s.updateTangent()
				next := s.slotSystem(t)
				further, ok := next.solve()
				if ok && !s.broken() && (corner || next.worst() < miss || further.size() <= (1-share/2)*delta.size()) {
					system = next
					break
				}
			} else {
				cause = ErrNoStraight
			}
			s.Restore(before)
		}
	}
	return ErrNoConvergence
}
