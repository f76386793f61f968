package designtest

import (
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

// TurningSpring holds a tooth in two legs with a twist, which is to turn it where it stands.
func TurningSpring(goalRad, twistRad float64) spring.Spring {
	const lengthMM = 16
	return spring.Spring{
		Path: spring.PathOf(
			spring.StraightStep(6), spring.Step{Kind: spring.Twist, AngleRad: twistRad, LengthMM: 2}, spring.StraightStep(lengthMM-8),
		),
		Wire: Titanium(), AnchorSlotLengthMM: 4, ActiveSlotLengthMM: 3, Positions: 3,
		Start: spring.Seat{AtMM: r3.Vec{X: lengthMM}}, End: spring.Seat{AtMM: r3.Vec{X: lengthMM}, Rotation: r3.Vec{X: goalRad}},
	}
}
