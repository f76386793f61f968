package optimize

import (
	"fmt"

	"springwright/design"
	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/target"

	"gonum.org/v1/gonum/spatial/r3"
)

// sourceKind tells what an error is of.
type sourceKind int

const (
	stiffnessSource sourceKind = iota
	slotPlaceSource            // index 0 to 2: along x, y, z
	slotTurnSource             // index 0 to 2: about x, y, z
	readingSource              // index 0 to 5: of the passive end's shift and turn
	stepSource                 // index: the step of the path
)

// source is one error of a bender, independent of the others.
type source struct {
	kind  sourceKind
	index int
	sd    float64 // mm, rad or, of the stiffness, a share; 0: never off. See mirrorSources for its sign
	name  string
}

// hand bends springs of one design with the errors of a case's bender. It only reads, so
// that goroutines may share it.
type hand struct {
	spring  spring.Spring // as designed
	path    spring.Steps  // of it
	sources []source
	steps   int // index of the first source that is a step; they are the last ones
	check   *neutralCheck
	holds   []beam.Hold
	terms   []loadTerm
	target  target.Target
	judge   judgement
	// mirrored tells that the case is on the side of the mouth whose errors are mirrored.
	mirrored bool
}

func newHand(c design.Case, spring spring.Spring) hand {
	h := hand{spring: spring, path: spring.Path.Steps(), sources: sourcesOf(c.Bender, spring.Path), terms: loadTerms(c), target: c.Target, judge: newJudgement(c, spring)}
	h.steps = len(h.sources) - len(h.path)
	if h.mirrored = onOtherSide(c); h.mirrored {
		h.mirrorSources()
	}
	h.check = newNeutralCheck(c.Bender, spring, h.sources[h.steps:])
	for i := range c.Positions {
		h.holds = append(h.holds, spring.HoldAt(spring.SeatAt(i)))
	}
	return h
}

// sourcesOf lists what a bender may get wrong about a path, those that every spring has
// first, so that two designs can share the random numbers of these. A twist's stretch lies
// between straights, whose lengths carry its place.
func sourcesOf(b design.Bender, path spring.Path) []source {
	sources := []source{
		{stiffnessSource, 0, b.StiffnessSD, "stiffness of the wire"},
		{slotPlaceSource, 0, b.SlotSDMM, "measured place of the active slot along the arch"},
		{slotPlaceSource, 1, b.SlotSDMM, "measured place of the active slot across the arch"},
		{slotPlaceSource, 2, b.SlotSDMM, "measured height of the active slot"},
		{slotTurnSource, 0, b.SlotSDRad, "measured torque of the active slot"},
		{slotTurnSource, 1, b.SlotSDRad, "measured tip of the active slot"},
		{slotTurnSource, 2, b.SlotSDRad, "measured rotation of the active slot"},
	}
	for k, name := range [readDirections]string{
		"along the arch", "across the arch", "in height", "in torque", "in tip", "in rotation",
	} {
		sources = append(sources, source{readingSource, k, readSD(b, k), "check of the passive end " + name})
	}
	numbers := path.BendNumbers()
	for i, number := range numbers {
		s := source{kind: stepSource, index: i}
		switch {
		case number > 0:
			s.sd, s.name = b.AngleSDRad, fmt.Sprintf("angle at bend %d", number)
		case i+1 < len(numbers): // no two straights follow each other
			s.sd, s.name = b.LengthSDMM, fmt.Sprintf("length before bend %d", numbers[i+1])
		default:
			s.sd, s.name = b.LengthSDMM, "length up to the active slot"
		}
		sources = append(sources, s)
	}
	return sources
}

// bent is one spring as it came out.
type bent struct {
	steps     spring.Steps
	stiffness float64 // over the nominal one
	slotMM    r3.Vec  // how far the active slot's centre lies from where it was measured
	slotRad   r3.Vec  // rotation vector, how far it is turned from that
}

// bend turns a standard normal number for each source into a spring; it reuses b's steps and
// overwrites the numbers.
func (h *hand) bend(b *bent, normal []float64) {
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

// leastStiffness keeps the tail of the normal distribution from wires that push back.
const leastStiffness = 0.05

func axis(i int) r3.Vec { return [...]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}[i] }

// holdFor is where the slot really is at a position: moved and turned about its centre.
func (h *hand) holdFor(b *bent, position int) beam.Hold {
	hold := h.holds[position]
	centre := r3.Add(h.spring.Centre(hold.Pose), b.slotMM)
	hold.Pose = hold.Pose.Turned(b.slotRad)
	hold.Pose.At = centre
	hold.Pose = hold.Pose.Along(-h.spring.ActiveSlotLengthMM / 2)
	return hold
}
