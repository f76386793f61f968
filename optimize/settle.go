package optimize

import "math"

// mostSettled is how many stages of giving up bends are settled at most for one finalist.
const mostSettled = 2

// settleBest brings the stages that promise most onto the grid of bendable values and
// returns the best of what comes out. A stage with every number left free costs little more
// than it will on the grid: those that promise less than what is there already are left.
func (s *searcher) settleBest(stages []stage, worker *objective, sample [][]float64) candidate {
	promised := make([]float64, len(stages))
	for i, stage := range stages {
		promised[i] = stage.cost + s.bendCost(stage.x) + s.fragility(stage.x, sample)
	}
	best := candidate{cost: math.Inf(1)}
	for n, i := range cheapestFirst(promised) {
		if n >= mostSettled && best.cost < missCost || best.x != nil && best.cost <= promised[i] {
			break
		}
		from, kept := s.fewer(stages[i].candidate, stages[i].within, worker)
		if settled := s.settle(from.x, kept, worker, sample); best.x == nil || settled.cost < best.cost {
			best = settled
		}
	}
	return best
}

// settle brings a design onto the grid.
func (s *searcher) settle(x []float64, within box, worker *objective, sample [][]float64) candidate {
	fragility := func(x []float64) float64 { return s.fragility(x, sample) }
	return s.newDescent(worker, within, fragility, s.fragilitySlope(x, within, sample)).settle(x)
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

// worst is the worst miss of a target or limit at x, +Inf where it cannot be solved.
func (s *searcher) worst(x []float64, worker *objective) float64 {
	_, m := worker.size()
	if !worker.residuals(x, make([]float64, m), nil, toTheEnd) {
		return math.Inf(1)
	}
	return worker.worst
}

func dot(a, b []float64) float64 {
	var sum float64
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}
