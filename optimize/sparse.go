package optimize

import (
	"math"
	"slices"
)

const (
	// A bend is given up while the target is still met with this share of its tolerances.
	sparseWorst      = 0.6
	sparseIterations = 4
	preferIterations = 15
)

// preferred goes on from a candidate that was found for the target alone to what is better
// for a spring beside it, such as smaller bends, as long as the target does not suffer.
func (s *searcher) preferred(from candidate, worker *objective) candidate {
	worst := s.worst(from.x, worker)
	to := candidate{x: slices.Clone(from.x)}
	to.cost = newLevenberg(worker, s.box, s.width).minimise(to.x, preferIterations)
	if worst <= 1 && s.worst(to.x, worker) > max(sparseWorst, worst) {
		return from
	}
	return to
}

// sparse gives up pre-activation bends, the smallest first, as long as the rest of the
// freedoms can make up for it. It returns the stages on the way, the last one with the
// fewest bends, and what they cost.
func (s *searcher) sparse(finest finalist, worker *objective) ([]stage, []Spared) {
	from := finest.candidate
	kept := box{slices.Clone(s.box.lower), slices.Clone(s.box.upper)}
	worst := s.worst(from.x, worker)
	if worst > 1 {
		return []stage{{finalist: finest, within: kept}}, nil
	}
	stages, spared := []stage{{finalist: finest, within: kept}}, []Spared{{s.preBends(from.x), worst}}
	_, angles := s.lengthsAndAngles()
	bend := func(j int) float64 { return math.Abs(from.x[j] - s.pattern.Freedoms[j].Neutral) }
	slices.SortStableFunc(angles, func(a, b int) int { return compare(bend(a), bend(b)) })
	for _, j := range angles {
		trial, without := s.without(j, from, kept, worker)
		if math.IsInf(trial.cost, 0) {
			continue
		}
		if w := s.worst(trial.x, worker); w <= max(sparseWorst, worst) {
			from, kept, worst = trial, without, w
			stages, spared = append(stages, stage{finalist: finalist{from, finest.tilt}, within: kept}), append(spared, Spared{s.preBends(from.x), worst})
		}
	}
	return stages, spared
}

// stage is a design on its way to fewer bends, and the bounds that keep those given up.
type stage struct {
	finalist
	within   box
	promised float64 // cost on the grid, at least
}

// fewer goes on giving up bends until no more are left than the case allows, each time the
// one that is missed least, whether the target is still met or not.
func (s *searcher) fewer(from candidate, kept box, worker *objective) (candidate, box) {
	most := s.c.Limits.MostBends
	for most > 0 && s.bends(from.x) > most && s.ctx.Err() == nil {
		best, within := candidate{cost: math.Inf(1)}, kept
		for j, f := range s.pattern.Freedoms {
			if !f.Angle || f.Neutral != 0 || from.x[j] == 0 || f.Min > 0 || f.Max < 0 {
				continue
			}
			trial, without := s.without(j, from, kept, worker)
			if math.IsInf(trial.cost, 0) { // too far to follow: begin anew where the wire closes
				trial.x = slices.Clone(from.x)
				newLevenberg(newClosing(worker), without, s.width).minimise(trial.x, closeIterations)
				trial.cost = newLevenberg(worker, without, s.width).minimise(trial.x, lastIterations)
			}
			if trial.cost < best.cost {
				best, within = trial, without
			}
		}
		if best.x == nil {
			break
		}
		from, kept = best, within
	}
	return from, kept
}

// bends counts the bends and twists of a design, plain corners included.
func (s *searcher) bends(x []float64) int { return s.pattern.PathFor(x).Bends() }

// preBends counts the pre-activation bends of a design, however small.
func (s *searcher) preBends(x []float64) int {
	count := 0
	for j, f := range s.pattern.Freedoms {
		if f.Angle && math.Abs(x[j]-f.Neutral) > 1e-9 {
			count++
		}
	}
	return count
}

// without searches again with freedom j at its neutral value, going there in two steps so
// that the others can follow. The cost is +Inf where that fails.
func (s *searcher) without(j int, from candidate, kept box, worker *objective) (candidate, box) {
	held := box{slices.Clone(kept.lower), slices.Clone(kept.upper)}
	neutral := s.pattern.Freedoms[j].Neutral
	trial := candidate{x: slices.Clone(from.x)}
	for _, v := range [...]float64{(neutral + from.x[j]) / 2, neutral} {
		held.lower[j], held.upper[j] = v, v
		trial.cost = newLevenberg(worker, held, s.width).minimise(trial.x, sparseIterations)
		if math.IsInf(trial.cost, 0) {
			break
		}
	}
	held.lower[j], held.upper[j] = neutral, neutral
	return trial, held
}
