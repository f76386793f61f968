package beam

import "gonum.org/v1/gonum/spatial/r3"

// HoldSlopes returns the exact derivatives of the discrete solution of the last Follow by a
// move of the hold that it ended in: 0 to 2 by a mm along the global axes, the frame kept;
// 3 to 5 by a rad about global axes through the hold. The points that the loads are taken
// about go with the end; what is free stays so along the hold's axes, which turn with it.
// Either all turns or none may be free. It reports false where the end is at a limit of stability, and for a wire with memory.
func (s *Solver) HoldSlopes(hold Hold) (slopes [6]Slope, ok bool) {
	if s.points != nil {
		return slopes, false
	}
	s.exactTangent()
	hold.Pose.At = r3.Sub(hold.Pose.At, s.base.At)
	t := target{hold: hold, at: hold.Pose}
	end := s.end()
	flexibility := &s.flexibility[len(s.steps)]
	jacobian := s.jacobian(&t, &end, flexibility)
	tangent := factor(&jacobian)
	if tangent.singular {
		return slopes, false
	}
	scale := s.scales()
	moment, gap := s.endMoment(&end), r3.Sub(end.At, hold.Pose.At)
	for i := range slopes {
		var unit vec6
		unit[i] = 1
		shift, turn := r3.Vec{X: unit[0], Y: unit[1], Z: unit[2]}, r3.Vec{X: unit[3], Y: unit[4], Z: unit[5]}
		// What the end falls behind when the hold moves on without it: its place and turn
		// where they are held, and the load along an axis that turns where they are free.
		var behind vec6
		for k, axis := range [...]r3.Vec{hold.Pose.D1, hold.Pose.D2, hold.Pose.D3} {
			turned := r3.Cross(turn, axis)
			behind[k] = scale.place * (r3.Dot(axis, shift) - r3.Dot(turned, gap))
			if hold.FreeMove[k] {
				behind[k] = -scale.force * r3.Dot(turned, s.force)
			}
			behind[3+k] = r3.Dot(axis, turn)
			if hold.FreeTurn[k] {
				behind[3+k] = -scale.moment * r3.Dot(turned, moment)
			}
		}
		load := tangent.solve(&behind)
		slopes[i] = s.slope(load, flexibility.mul(&load))
	}
	return slopes, true
}
