package beam

import "gonum.org/v1/gonum/spatial/r3"

// HoldSlopes returns the exact derivatives of the discrete solution of the last Follow by a
// move of the clamp that it ended in: 0 to 2 by a mm along the global axes, the frame kept;
// 3 to 5 by a rad about global axes through the end. It reports false where the end is at a
// limit of stability, and for a wire with memory. The loads' own points go with the end.
func (s *Solver) HoldSlopes(hold Hold) (slopes [6]Slope, ok bool) {
	if s.points != nil {
		return slopes, false
	}
	if s.rough {
		s.linearise()
	}
	hold.Pose.At = r3.Sub(hold.Pose.At, s.base.At)
	t := target{hold: hold, at: hold.Pose}
	end := s.end()
	jacobian := s.jacobian(&t, &end, &s.flexibility[len(s.steps)])
	tangent := factor(&jacobian)
	if tangent.singular {
		return slopes, false
	}
	for i := range slopes {
		var direction [3]float64
		direction[i%3] = 1
		axis := r3.Vec{X: direction[0], Y: direction[1], Z: direction[2]}
		// The shift of a motion is that of the point at the base.
		motion := vec6{3: axis.X, 4: axis.Y, 5: axis.Z}
		if i >= 3 {
			shift := r3.Cross(end.At, axis)
			motion = vec6{axis.X, axis.Y, axis.Z, shift.X, shift.Y, shift.Z}
		}
		// The end must follow: the residual by the load makes up for the residual that
		// the end had if it moved by as much with the clamp left behind.
		var none vec6
		res := s.residualSlope(&t, &end, &motion, &none)
		slopes[i] = s.slope(tangent.solve(&res), motion)
	}
	return slopes, true
}
