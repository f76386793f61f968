package optimize

import (
	"math"
	"slices"

	"springwright/design"

	"gonum.org/v1/gonum/mat"
)

const (
	// A bend is given up while the target is still met with this share of its tolerances.
	sparseWorst      = 0.6
	sparseIterations = 8
	preferIterations = 15
	settleIterations = 5
	// The nearer grid neighbour is taken at once where it costs no more than this much of
	// what the number left free did.
	settledAtOnce = 1.03
	// The grid is searched by steps in up to three numbers at once. The linear model ranks
	// them all, the best few are tried out.
	gridRounds = 20
	// A design is settled on the grid with its fewest bends and with up to so many less one
	// given up later: most of what a longer search would find lies there.
	mostBack   = 3
	gridTrials = 12
)

// sparse makes pre-activation bends smaller and gives them up, the smallest first, as long
// as the rest of the freedoms can make up for it. It returns the stages on the way, the last
// one with the fewest bends, and what they cost.
func (s *searcher) sparse(from candidate, worker *objective) ([]stage, []Spared) {
	kept := box{slices.Clone(s.box.lower), slices.Clone(s.box.upper)}
	worst := s.worst(from.x, worker)
	if worst > 1 {
		return []stage{{from, kept}}, nil
	}
	preferred := candidate{x: slices.Clone(from.x)}
	preferred.cost = newLevenberg(worker, kept, s.width).minimise(preferred.x, preferIterations)
	if w := s.worst(preferred.x, worker); w <= max(sparseWorst, worst) {
		from, worst = preferred, w
	}
	stages, spared := []stage{{from, kept}}, []Spared{{s.preBends(from.x), worst}}
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
			stages, spared = append(stages, stage{from, kept}), append(spared, Spared{s.preBends(from.x), worst})
		}
	}
	return stages, spared
}

// stage is a design on its way to fewer bends, and the bounds that keep those given up.
type stage struct {
	candidate
	within box
}

