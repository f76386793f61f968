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
	shortestMM := m.shortestMM()
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

// shortestMM is what pliers need between two bends.
func (m *model) shortestMM() float64 {
	if leastMM := m.job.Case.Limits.ShortestStraightMM; leastMM > 0 {
		return leastMM
	}
	return usualShortestMM
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

// seatOf is the seat of the anchor end, whose wire goes into the slot as deep as the hand puts it; none where
// the wire slides there, or is bent at the slot.
func (m *model) seatOf() (Place, bool) {
	ok := len(m.drawn) > 1 && m.drawn[0].Kind == spring.Straight && !m.slides(spring.SlideAnchor)
	return Place{Step: 0, Sense: 1, Seat: true}, ok
}

// corrected are steps with corrections made. But for a seat no wire comes or goes: what a bend takes up or
// gives back comes from, and goes to, the straights at its sides.
func corrected(steps spring.Steps, corrections []Correction) spring.Steps {
	out := append(spring.Steps(nil), steps...)
	for _, c := range corrections {
		switch {
		case c.Fresh:
			continue
		case c.Seat:
			out[c.Step].LengthMM = max(0, out[c.Step].LengthMM+c.ByMM)
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
