package optimize

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"springwright/design/beam"
)

// nearMM and nearShare tell when a limit is reached: so near to it that more room would
// have been used.
const (
	nearMM    = 0.3
	nearShare = 0.02
)

// standing returns the limits that a spring exceeds, and those that it has come up to:
// what stands in the way where a target cannot be met.
func (o *objective) standing(x []float64) (exceeded, binding []string) {
	excessMM := map[string]float64{}
	note := func(name string, mm float64) {
		if now, seen := excessMM[name]; !seen || mm > now {
			excessMM[name] = mm
		}
	}
	see := func(position int) {
		o.nodes = o.solver.AppendNodes(o.nodes[:0])
		for _, term := range o.reaches {
			if term.position == position {
				reachMM, _, _ := term.reach(o.nodes)
				note(term.name, reachMM-term.limitMM)
			}
		}
		note(gapName, o.gap.nearest(o.nodes).excessMM)
	}
	o.spring.Path = o.pattern.PathFor(x)
	o.solver.Reset(o.spring.Rod(), beam.Origin())
	see(-1)
	for i, hold := range o.holds {
		if o.solver.Follow(hold) != nil {
			break
		}
		see(i)
	}
	for _, name := range slices.Sorted(maps.Keys(excessMM)) {
		switch excess := excessMM[name]; {
		case excess > exceedMM:
			exceeded = append(exceeded, fmt.Sprintf("%s: %.2f mm beyond the limit", name, excess))
			binding = append(binding, name)
		case excess > -nearMM:
			binding = append(binding, name)
		}
	}
	for j, f := range o.pattern.Freedoms {
		near := nearShare * (f.Max - f.Min)
		if math.Abs(x[j]-f.Min) > near && math.Abs(x[j]-f.Max) > near || slices.Contains(binding, f.Name) {
			continue
		}
		unit, value := "mm", x[j]
		if f.Angle {
			unit, value = "°", x[j]*180/math.Pi
		}
		binding = append(binding, fmt.Sprintf("%s at its limit, %.4g %s", f.Name, value, unit))
	}
	return exceeded, binding
}

// standStress adds the yield stress to the limits where the spring comes up to it.
func (r *Result) standStress() {
	ratio := r.After.StressRatio
	if ratio > 1 {
		r.Exceeded = append(r.Exceeded, fmt.Sprintf("stress: %.2f of the yield stress", ratio))
	}
	if ratio > stressWanted {
		r.Binding = append(r.Binding, "yield stress")
	}
}

const gapName = "clearance of the wire from itself"

// exceedMM is how far a limit may be passed: the search's own accuracy.
const exceedMM = 0.02
