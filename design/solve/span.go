package solve

import (
	"errors"
	"fmt"
	"math"

	"springwright/design/beam"
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

// ErrTooShort means that the wire is shorter than the distance that it must span.
var ErrTooShort = errors.New("the wire is too short")

// spanAt is the wire between two places at which the slots hold it, and how far these lie
// apart at a seat, mm: the ends of tied slots and a hook, the centres of slots with play, in
// which the wire passes through straight.
func spanAt(s spring.Spring, seat spring.Seat) (wireMM, spanMM float64) {
	wireMM = s.Path.WireLengthMM()
	from, to := r3.Vec{}, seat.Pose(s.Heading)
	if s.AnchorHold.Play {
		wireMM += s.AnchorSlotLengthMM / 2
		from = s.AnchorCentre()
	}
	if s.ActiveHold.Play {
		wireMM += s.ActiveSlotLengthMM / 2
		to = to.Along(s.ActiveSlotLengthMM / 2)
	}
	return wireMM, r3.Norm(r3.Sub(to.At, from))
}

// mostStretch is by which share of its length the wire could be drawn out before it yields
// or, if it is superelastic, has all turned into martensite.
func mostStretch(s spring.Spring) float64 {
	if l := s.Wire.Superelastic; s.Wire.IsSuperelastic() {
		return l.LoadEndMPa/s.Wire.EMPa + l.TransformationStrain
	}
	if !(s.Wire.EMPa > 0) {
		return 0
	}
	return max(0, s.Wire.YieldMPa/s.Wire.EMPa)
}

// checkSpan returns an error that wraps ErrTooShort where the wire would have to be stretched
// by more than a share of its length to come to a seat. A wire that slides takes what it
// needs out of its slot.
func checkSpan(s spring.Spring, seat spring.Seat, stretch float64) error {
	if s.SlidesAtFirst() {
		return nil
	}
	wireMM, spanMM := spanAt(s, seat)
	if !(spanMM > wireMM*(1+stretch)) || math.IsInf(spanMM, 1) {
		return nil
	}
	return fmt.Errorf("%w: %.2f mm of wire between the slots, %.2f mm to span", ErrTooShort, wireMM, spanMM)
}

// explained adds to a failed solve what is known of its cause: that the wire is shorter than
// what it spans, or at which slot no straight is left.
func explained(s spring.Spring, seat spring.Seat, err error) error {
	if short := checkSpan(s, seat, 0); short != nil {
		return short
	}
	var straight *beam.StraightError
	if !errors.As(err, &straight) {
		return err
	}
	slot := "active"
	if straight.AtBase {
		slot = "anchor"
	}
	switch {
	case straight.StraightMM == 0:
		return fmt.Errorf("%w: the path has none at the %s slot", beam.ErrNoStraight, slot)
	case straight.MissingMM == 0:
		return fmt.Errorf("%w: all of the %.2f mm at the %s slot would slide in, and more", beam.ErrNoStraight, straight.StraightMM, slot)
	default:
		return fmt.Errorf("%w: all of the %.2f mm at the %s slot would slide in, and %.2f mm are missing",
			beam.ErrNoStraight, straight.StraightMM, slot, straight.MissingMM)
	}
}
