package optimize

import (
	"math"
	"testing"

	"springwright/design"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/design/wire"
	"springwright/presets"

	"gonum.org/v1/gonum/spatial/r3"
)

func degree(angle float64) float64 { return angle * math.Pi / 180 }

func allFree() target.LoadWindow {
	free := target.FreeWindow()
	return target.LoadWindow{ForceN: [3]target.Window{free, free, free}, CoupleNMM: [3]target.Window{free, free, free}}
}

// within is the window of a value with a tolerance.
func within(value, tolerance float64) target.Window {
	return target.Window{Min: value - tolerance, Max: value + tolerance, Aimed: true}
}

// studyCase is a long intrusion with slots of no length: a hard and invented case, in which
// a rectangular loop is known to keep the couple near nothing over 3 mm.
func studyCase() design.Case {
	c := design.Case{
		Code:       "study",
		Teeth:      tooth.Pair{Anchor: 36, Active: 37},
		ActiveSlot: spring.Slot{HeightMM: 0.5588},
		AnchorSlot: spring.Slot{HeightMM: 0.5588},
		Heading:    spring.Back,
		Now:        design.Placement{CentreMM: r3.Vec{X: 10, Z: -3}},
		Goal:       design.Placement{CentreMM: r3.Vec{X: 10}},
		Positions:  7,
		Wire:       wire.Wire{EMPa: 69000, Poisson: 0.33, YieldMPa: 900, ThicknessMM: 0.4318, WidthMM: 0.635},
		Limits: design.Limits{
			LoopHeightMM: 9, LoopWidthMM: 12, RoomMesialMM: 20, RoomDistalMM: 20,
			BendRadiusMM: 0.6, ShortestStraightMM: 1, LargestPreBendRad: math.Pi / 3,
		},
		Target: target.Target{ForceUntilMM: 0.5, Start: allFree(), Travel: allFree()},
		Search: design.Search{LengthStepMM: 0.5, AngleStepRad: degree(1), Seed: 1},
	}
	c.Target.Travel.ForceN[0] = within(0, 0.06)
	c.Target.Travel.ForceN[2] = target.Window{Min: 0.02, Max: 1}
	c.Target.Travel.CoupleNMM[1] = within(0, 0.1)
	return c
}

// spatialCase asks for all six components: the tooth also stands buccally and torqued.
func spatialCase() design.Case {
	c := studyCase()
	c.ActiveSlot.LengthMM, c.AnchorSlot.LengthMM = 3.5, 4
	c.Now = design.Placement{CentreMM: r3.Vec{X: 13, Y: 1, Z: -2}, Rotation: r3.Vec{X: degree(8)}}
	c.Goal = design.Placement{CentreMM: r3.Vec{X: 13}}
	c.Positions = 4
	c.Target.AgainstTravelMeant = true // the tooth is pushed buccally on its way lingually
	for i := range 3 {
		c.Target.Travel.ForceN[i] = within(0.1*float64(i), 0.06)
		c.Target.Travel.CoupleNMM[i] = within(0, 0.5)
	}
	return c
}

func demoCase(t testing.TB) design.Case {
	t.Helper()
	_, c, err := presets.Case(presets.Demo)
	if err != nil {
		t.Fatal(err)
	}
	return c
}
