package spring

import (
	"springwright/design/beam"
)

// seatOf is the seat whose pose is end.
func (s Spring) SeatOf(end beam.Pose) Seat {
	return Seat{AtMM: end.At, Rotation: beam.RotationBetween(Seat{}.Pose(s.Heading), end)}
}
