package optimize

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r1"
	"gonum.org/v1/gonum/stat/distmv"
	"gonum.org/v1/gonum/stat/samplemv"
)

// The stages of the search with every number left free: how many points go in and how many
// iterations each gets. The best of one stage go on to the next.
const (
	defaultStarts    = 12
	closeIterations  = 10
	firstIterations  = 6
	quarterfinalists = 6
	nextIterations   = 12
	semifinalists    = 4
	lastIterations   = 20
	finalists        = 4
	// Loads change smoothly over the travel: the first stages look at so many positions.
	sketchPositions = 4
	// With every number left free the target comes first and preferences weigh little.
	freePreference = 0.2
)

// continuous returns the best candidates with every freedom left free, best first: for the
// target alone, and with what is preferred beside it in the hand of a bender.
func (s *searcher) continuous(sample [][]float64) (forTarget []candidate, finest []finalist) {
	s.prefer(freePreference)
	points := s.startingPoints()
	found := make([]candidate, len(points))
	s.each(s.sketch, len(points), func(i int, worker *objective) {
		x := points[i]
		newLevenberg(newClosing(worker), s.box, s.width).minimise(x, closeIterations)
		found[i] = candidate{x, newLevenberg(worker, s.box, s.width).minimise(x, firstIterations)}
	})
	found = s.improved(s.sketch, s.rank(found, s.effort*quarterfinalists), nextIterations)
	found = s.improved(s.workers, s.rank(found, s.effort*semifinalists), lastIterations)
	s.prefer(1)
	preferred := make([]finalist, len(found))
	inHand := make([]float64, len(found)) // the costs of these, fragility included
	s.share(s.workers, len(found), func(i int, worker *objective) {
		preferred[i], inHand[i] = s.steadied(s.preferred(found[i], worker), worker, sample)
	})
	for _, i := range cheapestFirst(inHand)[:min(len(found), s.effort*finalists)] {
		finest = append(finest, preferred[i])
	}
	return found, finest
}

func (s *searcher) prefer(preference float64) {
	for i := range s.workers {
		s.workers[i].preference, s.sketch[i].preference = preference, preference
	}
}

// improved searches on from candidates, for at most so many iterations each, and returns
// them best first.
func (s *searcher) improved(workers []*objective, candidates []candidate, iterations int) []candidate {
	s.each(workers, len(candidates), func(i int, worker *objective) {
		candidates[i].cost = newLevenberg(worker, s.box, s.width).minimise(candidates[i].x, iterations)
	})
	return s.rank(candidates, len(candidates))
}

func (s *searcher) starts() int {
	if s.c.Search.Starts > 0 {
		return s.c.Search.Starts
	}
	return s.effort * defaultStarts
}

// startingPoints spreads points over the box by a scrambled Halton sequence, closer to
// the neutral angles than the bounds allow.
func (s *searcher) startingPoints() [][]float64 {
	n := s.starts()
	bounds := make([]r1.Interval, len(s.pattern.Freedoms))
	for i, f := range s.pattern.Freedoms {
		if f.Angle {
			bounds[i] = r1.Interval{Min: f.Neutral + (f.Min-f.Neutral)/2, Max: f.Neutral + (f.Max-f.Neutral)/2}
		} else {
			bounds[i] = r1.Interval{Min: f.Min, Max: f.Max}
		}
		if bounds[i].Max <= bounds[i].Min {
			bounds[i].Max = math.Nextafter(bounds[i].Min, math.Inf(1))
		}
	}
	source := rand.NewPCG(s.c.Search.Seed, uint64(s.passes))
	batch := mat.NewDense(n, len(bounds), nil)
	samplemv.Halton{Kind: samplemv.Owen, Q: distmv.NewUniform(bounds, source), Src: source}.Sample(batch)
	points := make([][]float64, n)
	for i := range points {
		points[i] = mat.Row(nil, i, batch)
	}
	return points
}
