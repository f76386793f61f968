package solve

import (
	"math"
	"testing"

	"springwright/design/spring"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// A closed loop that yields in its bends, in tubes in which its wire bends: its contacts are found from where
// it is put in on, where those of one state after the other are not.
func TestYieldingLoopFindsRestInTubes(t *testing.T) {
	t.Parallel()
	straight := spring.StraightStep
	bend := func(order int, angleRad, radiusMM float64) spring.Step {
		return spring.Step{Kind: spring.Bend, AngleRad: angleRad, RadiusMM: radiusMM, Order: order}
	}
	hold := spring.SlotHold{Play: true, Shifts: true, HeightMM: 0.559, DepthMM: 0.7112}
	s := spring.Spring{
		Path: spring.PathOf(straight(1.015), bend(2, 0.5092, 0.9532), straight(5.505), bend(2, 1.6027, 0.9532), straight(4.214), bend(2, math.Pi, 1.8373),
			bend(1, 0.3491, 0.9532), straight(2.1), bend(1, -0.3491, 0.9532), straight(2.02), bend(2, 1.7845, 0.9532), straight(2.072),
			bend(1, -0.3491, 0.9532), straight(2.1), bend(1, 0.3491, 0.9532), straight(1.341), bend(2, 0.4329, 0.9532), straight(1)),
		Wire:               wire.Wire{EMPa: 65000, Poisson: 0.3, YieldMPa: 900, ThicknessMM: 0.4064, WidthMM: 0.5588, CornerRadiusMM: 0.0894},
		AnchorSlotLengthMM: 3, ActiveSlotLengthMM: 3, AnchorHold: hold, ActiveHold: hold, SlidToRest: spring.SlideActive, DrawnToN: 1.15,
		Start: spring.Seat{AtMM: r3.Vec{X: 12}}, End: spring.Seat{AtMM: r3.Vec{X: 11}}, Positions: 2,
	}
	e := evaluated(t, s)
	if !e.History {
		t.Fatal("it does not yield in its bends")
	}
	// As good as along the slot, by how little the wire is tipped in it.
	within(t, "force along the slot to which it was drawn", -e.Record.Positions[0].Active.ForceN.X, s.DrawnToN, 0.02)
}
