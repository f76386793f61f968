package solve

import (
	"math"

	"springwright/design/beam"
	"springwright/design/notice"
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

// HookToleranceMM is how far a hook that slides may come to hang from the tooth's point, one
// way: half the width of a bracket, some 3 mm (common practice), less half a millimetre for
// the wire and the hand. Beyond it the hook does not hang on the tooth.
const HookToleranceMM = 1.0

// HookOffMM is how far along the axis of its seat the wire's end lies from the tooth's point,
// with sign: 0 for a hook that does not slide.
func HookOffMM(s spring.Spring, endMM r3.Vec, seat beam.Pose) float64 {
	if !s.HookSlides() {
		return 0
	}
	return r3.Dot(seat.D1, r3.Sub(endMM, seat.At))
}

// hookAt is where the wire's end hangs if it is a hook that slides, else nil.
func hookAt(s spring.Spring, end beam.Pose) *r3.Vec {
	if !s.HookSlides() {
		return nil
	}
	return &end.At
}

// warnOfHook warns of a hook that slides off its tooth.
func (e *Evaluation) warnOfHook(s spring.Spring) {
	const roundingMM = 0.005 // less than is printed
	worst, left := 0.0, 0.0
	for _, p := range e.Record.Positions {
		if p.HookMM == nil {
			continue
		}
		if off := math.Abs(HookOffMM(s, *p.HookMM, p.Seat.Pose(s.Heading))); off > worst {
			worst, left = off, p.TravelLeftMM
		}
	}
	if worst > HookToleranceMM+roundingMM {
		e.Warnings = append(e.Warnings, notice.HookOff{OffMM: worst, AllowedMM: HookToleranceMM, TravelLeftMM: left})
	}
}
