package optimize

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"springwright/design"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r1"
	"gonum.org/v1/gonum/stat/distmv"
	"gonum.org/v1/gonum/stat/samplemv"
)

// Options sets how a search runs. The zero value uses every core.
type Options struct {
	Workers  int                   // goroutines; 0: one for each core. The answer does not depend on it
	Progress func(done, total int) // called from one goroutine at a time; may be nil
	Pattern  design.Pattern        // searched instead of what the case asks for; empty: that
}

// patternFor returns the pattern that is searched.
func (o Options) patternFor(c design.Case) (design.Pattern, error) {
	if len(o.Pattern.Path) > 0 {
		return o.Pattern, nil
	}
	return design.PatternFor(c)
}

// ErrNothingSolved means that no spring of the pattern could be seated at all.
var ErrNothingSolved = errors.New("no spring of this kind could be seated")

// Result is the outcome of a search.
type Result struct {
	Spring      design.Spring
	Evaluation  design.Evaluation
	Family      string
	Settings    []Setting
	Before      Summary  // with every number left free
	After       Summary  // of the spring, on bendable numbers
	Misses      []Miss   // windows of the target that the spring does not meet
	Exceeded    []string // limits on room and stress that the spring goes beyond
	Binding     []string // limits that stand in the way of something better
	Evaluations int      // springs solved over their whole travel
	Traits      Traits
	// Alternatives are other designs that meet the target, at most one for each Merit.
	Alternatives []Alternative
	// Spared is what giving up pre-activation bends cost the best design before rounding,
	// the most bends first; empty where the target was not met to begin with.
	Spared []Spared
	// Robust is what becomes of the spring in the hand of the case's bender. It is empty
	// where no springs are to be bent in trial, and for one that yields or is superelastic.
	Robust Robustness
}

// Met tells whether the spring meets the whole target within the limits.
func (r Result) Met() bool { return len(r.Misses) == 0 && len(r.Exceeded) == 0 }

// Setting is a number of the pattern as the search chose it.
type Setting struct {
	Freedom design.Freedom
	Value   float64 // mm or rad
}

// Search returns the best spring for a case. Where the target cannot be met the result is
// the nearest spring and says what it misses and exceeds. The errors are ErrNothingSolved,
// that of ctx, and those of design.PatternFor and design.Evaluate; with ErrYield the result
// is complete all the same.
func Search(ctx context.Context, c design.Case, o Options) (Result, error) {
	pattern, err := o.patternFor(c)
	if err != nil {
		return Result{}, err
	}
	s := newSearcher(ctx, c, pattern, o)
	f, err := s.find()
	if err != nil {
		return Result{}, err
	}
	r, yields := s.result(f.free, f.chosen)
	if yields != nil {
		return r, yields
	}
	r.Traits = s.traits(r.Spring, r.Evaluation, f.chosen.x, f.sample)
	r.Spared = f.spared
	if r.Met() {
		r.Alternatives = s.alternatives(f.settled, f.chosen, r.Traits, f.sample)
	}
	return r, r.bendInTrial(ctx, c, o.Workers)
}

// found is what the stages of a search come to.
type found struct {
	free    candidate   // the best with every number left free, found for the target
	settled []candidate // the finalists on bendable numbers
	chosen  candidate
	spared  []Spared    // of the best
	sample  [][]float64 // what fragility was judged by
}

// A target that takes more than hardCost, about a whole tolerance for the worst load and half
// of one for others, gets further passes from other starting points, unless it is hopeless:
// missed by more than a whole tolerance.
const (
	hardCost     = 1
	hopelessCost = missCost
	mostPasses   = 3
)

// find runs the passes of the search: one, unless the target is hard. The errors are
// ErrNothingSolved and that of the searcher's context.
func (s *searcher) find() (found, error) {
	f, err := s.onePass()
	if s.c.Search.Starts > 0 { // as many as were asked for, and no more
		return f, err
	}
	for s.passes = 1; s.passes < mostPasses && err == nil && f.chosen.cost > hardCost && f.chosen.cost < hopelessCost; s.passes++ {
		var more found
		if more, err = s.onePass(); err != nil {
			return found{}, err
		}
		more.settled = append(f.settled, more.settled...)
		if f.chosen.cost <= more.chosen.cost {
			f.settled = more.settled
		} else {
			f = more
		}
	}
	return f, err
}

