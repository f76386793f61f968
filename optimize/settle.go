package optimize

import "math"

const (
	// So many stages of giving up bends are brought onto the grid, and of one finalist at
	// most so many.
	mostSettled     = 4
	mostOfAFinalist = 2
)

// promise is about the least that a stage will cost on the grid: what it costs with every number
// left free.
func (s *searcher) promise(t stage, sample [][]float64) float64 {
	return t.cost + s.bendCost(t.x) + s.fragility(t.x, sample)
}

// promising returns the stages of all finalists that promise most.
func (s *searcher) promising(stages [][]stage) []stage {
	var of []int // the finalist of each of all
	var all []stage
	var promised []float64
	for i, list := range stages {
		for _, t := range list {
			of, all, promised = append(of, i), append(all, t), append(promised, t.promised)
		}
	}
	var chosen []stage
	taken := make([]int, len(stages))
	for _, k := range cheapestFirst(promised) {
		if taken[of[k]] < mostOfAFinalist && len(chosen) < s.effort*mostSettled {
			chosen = append(chosen, all[k])
			taken[of[k]]++
		}
	}
	return chosen
}

// settleStage brings a stage onto the grid, with no more bends than are allowed.
func (s *searcher) settleStage(t stage, worker *objective, sample [][]float64) candidate {
	from, kept := s.fewer(t.candidate, t.within, worker)
	return s.settle(from.x, kept, worker, t.tilt, sample)
}

// settle brings a design onto the grid.
func (s *searcher) settle(x []float64, within box, worker *objective, tilt []float64, sample [][]float64) candidate {
	fragility := func(x []float64) float64 { return s.fragility(x, sample) }
	return s.newDescent(worker, within, fragility, tilt).settle(x)
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
