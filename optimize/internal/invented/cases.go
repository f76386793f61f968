// Package invented has cases for the tests of the search and of the hand, which no mouth ever had.
package invented

import (
	"math"

	"springwright/design"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// Degree is an angle of so many degrees, rad.
func Degree(angle float64) float64 { return angle * math.Pi / 180 }

// AllFree asks for nothing.
func AllFree() target.LoadWindow {
	free := target.FreeWindow()
	return target.LoadWindow{ForceN: [3]target.Window{free, free, free}, CoupleNMM: [3]target.Window{free, free, free}}
}

// Within is the window of a value with a tolerance.
func Within(value, tolerance float64) target.Window {
	return target.Window{Min: value - tolerance, Max: value + tolerance, Aimed: true}
}

// Study is a long intrusion with slots of no length: a hard and invented case, in which
// a rectangular loop is known to keep the couple near nothing over 3 mm.
func Study() design.Case {
	c := design.Case{
		Code:       "study",
		Teeth:      tooth.Pair{Anchor: 36, Active: 37},
		ActiveSlot: spring.Slot{HeightMM: 0.5588, Fast: true},
		AnchorSlot: spring.Slot{HeightMM: 0.5588, Fast: true},
		Heading:    spring.Back,
		Now:        design.Placement{CentreMM: r3.Vec{X: 10, Z: -3}},
		Goal:       design.Placement{CentreMM: r3.Vec{X: 10}},
		Positions:  7,
		Wire:       wire.Wire{EMPa: 69000, Poisson: 0.33, YieldMPa: 900, ThicknessMM: 0.4318, WidthMM: 0.635},
		Limits: design.Limits{
			LoopHeightMM: 9, LoopWidthMM: 12, RoomMesialMM: 20, RoomDistalMM: 20,
			BendRadiusMM: 0.6, ShortestStraightMM: 1, LargestPreBendRad: math.Pi / 3,
		},
		Target: target.Target{ForceUntilMM: 0.5, Start: AllFree(), Travel: AllFree()},
		Search: design.Search{LengthStepMM: 0.5, AngleStepRad: Degree(1), Seed: 1},
	}
	c.Target.Travel.ForceN[0] = Within(0, 0.06)
	c.Target.Travel.ForceN[2] = target.Window{Min: 0.02, Max: 1}
	c.Target.Travel.CoupleNMM[1] = Within(0, 0.1)
	return c
}

// Spatial asks for all six components: the tooth also stands buccally and torqued.
func Spatial() design.Case {
	c := Study()
	c.ActiveSlot.LengthMM, c.AnchorSlot.LengthMM = 3.5, 4
	c.Now = design.Placement{CentreMM: r3.Vec{X: 13, Y: 1, Z: -2}, Rotation: r3.Vec{X: Degree(8)}}
	c.Goal = design.Placement{CentreMM: r3.Vec{X: 13}}
	c.Positions = 4
	c.Target.AgainstTravelMeant = true // the tooth is pushed buccally on its way lingually
	for i := range 3 {
		c.Target.Travel.ForceN[i] = Within(0.1*float64(i), 0.06)
		c.Target.Travel.CoupleNMM[i] = Within(0, 0.5)
	}
	return c
}

// AskingAll is the study case with a window for every kind of quantity.
func AskingAll() design.Case {
	c := Study()
	c.ActiveSlot.LengthMM, c.AnchorSlot.LengthMM = 3, 4
	c.Positions = 4
	c.Resistance = design.Resistances{Active: tooth.ResistanceOf(37), Anchor: tooth.ResistanceOf(36)}
	c.Target.Travel.ForceN[0] = target.Window{Min: 0.1, Max: 0.6}
	c.Target.Travel.CoupleNMM[1] = target.FreeWindow()
	c.Target.MomentToForceMM = Within(4, 0.5)
	c.Target.MaxRateNPerMM = 0.01
	for i := range 3 {
		c.Target.Anchor.ForceN[i] = Within(0.1*float64(i+1), 0.05)
		c.Target.Anchor.CoupleNMM[i] = Within(1, 0.5)
	}
	c.Target.Anchor.ForceN[2].Weight = 3
	return c
}

// Shrunk is a bender with errors that many times as large, so small that everything is linear.
func Shrunk(b design.Bender, by float64) design.Bender {
	b.AngleSDRad *= by
	b.LengthSDMM *= by
	b.SlotSDMM *= by
	b.SlotSDRad *= by
	b.StiffnessSD *= by
	b.CheckSDMM *= by
	b.CheckSDRad *= by
	return b
}
