package design

import (
	"math"

	"springwright/design/spring"
	"springwright/design/target"
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

// leastTurnRad is a turn that counts as planned beside a shift (choice): a case that gives less
// has most likely copied what was measured.
const LeastTurnRad = 2 * math.Pi / 180

// AgainstTravel lists the loads that the target asks for against the planned travel: forces
// against its shift, couples against its turn, of either the largest part first.
func (c Case) AgainstTravel() []AgainstTravel {
	spring := c.SpringFor(spring.Path{})
	travel := spring.Travel()
	if travel.Turns {
		return c.against(tooth.CoupleX, travel.Way)
	}
	list := c.against(tooth.ForceX, travel.Way)
	if turn := r3.Sub(spring.End.Rotation, spring.Start.Rotation); r3.Norm(turn) >= LeastTurnRad {
		list = append(list, c.against(tooth.CoupleX, turn)...)
	}
	return list
}

// against lists the components from first on that are asked for against a way.
func (c Case) against(first tooth.Component, way r3.Vec) []AgainstTravel {
	along := [3]float64{way.X, way.Y, way.Z}
	var list []AgainstTravel
	for i, part := range along {
		k := first + tooth.Component(i)
		if math.Abs(part) < mainShare*r3.Norm(way) {
			continue
		}
		sense := c.Target.Sense(target.OfActive(k))
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
