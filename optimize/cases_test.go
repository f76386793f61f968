package optimize

import (
	"testing"

	"springwright/design"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/optimize/internal/invented"
)

func degree(angle float64) float64                  { return invented.Degree(angle) }
func allFree() target.LoadWindow                    { return invented.AllFree() }
func within(value, tolerance float64) target.Window { return invented.Within(value, tolerance) }
func studyCase() design.Case                        { return invented.Study() }
func spatialCase() design.Case                      { return invented.Spatial() }

func askingAll() design.Case { return invented.AskingAll() }

func demoCase(t testing.TB) design.Case {
	t.Helper()
	c, err := invented.TiedLoop()
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// seatedAs is a case with its seating told: tied fast, or in tubes, slid to rest and cinched.
func seatedAs(c design.Case, how string) design.Case {
	if how == "tied" {
		return c
	}
	if !c.AnchorSlot.Hook && c.AnchorSlot.LengthMM > 0 {
		c.AnchorSlot.Seating = spring.Seating{Kind: spring.Tube, Tie: spring.Cinched}
	}
	if !c.ActiveSlot.Hook && c.ActiveSlot.LengthMM > 0 {
		c.ActiveSlot.Seating = spring.Seating{Kind: spring.Tube, Tie: spring.Cinched, Before: spring.ToRest}
		if _, a := (design.Case{Target: c.Target}).Seating(); a.Before == spring.AsMeasured {
			c.ActiveSlot.Seating.Before = spring.AsMeasured
		}
	}
	return c
}

func trialCase(t testing.TB) design.Case {
	c := demoCase(t)
	c.Wire.ThicknessMM, c.Wire.WidthMM = 0.016*25.4, 0.022*25.4
	c.Target.ForceUntilMM = 0
	for _, w := range []*design.Case{&c} {
		w.Target.Travel.ForceN[2].Min, w.Target.Travel.ForceN[2].Max = 0.05, 0.60
		w.Target.Start.ForceN[2].Min, w.Target.Start.ForceN[2].Max = 0.05, 0.60
		for _, i := range []int{0, 1} {
			w.Target.Travel.ForceN[i] = within(0, 0.2)
		}
		for i := range 3 {
			w.Target.Travel.CoupleNMM[i] = within(0, 1.5)
		}
	}
	return c
}