// onePass runs the stages of the search once.
func (s *searcher) onePass() (found, error) {
	few := func(n int) int { return min(s.starts(), s.effort*n) }
	s.total += s.starts() + few(semifinalists) + few(quarterfinalists) + few(finalists)
	sample := s.sampleFor(s.c.Bender)
	free, finest := s.continuous(sample)
	f := found{sample: sample}
	if err := s.ctx.Err(); err != nil {
		return found{}, err
	}
	if len(free) == 0 {
		return found{}, ErrNothingSolved
	}
	f.settled = make([]candidate, len(finest))
	spared := make([][]Spared, len(finest))
	s.each(s.workers, len(finest), func(i int, worker *objective) {
		stages, trace := s.sparse(finest[i], worker)
		f.settled[i], spared[i] = s.settleBest(stages, worker, sample), trace
	})
	if err := s.ctx.Err(); err != nil {
		return found{}, err
	}
	f.spared = spared[0]
	s.exploreBest(f.settled, sample)
	f.chosen = cheapest(f.settled)
	f.free = s.loosened(f.chosen, free[0])
	return f, s.ctx.Err()
}

// loosened is what becomes of a design on bendable numbers with every number left free
// again, or another free design where that meets the target better.
func (s *searcher) loosened(settled, other candidate) candidate {
	s.prefer(freePreference)
	defer s.prefer(1)
	free := candidate{x: slices.Clone(settled.x)}
	free.cost = newLevenberg(s.workers[0], s.box, s.width).minimise(free.x, lastIterations)
	if free.cost < other.cost {
		return free
	}
	return other
}

// cheapestFirst lists the places of costs, ties in their order.
func cheapestFirst(costs []float64) []int {
	places := make([]int, len(costs))
	for i := range places {
		places[i] = i
	}
	slices.SortStableFunc(places, func(a, b int) int { return compare(costs[a], costs[b]) })
	return places
}

// cheapest is the first of those that cost least.
func cheapest(candidates []candidate) candidate {
	best := candidates[0]
	for _, c := range candidates[1:] {
		if c.cost < best.cost {
			best = c
		}
	}
	return best
}

// bendCost is the cost of every bend that is not a plain corner.
const bendCost = 0.02

// bendCost is the cost of the pre-activation bends of a design, and of bends beyond what is
// allowed.
func (s *searcher) bendCost(x []float64) float64 {
	cost := bendCost * float64(s.preBends(x))
	if most := s.c.Limits.MostBends; most > 0 {
		cost += missCost * float64(max(0, s.bends(x)-most))
	}
	return cost
}

func (s *searcher) result(free, chosen candidate) (Result, error) {
	spring := s.c.SpringFor(s.pattern.PathFor(chosen.x).Tidy())
	evaluation, yields := design.Evaluate(s.ctx, spring, design.EvaluateOptions{})
	if yields != nil && !errors.Is(yields, design.ErrYield) {
		return Result{}, yields
	}
	before, err := design.Evaluate(s.ctx, s.c.SpringFor(s.pattern.PathFor(free.x)), design.EvaluateOptions{AllowYield: true})
	if err != nil {
		return Result{}, err
	}
	r := Result{
		Spring:     spring,
		Evaluation: evaluation,
		Family:     s.pattern.Family,
		Before:     summarise(s.c, before.Record),
		After:      summarise(s.c, evaluation.Record),
		Misses:     judge(s.c, evaluation.Record),
	}
	for j, f := range s.pattern.Freedoms {
		r.Settings = append(r.Settings, Setting{f, chosen.x[j]})
	}
	var names []string
	r.Exceeded, names = s.exceeded(chosen.x)
	r.Binding = s.binding(free.x, chosen.x, names)
	r.standStress(s.c.Limits)
	for i := range s.workers {
		r.Evaluations += s.workers[i].count + s.sketch[i].count
	}
	return r, yields
}

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
	finalists        = 3
	// Loads change smoothly over the travel: the first stages look at so many positions.
	sketchPositions = 4
	// With every number left free the target comes first and preferences weigh little.
	freePreference = 0.2
)

