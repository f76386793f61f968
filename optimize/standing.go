package optimize

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"springwright/design"
	"springwright/design/beam"

	"gonum.org/v1/gonum/mat"
)

// hinderShare is the share of the cost that one more step of its grid must save before a
// number's bound is said to stand in the way.
const hinderShare = 0.01

// excesses is how far the spring x goes beyond each limit on room, mm, over all shapes that
// are looked at; negative within.
func (o *objective) excesses(x []float64) map[string]float64 {
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
				note(term.name, term.reach(o.nodes)-term.limitMM)
			}
		}
		note(gapName, o.gap.excessMM(o.nodes))
	}
	o.spring.Path = o.pattern.PathFor(x)
	o.solver.Reset(o.spring.Rod(), beam.Origin())
	see(-1)
	for i, hold := range o.holds {
		if o.solver.Follow(hold) != nil {
			break
		}
		see(i)
		if o.spring.HookSlides() {
			note(hookName, o.hookExcessMM(i))
		}
	}
	return excessMM
}

// exceeded returns the limits on room and bends that the spring x goes beyond: what is said
// of them, and their names.
func (s *searcher) exceeded(x []float64) (lines, names []string) {
	excessMM := s.workers[0].excesses(x)
	for _, name := range slices.Sorted(maps.Keys(excessMM)) {
		if excess := excessMM[name]; excess > exceedMM {
			lines = append(lines, fmt.Sprintf("%s: %.2f mm beyond the limit", name, excess))
			names = append(names, name)
		}
	}
	if most := s.c.Limits.MostBends; most > 0 && s.bends(x) > most {
		lines = append(lines, fmt.Sprintf("%s: %d, allowed are %d", bendsName, s.bends(x), most))
		names = append(names, bendsName)
	}
	return lines, names
}

const bendsName = "number of bends"

// binding returns what stands in the way of a design: the limits that it exceeds, those that
// the best design with every number left free, free, leans on, and the bounds of numbers
// that would save it much if they gave way.
func (s *searcher) binding(free, chosen []float64, exceeded []string) []string {
	names := slices.Clone(exceeded)
	add := func(name string) {
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	excessMM := s.workers[0].excesses(free)
	for _, name := range slices.Sorted(maps.Keys(excessMM)) {
		if excessMM[name] > -marginMM {
			add(name)
		}
	}
	if most := s.c.Limits.MostBends; most > 0 && s.bends(chosen) >= most && s.worst(free, s.workers[0]) <= 1 {
		add(bendsName)
	}
	for _, j := range s.hindering(free) {
		f, l := s.pattern.Freedoms[j], s.c.Limits
		switch {
		case f.Angle && math.Abs(math.Abs(free[j]-f.Neutral)-l.LargestPreBendRad) < 1e-9:
			add(fmt.Sprintf("largest pre-activation bend, %.4g°", l.LargestPreBendRad*180/math.Pi))
		case f.Angle:
			add(fmt.Sprintf("%s at its limit, %.4g°", f.Name, free[j]*180/math.Pi))
		case !f.Radius && free[j] == f.Min && f.Min == l.ShortestStraightMM:
			add(fmt.Sprintf("shortest straight, %.4g mm", f.Min))
		case !slices.Contains(names, f.Name):
			add(fmt.Sprintf("%s at its limit, %.4g mm", f.Name, free[j]))
		}
	}
	return names
}

// hindering lists the numbers that lie at a bound, at an optimum of the free search, and
// would save much of the cost beyond it.
func (s *searcher) hindering(free []float64) []int {
	s.prefer(freePreference)
	defer s.prefer(1)
	worker := s.workers[0]
	n, m := worker.size()
	r, jacobian := make([]float64, m), mat.NewDense(m, n, nil)
	if !worker.residuals(free, r, jacobian, toTheEnd) {
		return nil
	}
	var hindering []int
	for j, f := range s.pattern.Freedoms {
		gradient := dot(mat.Col(nil, j, jacobian), r)
		outward := free[j] <= f.Min && gradient > 0 || free[j] >= f.Max && gradient < 0
		if outward && math.Abs(gradient)*f.Grid > hinderShare*halfSquares(r) {
			hindering = append(hindering, j)
		}
	}
	return hindering
}

// standStress adds the stress to the limits where the spring comes up to it.
func (r *Result) standStress(l design.Limits) {
	ratio, allowed := r.After.StressRatio, l.StressRatio()
	if ratio > allowed {
		line := fmt.Sprintf("stress: %.2f of the yield stress", ratio)
		if allowed < 1 {
			line += fmt.Sprintf(", allowed is %.2f", allowed)
		}
		r.Exceeded = append(r.Exceeded, line)
	}
	if ratio > stressWanted*allowed {
		r.Binding = append(r.Binding, "yield stress")
	}
}

const gapName = "clearance of the wire from itself"

// exceedMM is how far a limit may be passed: the search's own accuracy.
const exceedMM = 0.02
