package optimize

import (
	"maps"
	"math"
	"slices"

	"springwright/design/notice"
	"springwright/design/target"
	"springwright/optimize/lsq"

	"gonum.org/v1/gonum/mat"
)

// hinderShare is the share of the cost that one more step of its grid must save before a
// number's bound is said to stand in the way (choice).
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
	o.path.SetSteps(o.pattern.StepsFor(x))
	see(-1)
	for i, seat := range o.seats {
		if o.path.FollowPose(seat) != nil {
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
func exceeded(p *problem, worker *objective, x []float64, stressRatio float64) []target.Excess {
	var list []target.Excess
	excessMM := worker.excesses(x)
	for _, limit := range slices.Sorted(maps.Keys(excessMM)) {
		if excess := excessMM[limit]; excess > exceedMM {
			list = append(list, target.Excess{Limit: limit, Beyond: excess})
		}
	}
	if beyond := p.tooMany(x); beyond > 0 {
		list = append(list, target.Excess{Limit: target.BendsLimit, Beyond: float64(beyond)})
	}
	if over := stressRatio - p.c.Limits.StressRatio(); over > 0 {
		list = append(list, target.Excess{Limit: target.StressLimit, Beyond: over})
	}
	return list
}

// binding returns what stands in the way of a design: the limits that it exceeds, those that
// the best design with every number left free, free, leans on, and the bounds of numbers
// that would save it much if they gave way.
func binding(p *problem, worker *objective, free, chosen []float64, r Result) notice.List {
	var list notice.List
	add := func(n notice.Notice) {
		if !slices.Contains(list, n) {
			list = append(list, n)
		}
	}
	limit := func(l target.Limit) { add(notice.LimitInWay{Limit: l}) }
	for _, e := range r.Exceeded {
		if e.Limit != target.StressLimit {
			limit(e.Limit)
		}
	}
	excessMM := worker.excesses(free)
	for _, l := range slices.Sorted(maps.Keys(excessMM)) {
		if excessMM[l] > -marginMM {
			limit(l)
		}
	}
	if most := p.c.Limits.MostBends; most > 0 && p.bends(chosen) >= most && costAt(worker, free).met() {
		limit(target.BendsLimit)
	}
	for _, j := range hindering(p, worker, free) {
		f, l := p.pattern.Freedoms[j], p.c.Limits
		switch {
		case f.Angle && math.Abs(math.Abs(free[j]-f.Neutral)-l.LargestPreBendRad) < 1e-9:
			add(notice.PreBendInWay{LargestRad: l.LargestPreBendRad})
		case f.Angle:
			add(notice.NumberInWay{Name: f.Name, Angle: true, AngleRad: free[j]})
		case !f.Radius && free[j] == f.Min && f.Min == l.ShortestStraightMM:
			add(notice.StraightInWay{ShortestMM: f.Min})
		case free[j] == f.Max && f.Max == l.LoopHeightMM:
			limit(target.FoldLimit)
		case free[j] == f.Max && f.Name == target.LoopWidthLimit.String():
			limit(target.LoopWidthLimit)
		default:
			add(notice.NumberInWay{Name: f.Name, LengthMM: free[j]})
		}
	}
	if r.After.StressRatio > stressWanted*p.c.Limits.StressRatio() {
		add(notice.StressInWay{})
	}
	return list
}

// hindering lists the numbers that lie at a bound, at an optimum of the free search, and
// would save much of the cost beyond it.
func hindering(p *problem, worker *objective, free []float64) []int {
	n, m := worker.size()
	r, jacobian := make([]float64, m), mat.NewDense(m, n, nil)
	if !newSquares(worker, forTarget()).Residuals(free, r, jacobian, lsq.ToTheEnd) {
		return nil
	}
	var hindering []int
	for j, f := range p.pattern.Freedoms {
		gradient := mat.Dot(jacobian.ColView(j), mat.NewVecDense(m, r))
		outward := free[j] <= f.Min && gradient > 0 || free[j] >= f.Max && gradient < 0
		if outward && math.Abs(gradient)*f.Grid > hinderShare*lsq.HalfSquares(r) {
			hindering = append(hindering, j)
		}
	}
	return hindering
}

// exceedMM is how far a limit may be passed: the search's own accuracy, a fifth of the margin that
// it keeps (choice).
const exceedMM = 0.02