// settleBest settles the stage with the fewest bends and, for as long as that makes a better
// design of it, those before it, back of them at most: with every bend that is given up the
// others have less left to make up for the grid with.
func (s *searcher) settleBest(stages []stage, back int, worker *objective) candidate {
	best := candidate{cost: math.Inf(1)}
	for i := len(stages) - 1; i >= max(0, len(stages)-back); i-- {
		from, within := s.fewer(stages[i].candidate, stages[i].within, worker)
		trial := s.settle(from, within, worker)
		trial.cost += s.bendCost(trial.x)
		switch {
		case best.x == nil || trial.cost < best.cost:
			best = trial
		case best.cost < missCost:
			return best
		}
	}
	return best
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
				newLevenberg(newClosing(s.c, s.pattern), without, s.width).minimise(trial.x, closeIterations)
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
func (s *searcher) bends(x []float64) int { return bendsOf(s.pattern.PathFor(x).Tidy()) }

func bendsOf(path design.Path) int {
	count := 0
	for _, step := range path {
		if step.Kind != design.Straight {
			count++
		}
	}
	return count
}

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

// worst is the worst miss of a target or limit at x, +Inf where it cannot be solved.
func (s *searcher) worst(x []float64, worker *objective) float64 {
	_, m := worker.size()
	if !worker.residuals(x, make([]float64, m), nil) {
		return math.Inf(1)
	}
	return worker.worst
}

func compare(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// settle brings a candidate onto the grid of bendable values: one number after another,
// lengths first, is held at the better of its two grid neighbours while those not yet held
// make up for it; then everything is searched by steps on the grid.
func (s *searcher) settle(from candidate, within box, worker *objective) candidate {
	x, cost := slices.Clone(from.x), from.cost
	held := box{slices.Clone(within.lower), slices.Clone(within.upper)}
	// A length's step changes the loads most, and the finer angles can still make up for it.
	lengths, angles := s.lengthsAndAngles()
	for _, j := range append(lengths, angles...) {
		if held.lower[j] == held.upper[j] {
			continue
		}
		best := candidate{cost: math.Inf(1)}
		for _, v := range s.gridNeighbours(j, x[j]) {
			if best.cost <= settledAtOnce*cost {
				break
			}
			held.lower[j], held.upper[j] = v, v
			trial := candidate{x: slices.Clone(x)}
			trial.cost = newLevenberg(worker, held, s.width).minimise(trial.x, settleIterations)
			if trial.cost < best.cost {
				best = trial
			}
		}
		if best.x == nil {
			return candidate{x, math.Inf(1)}
		}
		x, cost = best.x, best.cost
		held.lower[j], held.upper[j] = x[j], x[j]
	}
	return s.searchGrid(x, within, worker)
}

func (s *searcher) lengthsAndAngles() (lengths, angles []int) {
	for j, f := range s.pattern.Freedoms {
		if f.Angle {
			angles = append(angles, j)
		} else {
			lengths = append(lengths, j)
		}
	}
	return lengths, angles
}

// gridNeighbours returns the grid values next to v on either side, or v's own.
func (s *searcher) gridNeighbours(j int, v float64) []float64 {
	nearest := s.onGrid(j, v)
	other := s.onGrid(j, nearest+math.Copysign(s.pattern.Freedoms[j].Grid, v-nearest))
	if other == nearest || math.Abs(v-nearest) < 1e-9 {
		return []float64{nearest}
	}
	return []float64{nearest, other}
}

// onGrid is the allowed grid value nearest to v.
func (s *searcher) onGrid(j int, v float64) float64 {
	f := s.pattern.Freedoms[j]
	if f.Grid <= 0 {
		return v
	}
	// Angles count from their neutral value, so that "no bend" is always on the grid.
	steps := math.Round((v - f.Neutral) / f.Grid)
	for f.Neutral+steps*f.Grid > f.Max+1e-9 {
		steps--
	}
	for f.Neutral+steps*f.Grid < f.Min-1e-9 {
		steps++
	}
	return f.Neutral + steps*f.Grid
}

// move is a step on the grid in up to three freedoms.
type move struct {
	change    [3]float64
	freedom   [3]int
	count     int
	predicted float64
}

// searchGrid improves a point of the grid until no step of the best predicted ones helps.
func (s *searcher) searchGrid(x []float64, within box, worker *objective) candidate {
	n, m := worker.size()
	r, trialR := make([]float64, m), make([]float64, m)
	jacobian := mat.NewDense(m, n, nil)
	if !worker.residuals(x, r, jacobian) {
		return candidate{x, math.Inf(1)}
	}
	cost := worker.gridCost(r)
	trial := make([]float64, n)
	for range gridRounds {
		improved := false
		for _, step := range s.moves(x, within, r, jacobian) {
			copy(trial, x)
			for k := range step.count {
				j := step.freedom[k]
				trial[j] = s.onGrid(j, trial[j]+step.change[k])
			}
			if !worker.residuals(trial, trialR, nil) || worker.gridCost(trialR) >= cost {
				continue
			}
			copy(x, trial)
			improved = true
			break
		}
		if !improved || !worker.residuals(x, r, jacobian) {
			break
		}
		cost = worker.gridCost(r)
	}
	return candidate{x, cost}
}

// missCost weighs a missed target or limit against the preferences: it outweighs them all.
const missCost = 100

// gridCost is the cost of the point last evaluated, with residuals r. On the grid a limit
// cannot be approached as closely as one likes, so missing one costs extra there.
func (o *objective) gridCost(r []float64) float64 {
	return halfSquares(r) + missCost*max(0, o.worst-1)
}

// moves returns the steps on the grid that the linear model likes best.
func (s *searcher) moves(x []float64, within box, r []float64, jacobian *mat.Dense) []move {
	var single []move
	columns := make([][]float64, len(x))
	for j, f := range s.pattern.Freedoms {
		if within.lower[j] == within.upper[j] || f.Grid <= 0 {
			continue
		}
		columns[j] = mat.Col(nil, j, jacobian)
		for _, change := range [...]float64{-f.Grid, f.Grid} {
			if v := x[j] + change; v >= within.lower[j]-1e-9 && v <= within.upper[j]+1e-9 {
				single = append(single, move{change: [3]float64{change}, freedom: [3]int{j}, count: 1})
			}
		}
	}
	// cost(x + Σ d_i e_i) = |r|²/2 + Σ d_i g_i + ½ Σ d_i d_k H_ik, the parts computed once.
	slope := make([]float64, len(single))
	curve := make([][]float64, len(single))
	for a, step := range single {
		column := columns[step.freedom[0]]
		slope[a] = step.change[0] * dot(column, r)
		curve[a] = make([]float64, len(single))
		for b := range a + 1 {
			curve[a][b] = step.change[0] * single[b].change[0] * dot(column, columns[single[b].freedom[0]])
		}
	}
	var best []move
	consider := func(predicted float64, parts ...int) {
		if predicted >= 0 || len(best) == gridTrials && predicted >= best[len(best)-1].predicted {
			return
		}
		step := move{count: len(parts), predicted: predicted}
		for k, a := range parts {
			step.freedom[k], step.change[k] = single[a].freedom[0], single[a].change[0]
		}
		at, _ := slices.BinarySearchFunc(best, step, func(a, b move) int { return compare(a.predicted, b.predicted) })
		best = slices.Insert(best, at, step)
		best = best[:min(len(best), gridTrials)]
	}
	same := func(a, b int) bool { return single[a].freedom[0] == single[b].freedom[0] }
	for a := range single {
		one := slope[a] + curve[a][a]/2
		consider(one, a)
		for b := range a {
			if same(a, b) {
				continue
			}
			two := one + slope[b] + curve[b][b]/2 + curve[a][b]
			consider(two, a, b)
			for c := range b {
				if !same(b, c) && !same(a, c) {
					consider(two+slope[c]+curve[c][c]/2+curve[a][c]+curve[b][c], a, b, c)
				}
			}
		}
	}
	return best
}

func dot(a, b []float64) float64 {
	var sum float64
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}
