package hand

import (
	"fmt"

	"springwright/design"
	"springwright/design/spring"
)

// sourceKind tells what an error is of.
type sourceKind int

const (
	stiffnessSource sourceKind = iota
	slotPlaceSource            // index 0 to 2: along x, y, z
	slotTurnSource             // index 0 to 2: about x, y, z
	readingSource              // index 0 to 5: of the passive end's shift and turn
	gaugeSource                // of the force to which the wire is drawn, N
	stepSource                 // index: the step of the path
)

// source is one error of a bender, independent of the others.
type source struct {
	kind  sourceKind
	index int
	sd    float64 // mm, rad or, of the stiffness, a share; 0: never off. See mirrorSources for its sign
	name  string
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
		{gaugeSource, 0, b.GaugeSDN, "reading of the gauge"},
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