// candidate is a set of values of a pattern's freedoms and its cost.
type candidate struct {
	x    []float64
	cost float64
}

// Spared is a stage of giving up pre-activation bends.
type Spared struct {
	Bends int     // bends that are not plain corners
	Worst float64 // worst use of a tolerance or slack: 1 at its edge
}

// searcher runs the stages of a search over one pattern.
type searcher struct {
	ctx     context.Context
	c       design.Case
	pattern design.Pattern
	workers []*objective
	sketch  []*objective // with few positions, for the first stages
	box     box
	width   []float64
	// effort multiplies the numbers of points that go from one stage to the next: 1, but
	// for searches that others are held against.
	effort int
	passes int // done before this one

	progress func(done, total int)
	mutex    sync.Mutex
	done     int
	total    int
}

func newSearcher(ctx context.Context, c design.Case, pattern design.Pattern, o Options) *searcher {
	s := &searcher{ctx: ctx, c: c, pattern: pattern, effort: 1, progress: o.Progress}
	n := o.Workers
	if n <= 0 {
		n = runtime.GOMAXPROCS(0)
	}
	few := c
	few.Positions = min(c.Positions, sketchPositions)
	for range n {
		s.workers = append(s.workers, newObjective(c, pattern))
		s.sketch = append(s.sketch, newObjective(few, pattern))
	}
	for _, f := range pattern.Freedoms {
		s.box.lower = append(s.box.lower, f.Min)
		s.box.upper = append(s.box.upper, f.Max)
		s.width = append(s.width, f.Max-f.Min)
	}
	return s
}

// each is share for a stage that progress counts.
func (s *searcher) each(workers []*objective, n int, f func(i int, worker *objective)) {
	s.share(workers, n, func(i int, worker *objective) {
		f(i, worker)
		s.tick()
	})
}

// share runs f for 0 … n−1 on all of the workers. Results must be stored by index, so that
// they do not depend on who ran what.
func (s *searcher) share(workers []*objective, n int, f func(i int, worker *objective)) {
	var next atomic.Int64
	var group sync.WaitGroup
	for _, worker := range workers {
		group.Go(func() {
			for {
				i := int(next.Add(1)) - 1
				if i >= n || s.ctx.Err() != nil {
					return
				}
				f(i, worker)
			}
		})
	}
	group.Wait()
}

func (s *searcher) tick() {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	s.done++
	if s.progress != nil {
		s.progress(min(s.done, s.total), s.total)
	}
}

// continuous returns the best candidates with every freedom left free, best first: for the
// target alone, and with what is preferred beside it in the hand of a bender.
func (s *searcher) continuous(sample [][]float64) (forTarget, finest []candidate) {
	s.prefer(freePreference)
	points := s.startingPoints()
	found := make([]candidate, len(points))
	s.each(s.sketch, len(points), func(i int, worker *objective) {
		x := points[i]
		newLevenberg(newClosing(s.c, s.pattern), s.box, s.width).minimise(x, closeIterations)
		found[i] = candidate{x, newLevenberg(worker, s.box, s.width).minimise(x, firstIterations)}
	})
	found = s.improved(s.sketch, s.rank(found, s.effort*quarterfinalists), nextIterations)
	found = s.improved(s.workers, s.rank(found, s.effort*semifinalists), lastIterations)
	s.prefer(1)
	preferred := make([]candidate, len(found))
	inHand := make([]float64, len(found)) // the costs of these, fragility included
	s.share(s.workers, len(found), func(i int, worker *objective) {
		preferred[i] = s.preferred(found[i], worker)
		inHand[i] = preferred[i].cost + s.fragility(preferred[i].x, sample)
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

// rank returns the best candidates, at most most of them, best first; ties keep their order.
func (s *searcher) rank(candidates []candidate, most int) []candidate {
	var solved []candidate
	for _, c := range candidates {
		if c.x != nil && !math.IsInf(c.cost, 0) {
			solved = append(solved, c)
		}
	}
	slices.SortStableFunc(solved, func(a, b candidate) int { return compare(a.cost, b.cost) })
	return solved[:min(len(solved), most)]
}
