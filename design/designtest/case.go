package designtest

import (
	"springwright/design"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// FreeLoad lets every component of a load be anything.
func FreeLoad() target.LoadWindow {
	free := target.FreeWindow()
	return target.LoadWindow{ForceN: [3]target.Window{free, free, free}, CoupleNMM: [3]target.Window{free, free, free}}
}

// Titanium is a beta-titanium wire of usual size.
func Titanium() wire.Wire {
	return wire.Wire{EMPa: 69000, Poisson: 0.33, YieldMPa: 900, ThicknessMM: 0.4318, WidthMM: 0.635}
}

// LoopCase is an invented intrusion in the plane.
func LoopCase() design.Case {
	return design.Case{
		Teeth:      tooth.Pair{Anchor: 36, Active: 37},
		AnchorSlot: spring.Slot{HeightMM: 0.5588, LengthMM: 4},
		ActiveSlot: spring.Slot{HeightMM: 0.5588, LengthMM: 3.5},
		Heading:    spring.Back,
		Now:        design.Placement{CentreMM: r3.Vec{X: 12.5, Z: -2}},
		Goal:       design.Placement{CentreMM: r3.Vec{X: 12.5}},
		Positions:  5,
		Wire:       Titanium(),
		Limits: design.Limits{
			LoopHeightMM: 9, LoopWidthMM: 12, RoomMesialMM: 7, RoomDistalMM: 6,
			BendRadiusMM: 0.6, ShortestStraightMM: 1, LargestPreBendRad: Degree(45),
		},
		Target: target.Target{Start: FreeLoad(), Travel: FreeLoad()},
		Search: design.Search{LengthStepMM: 0.5, AngleStepRad: Degree(1)},
	}
}
