package optimize

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"springwright/design/beam"
	"springwright/design/target"

	"gonum.org/v1/gonum/mat"
)

// hinderShare is the share of the cost that one more step of its grid must save before a
// number's bound is said to stand in the way.
const hinderShare = 0.01

// excesses is how far the spring x goes beyond each limit on room, mm, over all shapes that
// are looked at; negative within.
func (o *objective) excesses(x []float64) map[target.Limit]float64 {
	excessMM := map[target.Limit]float64{}
	note := func(limit target.Limit, mm float64) {
		if now, seen := excessMM[limit]; !seen || mm > now {
			excessMM[limit] = mm
		}
	}
	see := func(position int) {
		o.nodes = o.solver.AppendNodes(o.nodes[:0])
		for _, term := range o.reaches {
			if term.position == position {
				note(term.limit, term.reach(o.nodes)-term.limitMM)
			}
		}
		note(target.SelfLimit, o.gap.excessMM(o.nodes))
	}
	o.solver.Reset(o.spring.RodOf(o.pattern.StepsFor(x)), beam.Origin())
	see(-1)
	for i, hold := range o.holds {
		if o.solver.Follow(hold) != nil {
			break
		}
		see(i)
		if o.spring.HookSlides() {
			note(target.HookLimit, o.hookExcessMM(i))
		}
	}
	return excessMM
}

// exceeded lists how far the spring x goes beyond its limits.
func (s *searcher) exceeded(x []float64, stressRatio float64) []target.Excess {
	var list []target.Excess
	excessMM := s.workers[0].excesses(x)
	for _, limit := range slices.Sorted(maps.Keys(excessMM)) {
		if excess := excessMM[limit]; excess > exceedMM {
			list = append(list, target.Excess{Limit: limit, Beyond: excess})
		}
	}
	if most := s.c.Limits.MostBends; most > 0 && s.bends(x) > most {
		list = append(list, target.Excess{Limit: target.BendsLimit, Beyond: float64(s.bends(x) - most)})
	}
	if over := stressRatio - s.c.Limits.StressRatio(); over > 0 {
		list = append(list, target.Excess{Limit: target.StressLimit, Beyond: over})
	}
	return list
}

// binding returns what stands in the way of a design: the limits that it exceeds, those that
// the best design with every number left free, free, leans on, and the bounds of numbers
// that would save it much if they gave way.
func (s *searcher) binding(free, chosen []float64, r Result) []string {
	var names []string
	add := func(name string) {
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	for _, e := range r.Exceeded {
		if e.Limit != target.StressLimit {
			add(limitName(e.Limit))
		}
	}
	excessMM := s.workers[0].excesses(free)
	for _, limit := range slices.Sorted(maps.Keys(excessMM)) {
		if excessMM[limit] > -marginMM {
			add(limitName(limit))
		}
	}
	if most := s.c.Limits.MostBends; most > 0 && s.bends(chosen) >= most && s.worst(free, s.workers[0]) <= 1 {
		add(limitName(target.BendsLimit))
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
		case free[j] == f.Max && f.Max == l.LoopHeightMM:
			add(limitName(target.FoldLimit))
		case free[j] == f.Max && f.Name == limitName(target.LoopWidthLimit):
			add(limitName(target.LoopWidthLimit))
		default:
			add(fmt.Sprintf("%s at its limit, %.4g mm", f.Name, free[j]))
		}
	}
	if r.After.StressRatio > stressWanted*s.c.Limits.StressRatio() {
		add("yield stress")
	}
	return names
}

// limitName is what a limit is called by whoever has measured or chosen it, with its letter on
// the measuring sheet.
func limitName(l target.Limit) string {
	if letter := l.Letter(); letter != "" {
		return l.String() + " (" + letter + ")"
	}
	return l.String()
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

// exceedMM is how far a limit may be passed: the search's own accuracy.
const exceedMM = 0.02
