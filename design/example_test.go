package design_test

import (
	"fmt"
	"math"

	"springwright/design"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// A case that is built in code says what it lacks, as a case file would.
func ExampleCase_Validate() {
	const degree = math.Pi / 180
	titanium := wire.Wire{EMPa: 65000, Poisson: 0.33, YieldMPa: 900, ThicknessMM: 0.4318, WidthMM: 0.635}
	c := design.Case{
		Code:       "example-37",
		Teeth:      tooth.Pair{Anchor: 36, Active: 37},
		AnchorSlot: spring.Slot{HeightMM: 0.5588, LengthMM: 4},
		ActiveSlot: spring.Slot{HeightMM: 0.5588, LengthMM: 3.5},
		Heading:    spring.Back,
		Now:        design.Placement{CentreMM: r3.Vec{X: 12.5, Z: -2}},
		Goal:       design.Placement{CentreMM: r3.Vec{X: 12.5}},
		Positions:  7,
		Wire:       titanium,
		Limits: design.Limits{
			LoopHeightMM: 9, LoopWidthMM: 12, RoomMesialMM: 7, RoomDistalMM: 6,
			BendRadiusMM: 0.75 + titanium.HeightMM()/2, ShortestStraightMM: 1, LargestPreBendRad: 45 * degree,
		},
		Bender: design.SkilledBender(),
	}
	c.Target.ForceUntilMM = 0.5
	c.Target.Travel.ForceN[2] = target.Window{Min: 0.05} // at least? It has no upper end but 0
	fmt.Println(c.Validate())

	c.Target.Travel.ForceN[2] = target.Within(0.05, 0.6) // N intrusive
	c.Target.Travel.CoupleNMM[1] = target.About(0, 0.5)
	c.Target = c.Target.WithUsualLimits(c.Teeth.Active) // for what is not asked for
	c.Search = design.Search{LengthStepMM: 0.5, AngleStepRad: 1 * degree, Seed: 1}
	fmt.Println(c.Validate())
	// Output:
	// target.travel.intrusive_n.max: 0 is not above min, 0.05
	//   hint: swap the two, or widen the window; one that lacks an end is AtLeast or AtMost
	// search.length_step_mm: 0 mm is out of range, allowed is 0.01 to 5 mm
	//   hint: check the value
	// search.angle_step_deg: 0 deg is out of range, allowed is 0.01 to 15 deg
	//   hint: check the value
	// <nil>
}
