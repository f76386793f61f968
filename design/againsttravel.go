package design

import (
	"math"

	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// mainShare of a travel is a way that counts: a load against it works against the travel.
// Smaller parts are what is left of measuring (choice).
const mainShare = 1.0 / 3

// AgainstTravel is a load that a target asks for and that pushes, or turns, the active tooth
// back from where the travel is to take it.
type AgainstTravel struct {
	Component tooth.Component
	Sense     float64 // sign of the load asked for, on the axis
	Travel    float64 // part of the travel along the axis: mm, or rad where the slot only turns
}

// AgainstTravel lists the loads that the target asks for against the planned travel, with the
// travel's largest part first.
func (c Case) AgainstTravel() []AgainstTravel {
	travel := c.SpringFor(nil).Travel()
	first := tooth.ForceX
	if travel.Turns {
		first = tooth.CoupleX
	}
	along := [3]float64{travel.Way.X, travel.Way.Y, travel.Way.Z}
	var list []AgainstTravel
	for i, part := range along {
		k := first + tooth.Component(i)
		if math.Abs(part) < mainShare*r3.Norm(travel.Way) {
			continue
		}
		sense := c.Target.sense(OfActive(k))
		if sense*part >= 0 {
			continue
		}
		list = append(list, AgainstTravel{Component: k, Sense: sense, Travel: part})
		if last := len(list) - 1; math.Abs(part) > math.Abs(list[0].Travel) {
			list[0], list[last] = list[last], list[0]
		}
	}
	return list
}
