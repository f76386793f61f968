package asbent

import (
	"math"

	"springwright/design/spring"
)

// MostCorrected is how many corrections are searched together at most.
const MostCorrected = 2

// placesOf are the places where a spring can be corrected: its bends and twists, and the middles of
// straights that leave pliers their room on either side. Straights that slide in a slot are left alone.
func (m *model) placesOf() []Place {
	var places []Place
	shortestMM := m.job.Case.Limits.ShortestStraightMM
	if shortestMM <= 0 {
		shortestMM = usualShortestMM
	}
	last := len(m.drawn) - 1
	for i, s := range m.drawn {
		switch {
		case s.Kind != spring.Straight:
			places = append(places, Place{Step: i, Sense: math.Copysign(1, s.AngleRad)})
		case i == 0 && m.slides(spring.SlideAnchor), i == last && m.slides(spring.SlideActive):
		case s.LengthMM >= 2*shortestMM+largestCorrectionRad*m.freshRadiusMM(i):
			places = append(places, Place{Step: i, Fresh: true, RadiusMM: m.freshRadiusMM(i), Sense: 1})
		}
	}
	return places
}

// usualShortestMM is what pliers need between two bends (common practice).
const usualShortestMM = 1.0

func (m *model) slides(slot spring.Slide) bool {
	return m.spring.Slide == slot || m.spring.SlidToRest == slot
}

// freshRadiusMM is that of the nearest bend in the plane, as the same pliers make it.
func (m *model) freshRadiusMM(step int) float64 {
	best, radiusMM := len(m.drawn)+1, m.job.Case.Limits.BendRadiusMM
	for i, s := range m.drawn {
		if away := max(i-step, step-i); s.Kind == spring.Bend && s.Order != 1 && away < best {
			best, radiusMM = away, s.RadiusMM
		}
	}
	if radiusMM <= 0 {
		radiusMM = usualRadiusMM
	}
	return radiusMM
}

// usualRadiusMM is that of bends where neither spring nor case tells one: pliers of 0.75 mm (common
// practice) and half a wire.
const usualRadiusMM = 0.95

// corrected are steps with corrections made. No wire comes or goes: what a bend takes up or gives back
// comes from, and goes to, the straights at its sides.
func corrected(steps spring.Steps, corrections []Correction) spring.Steps {
	out := append(spring.Steps(nil), steps...)
	for _, c := range corrections {
		if c.Fresh {
			continue
		}
		s := &out[c.Step]
		before := s.WireLengthMM()
		s.AngleRad += c.Sense * c.ByRad
		takeUp(out, c.Step, s.WireLengthMM()-before)
	}
	// From the far end on, so that the numbers of the steps in front stay.
	for i := len(steps) - 1; i >= 0; i-- {
		for _, c := range corrections {
			if !c.Fresh || c.Step != i {
				continue
			}
			bend := spring.BendStep(c.Sense*c.ByRad, c.RadiusMM)
			half := spring.StraightStep(max(0, (out[i].LengthMM-bend.WireLengthMM())/2))
			out = append(out[:i:i], append(spring.Steps{half, bend, half}, out[i+1:]...)...)
		}
	}
	return out
}

// takeUp has the straights beside a bend give it wire.
func takeUp(steps spring.Steps, bend int, lengthMM float64) {
	var beside []int
	for _, i := range [...]int{bend - 1, bend + 1} {
		if i >= 0 && i < len(steps) && steps[i].Kind == spring.Straight {
			beside = append(beside, i)
		}
	}
	for _, i := range beside {
		steps[i].LengthMM = max(0, steps[i].LengthMM-lengthMM/float64(len(beside)))
	}
}
