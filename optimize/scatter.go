package optimize

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r1"
	"gonum.org/v1/gonum/stat/distmv"
	"gonum.org/v1/gonum/stat/samplemv"
)

// How many points a pass scatters and how many iterations each gets: to where the unloaded wire
// closes, towards the target, and, of the best, further towards it. From 6 starts twelve random
// cases cost 1.3 % more at 4 % less time, from 24 as much at 9 % more; the rest are choices.
const (
	defaultStarts    = 12
	closeIterations  = 10
	firstIterations  = 6
	quarterfinalists = 6
	nextIterations   = 12
)

// scatter is the first stage: points from all over the box, drawn towards the target on a few
// positions of the travel, with every number left free. It returns the best, best first.
func scatter(p *problem, crew *crew, plan plan) []candidate {
	points := startingPoints(p, plan)
	found := make([]candidate, len(points))
	crew.each(crew.sketch, len(points), func(i int, worker *objective) {
		p.descend(newClosing(worker), forTarget(), p.box, points[i], closeIterations)
		found[i] = p.descend(worker, forTarget(), p.box, points[i], firstIterations)
		crew.show(p, found[i], showScattered)
	})
	best := rank(found, forTarget(), plan.effort*plan.quarterfinalists)
	return improved(p, crew, crew.sketch, best, nextIterations)
}

// improved searches on from candidates for the target, for at most so many iterations each, and
// returns them best first.
func improved(p *problem, crew *crew, workers []*objective, candidates []candidate, iterations int) []candidate {
	crew.each(workers, len(candidates), func(i int, worker *objective) {
		candidates[i] = p.descend(worker, forTarget(), p.box, candidates[i].x, iterations)
	})
	return rank(candidates, forTarget(), len(candidates))
}

// startingPoints spreads points over the box by a scrambled Halton sequence, closer to
// the neutral angles than the bounds allow.
func startingPoints(p *problem, plan plan) [][]float64 {
	bounds := make([]r1.Interval, len(p.pattern.Freedoms))
	for i, f := range p.pattern.Freedoms {
		if f.Angle {
			bounds[i] = r1.Interval{Min: f.Neutral + (f.Min-f.Neutral)/2, Max: f.Neutral + (f.Max-f.Neutral)/2}
		} else {
			bounds[i] = r1.Interval{Min: f.Min, Max: f.Max}
		}
		if bounds[i].Max <= bounds[i].Min {
			bounds[i].Max = math.Nextafter(bounds[i].Min, math.Inf(1))
		}
	}
	source := rand.NewPCG(p.c.Search.Seed, uint64(plan.pass))
	batch := mat.NewDense(plan.starts, len(bounds), nil)
	samplemv.Halton{Kind: samplemv.Owen, Q: distmv.NewUniform(bounds, source), Src: source}.Sample(batch)
	points := make([][]float64, plan.starts)
	for i := range points {
		points[i] = mat.Row(nil, i, batch)
	}
	return points
}
