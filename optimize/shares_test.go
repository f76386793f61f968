//go:build quality && unix

package optimize

import (
	"flag"
	"fmt"
	"math"
	"strings"
	"testing"

	"springwright/design"
	"springwright/presets"
)

var (
	sharePresets = flag.String("presets", "", "cases whose shares are listed, separated by commas; empty: the presets and the trial case")
	shareTimes   = flag.Int("longer", 0, "how many times the usual starting points are taken")
	sharePreBend = flag.Float64("prebend", 0, "the largest pre-activation bend, degrees; 0: as the case says")
	shareHold    = flag.String("hold", "tied,seated", "how the wire is held")
)

func TestShares(t *testing.T) {
	names := append(presets.Names(), "trial")
	if *sharePresets != "" {
		names = strings.Split(*sharePresets, ",")
	}
	for _, name := range names {
		for _, how := range strings.Split(*shareHold, ",") {
			var c design.Case
			switch name {
			case "trial":
				c = trialCase(t)
			default:
				c = presetCase(t, name)
			}
			if *sharePreBend > 0 {
				c.Limits.LargestPreBendRad = degree(*sharePreBend)
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
