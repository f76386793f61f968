package asbent

import (
	"context"
	"fmt"
	"math"

	"springwright/design/spring"
	"springwright/optimize/hand"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// How far a step that is still to be bent may be moved from the drawing: the room was looked at for that, and
// some more needs no new look (choices).
const (
	mostMovedRad = 15 * degree
	mostMovedMM  = 1.0
)

// UsualSoFar are solved by Continue where nobody says how many: while bending the answer has to be there at
// once, and it tells a chance to 6 per cent (choice).
const UsualSoFar = 60

// soFarSprings stand for all in the linear model (choice: a share to 3 per cent, and with the same springs
// for each design differences of one).
const soFarSprings = 192

// Continue searches the numbers of the steps that are still to be bent anew, given what was measured of the
// others: every step up to the last one measured counts as bent. The errors are those of Read, and
// ErrReadings where all is bent, nothing was measured, or more than steps.
func Continue(ctx context.Context, j Job) (SoFar, error) {
	if j.Springs == 0 {
		j.Springs = UsualSoFar
	}
	m, err := newModel(j)
	if err != nil {
		return SoFar{}, err
	}
	r := SoFar{}
	for _, read := range j.Measured.Steps {
		r.Next = max(r.Next, read.Step+1)
	}
	switch {
	case j.Measured.Whole():
		return r, fmt.Errorf("%w: the free end tells nothing before all is bent", ErrReadings)
	case r.Next == 0:
		return r, fmt.Errorf("%w: no bend or straight was", ErrReadings)
	case r.Next == len(m.drawn):
		return r, fmt.Errorf("%w: nothing is left to be bent", ErrReadings)
	}
	e, err := m.estimate()
	if err != nil {
		return r, err
	}
	r.Doubts = e.doubted
	s := &rest{m: m, e: &e, next: r.Next, steps: make([]int, len(m.drawn)), came: m.cameOut(e.mean)}
	s.search(ctx)
	if err := ctx.Err(); err != nil {
		return r, err
	}
	of := func(steps []int) (Outcome, error) {
		o, err := m.outcome(ctx, s.wire(s.came.Steps, steps), s.came.Stiffness)
		if err != nil {
			o.NoRest = err
		}
		o.Trial, err = m.trial(ctx, &e, m.job.springs(), func(bent spring.Steps, _ []float64) spring.Steps { return s.wire(bent, steps) })
		return o, err
	}
	if r.Before, err = of(make([]int, len(m.drawn))); err != nil {
		return r, err
	}
	if r.After, err = of(s.steps); err != nil {
		return r, err
	}
	if r.After.Trial.Met <= r.Before.Trial.Met && (r.Before.Met() || !r.After.Met()) { // the linear model was too hopeful
		s.steps, r.After = make([]int, len(m.drawn)), r.Before
	}
	r.Spring = m.spring
	r.Spring.Path = spring.PathOf(s.wire(s.came.Steps, s.steps)...)
	r.Spring.Shortfall = r.After.Shortfall()
	return r, nil
}

// rest are the numbers of the steps that are still to be bent.
type rest struct {
	m     *model
	e     *estimate
	next  int
	steps []int // of the grid, of each step of the path, from the drawing
	came  hand.CameOut
}

// grid is by how much a step moves at once, mm or rad.
func (s *rest) grid(i int) float64 {
	search := s.m.job.Case.Search
	if s.m.drawn[i].Kind == spring.Straight {
		if search.LengthStepMM > 0 {
			return search.LengthStepMM
		}
		return 0.5 // a skilled hand bends legs to ±0.25–0.5 mm (common practice)
	}
	if search.AngleStepRad > 0 {
		return search.AngleStepRad
	}
	return degree
}

// wire is a wire that came out with the steps moved that are still to be bent.
func (s *rest) wire(came spring.Steps, moved []int) spring.Steps {
	out := append(spring.Steps(nil), came...)
	for i := s.next; i < len(out); i++ {
		by := float64(moved[i]) * s.grid(i)
		if out[i].Kind == spring.Straight {
			out[i].LengthMM = max(0, out[i].LengthMM+by)
		} else {
			out[i].AngleRad += by
		}
	}
	return out
}

// allowed tells whether a step may be moved so far: a bend keeps its way, and pliers their room.
func (s *rest) allowed(i, steps int) bool {
	if i < s.next {
		return false
	}
	by := float64(steps) * s.grid(i)
	step := s.m.drawn[i]
	if step.Kind != spring.Straight {
		return math.Abs(by) <= mostMovedRad+1e-9 && (step.AngleRad+by)*step.AngleRad > 0
	}
	least := s.m.job.Case.Limits.ShortestStraightMM
	if least <= 0 {
		least = usualShortestMM
	}
	return math.Abs(by) <= mostMovedMM+1e-9 && step.LengthMM+by >= min(least, step.LengthMM)-1e-9
}

// search moves steps until no single step of the grid, nor two at once, serves more springs.
func (s *rest) search(ctx context.Context) {
	best, model := s.looked(s.steps)
	closed := s.closed()
	if merit, there := s.looked(closed); there != nil && (model == nil || merit > best) {
		best, model, s.steps = merit, there, closed
	}
	const passes = 5 // each ends where the linear model does; more than three were not seen to move anything (choice)
	for pass := 0; pass < passes && model != nil && ctx.Err() == nil; pass++ {
		next := s.climb(model)
		merit, there := s.looked(next)
		if there == nil || merit <= best {
			return
		}
		best, model, s.steps = merit, there, next
	}
}

// about is the linear model of the loads about a choice of the rest.
type about struct {
	at     []int
	terms  []hand.Term
	values [][]float64 // of each spring, of each term
	slopes [][]float64 // of each step, of each term, by a step of the grid
}

// looked is what a choice is worth by the linear model about it; nil where it cannot be seated.
func (s *rest) looked(steps []int) (float64, *about) {
	m := s.m
	made := m.spring
	made.Path = spring.PathOf(s.wire(s.came.Steps, steps)...)
	made.Wire.EMPa *= s.came.Stiffness
	h := hand.New(m.job.Case, made)
	l, ok := h.Linear()
	if !ok || h.Sources() != m.hand.Sources() {
		return 0, nil
	}
	a := &about{at: append([]int(nil), steps...), terms: l.Terms, slopes: make([][]float64, len(m.drawn))}
	for i := range soFarSprings {
		away := s.e.away(m.numbers(i)[:m.hand.Sources()])
		values := make([]float64, len(l.Terms))
		for k := range values {
			values[k] = l.Values[k] + floats.Dot(l.Changes[k], away)
		}
		a.values = append(a.values, values)
	}
	for i := s.next; i < len(m.drawn); i++ {
		j := m.hand.FirstStep() + i
		for k := range l.Terms {
			a.slopes[i] = append(a.slopes[i], l.Changes[k][j]/m.hand.SD(j)*s.grid(i))
		}
	}
	return s.merit(a, steps), a
}

// merit is the share of springs that a choice would serve, less a little for what it moves; where it would
// serve none, nearer is better.
func (s *rest) merit(a *about, steps []int) float64 {
	shift := make([]float64, len(a.terms))
	moved := 0.0
	for i, slopes := range a.slopes {
		if by := steps[i] - a.at[i]; by != 0 && slopes != nil {
			floats.AddScaled(shift, float64(by), slopes)
		}
		moved += math.Abs(float64(steps[i]))
	}
	sum, far := 0.0, 0.0
	for _, values := range a.values {
		worst := -1.0
		for k, term := range a.terms {
			worst = max(worst, term.Beyond(values[k]+shift[k]))
		}
		sum += hand.SmoothlyMet(worst)
		far += math.Min(worst, farthest)
	}
	n := float64(len(a.values))
	const perStep = 0.004 // a step of the grid more has to serve four springs of a thousand (choice)
	return (sum-farWeight*far)/n - perStep*moved
}

// climb moves one step or two at once as long as the linear model gains by it.
func (s *rest) climb(a *about) []int {
	now := append([]int(nil), a.at...)
	best := s.merit(a, now)
	try := func(moves ...[2]int) bool {
		next := append([]int(nil), now...)
		for _, move := range moves {
			next[move[0]] += move[1]
			const trusted = 4 // steps of the grid over which the linear model is followed (choice)
			if !s.allowed(move[0], next[move[0]]) || max(next[move[0]]-a.at[move[0]], a.at[move[0]]-next[move[0]]) > trusted {
				return false
			}
		}
		if merit := s.merit(a, next); merit > best+1e-12 {
			best, now = merit, next
			return true
		}
		return false
	}
	const most = 12
	for range most {
		moved := false
		for i := s.next; i < len(now); i++ {
			for _, by := range [...]int{-1, 1} {
				moved = try([2]int{i, by}) || moved
			}
		}
		if moved {
			continue
		}
		for i := s.next; i < len(now); i++ {
			for k := i + 1; k < len(now); k++ {
				for _, by := range [...][2]int{{-1, -1}, {-1, 1}, {1, -1}, {1, 1}} {
					moved = try([2]int{i, by[0]}, [2]int{k, by[1]}) || moved
				}
			}
		}
		if !moved {
			break
		}
	}
	return now
}

// closed is the choice that brings the free end to where it is drawn, moving the steps as little as can be,
// each by its own grid.
func (s *rest) closed() []int {
	steps := make([]int, len(s.m.drawn))
	var free []int
	for i := s.next; i < len(steps); i++ {
		free = append(free, i)
	}
	now := off(s.m.end, freeEnd(s.came.Steps))
	a := mat.NewDense(6, len(free), nil)
	for k, i := range free {
		moved := make([]int, len(steps))
		moved[i] = 1
		for d, v := range off(s.m.end, freeEnd(s.wire(s.came.Steps, moved))) {
			a.Set(d, k, v-now[d])
		}
	}
	// Least moves: x = Aᵀ (A Aᵀ + noise)⁻¹ (−now), the noise what the eye sees of a place and a turn.
	var spread mat.Dense
	spread.Mul(a, a.T())
	for d := range 6 {
		seen := s.m.job.Case.Bender.CheckSDMM
		if d >= 3 {
			seen = s.m.job.Case.Bender.CheckSDRad
		}
		seen = max(seen, 1e-3)
		spread.Set(d, d, spread.At(d, d)+seen*seen)
	}
	var y mat.VecDense
	if y.SolveVec(&spread, mat.NewVecDense(6, now[:])) != nil {
		return steps
	}
	var x mat.VecDense
	x.MulVec(a.T(), &y)
	for k, i := range free {
		for by := int(math.Round(-x.AtVec(k))); by != 0; {
			if s.allowed(i, by) {
				steps[i] = by
				break
			}
			if by > 0 {
				by--
			} else {
				by++
			}
		}
	}
	return steps
}
