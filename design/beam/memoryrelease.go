package beam

import "gonum.org/v1/gonum/spatial/r3"

// releaseSteps is in how many steps a section is let go. One would do where it does not
// yield on the way back; where it does, in very long strain only, ten times as many move
// the set by less than a thousandth.
const releaseSteps = 3

// Released is where the end of a wire that remembers would lie, seen from its start, if its
// slots let go of it: of the part that has so much wire before it and before its end. The
// wire in the solver stays as it is. ok is false where a section does not answer.
//
// Nothing holds the wire then, so that no section carries any load: each is let go for
// itself, along its own load. Hanging the end free under the slot's load and taking that
// away instead asks for more than there is: a shape that the slots hold safely may topple
// under the same load when it hangs, and has no way back then.
func (s *Solver) Released(fromMM, toMM float64) (end Pose, ok bool) {
	end = Origin()
	atMM := 0.0
	for i := range s.steps {
		nextMM := atMM + s.steps[i].lengthMM
		covered := max(0, min(nextMM, toMM)-max(atMM, fromMM))
		atMM = nextMM
		if covered == 0 {
			continue
		}
		p := s.points[i].Clone()
		var left Stretch
		for k := releaseSteps - 1.0; k >= 0; k-- {
			load := s.yielding[i].load
			for j := range load {
				load[j] *= k / releaseSteps
			}
			if left, _, ok = p.Respond(load); !ok {
				return end, false
			}
			p.Keep()
		}
		end = end.exp(twist{
			ang: r3.Add(s.steps[i].curvature, r3.Vec{X: left[1], Y: left[2], Z: left[3]}),
			lin: r3.Vec{X: 1 + left[0]},
		}.scaled(covered))
	}
	return end, true
}
