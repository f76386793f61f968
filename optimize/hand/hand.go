package hand

import (
	"springwright/design"
	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/target"

	"gonum.org/v1/gonum/spatial/r3"
)

// Hand bends springs of one design with the errors of a case's bender. It only reads, so
// that goroutines may share it.
type Hand struct {
	spring  spring.Spring // as designed, and seated as the search holds it
	path    spring.Steps  // of it
	sources []source
	steps   int // index of the first source that is a step; they are the last ones
	check   *neutralCheck
	seats   []beam.Pose // of the wire's end, along the travel
	terms   []Term
	target  target.Target
	judge   design.Judge
	// mirrored tells that the case is on the side of the mouth whose errors are mirrored.
	mirrored bool
}

// New is the hand of a case's bender for a spring.
func New(c design.Case, s spring.Spring) Hand {
	h := Hand{spring: s, path: s.Path.Steps(), sources: sourcesOf(c.Bender, s.Path), terms: Terms(c), target: c.Target}
	h.steps = len(h.sources) - len(h.path)
	if h.mirrored = c.Hand() < 0; h.mirrored {
		h.mirrorSources()
	}
	h.check = newNeutralCheck(c.Bender, s, h.sources[h.steps:])
	seats := make([]spring.Seat, c.Positions)
	for i := range seats {
		seats[i] = s.SeatAt(i)
		h.seats = append(h.seats, seats[i].Pose(s.Heading))
	}
	h.judge = c.Judge(seats)
	return h
}

// bent is one spring as it came out.
type bent struct {
	steps     spring.Steps
	stiffness float64 // over the nominal one
	gaugeN    float64 // how far the gauge reads beside the force along the wire
	slotMM    r3.Vec  // how far the active slot's centre lies from where it was measured
	slotRad   r3.Vec  // rotation vector, how far it is turned from that
}

// bend turns a standard normal number for each source into a spring; it reuses b's steps and
// overwrites the numbers.
func (h *Hand) bend(b *bent, normal []float64) {
	*b = bent{steps: append(b.steps[:0], h.path...), stiffness: 1}
	if h.check != nil {
		reading := normal[h.steps-readDirections : h.steps]
		for k := range reading {
			reading[k] *= h.sources[h.steps-readDirections+k].sd
		}
		h.check.correct(normal[h.steps:], reading)
	}
	for j, s := range h.sources {
		off := s.sd * normal[j]
		switch s.kind {
		case stiffnessSource:
			b.stiffness = max(leastStiffness, 1+off)
		case gaugeSource:
			b.gaugeN = off
		case slotPlaceSource:
			b.slotMM = r3.Add(b.slotMM, r3.Scale(off, axis(s.index)))
		case slotTurnSource:
			b.slotRad = r3.Add(b.slotRad, r3.Scale(off, axis(s.index)))
		case stepSource:
			if step := &b.steps[s.index]; step.Kind == spring.Straight {
				step.LengthMM = max(0, step.LengthMM+off)
			} else {
				step.AngleRad += off
			}
		}
	}
}

// leastStiffness keeps the tail of the normal distribution from wires that push back (choice: more
// than seven standard deviations of a usual wire away).
const leastStiffness = 0.05

// leastPullN keeps the tail of the normal distribution from a gauge that would push (choice).
const leastPullN = 0.01

func axis(i int) r3.Vec { return [...]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}[i] }

// seatFor is where the slot really is at a position: moved and turned about its centre.
func (h *Hand) seatFor(b *bent, position int) beam.Pose {
	seat := h.seats[position]
	centre := r3.Add(h.spring.Centre(seat), b.slotMM)
	seat = seat.Turned(b.slotRad)
	seat.At = centre
	return seat.Along(-h.spring.ActiveSlotLengthMM / 2)
}
