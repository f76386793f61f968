//go:build quality && unix

package optimize

import (
	"flag"
	"fmt"
	"math"
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/spring"
	"springwright/presets"
)

var (
	sharePresets = flag.String("presets", "", "cases whose shares are listed, separated by commas; empty: the presets and the trial case")
	shareTimes   = flag.Int("longer", 0, "how many times the usual starting points are taken")
	shareHold    = flag.String("hold", "tied,seated", "how the wire is held")
)

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

func TestShares(t *testing.T) {
	names := append(presets.Names(), "trial", "trial10")
	if *sharePresets != "" {
		names = strings.Split(*sharePresets, ",")
	}
	for _, name := range names {
		for _, how := range strings.Split(*shareHold, ",") {
			var c design.Case
			switch name {
			case "trial", "trial10":
				c = trialCase(t)
				if name == "trial10" {
					c.Limits.LargestPreBendRad = degree(10)
				}
			default:
				c = presetCase(t, name)
			}
			c = seatedAs(c, how)
			c.Bender.Springs = 0
			if *shareTimes > 0 {
				c.Search.Starts = *shareTimes * defaultStarts
			}
			began := processorSeconds(t)
			r, err := Search(t.Context(), c, Options{Workers: 2})
			took := processorSeconds(t) - began
			if err != nil {
				fmt.Printf("%-24s %-6s %v\n", name, how, err)
				continue
			}
			b, err := Bent(t.Context(), c, r.Spring, 1000, 77, 2)
			if err != nil {
				t.Error(err)
			}
			var shape []string
			for _, s := range r.Settings {
				if s.Freedom.Angle {
					shape = append(shape, fmt.Sprintf("%.0f°", s.Value*180/math.Pi))
				} else {
					shape = append(shape, fmt.Sprintf("%.4g", s.Value))
				}
			}
			x := make([]float64, len(r.Settings))
			for j := range x {
				x[j] = r.Settings[j].Value
			}
			tr := trialOf(t, c)
			fmt.Printf("%-24s %-6s met %-5v total %.2f shape %.2f linear %.3f bent %.3f cpu %.2f drive %.3f %.3f  %s\n", name, how, r.Met(), tr.costAt(x).total(onGrid()), shapeCost(tr.pattern, x), r.Traits.Share, b.Spread.Share(), took, r.After.DrivingMax, r.After.DrivingMin, strings.Join(shape, " "))
		}
	}
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
