package optimize

import (
	"context"
	"errors"

	"springwright/design"
	"springwright/design/family"
	"springwright/design/notice"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/target"
)

// Options sets how a search runs. The zero value uses every core.
type Options struct {
	Workers  int                   // goroutines; 0: one for each core. The answer does not depend on it
	Progress func(done, total int) // called from one goroutine at a time; may be nil
	Pattern  spring.Pattern        // searched instead of what the case asks for; empty: that
}

// patternFor returns the pattern that is searched.
func (o Options) patternFor(c design.Case) (spring.Pattern, error) {
	if len(o.Pattern.Steps) > 0 {
		return o.Pattern, nil
	}
	return family.PatternFor(c)
}

// ErrNothingSolved means that no spring of the pattern could be seated at all.
var ErrNothingSolved = errors.New("no spring of this kind could be seated")

// Result is the outcome of a search.
type Result struct {
	Spring      spring.Spring
	Evaluation  solve.Evaluation
	Family      string
	Settings    []Setting
	Before      Summary         // with every number left free
	After       Summary         // of the spring, on bendable numbers
	Misses      []target.Miss   // windows of the target that the spring does not meet
	Exceeded    []target.Excess // limits that the spring goes beyond
	Binding     notice.List     // what stands in the way of something better
	Evaluations int             // springs solved over their whole travel
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

// Shortfall is what the spring misses and exceeds; it is untold where there is none.
func (r Result) Shortfall() target.Shortfall {
	return target.Shortfall{Misses: r.Misses, Exceeded: r.Exceeded, Untold: !r.solved()}
}

// Met tells whether the spring meets the whole target within the limits. A result without a
// solved spring, as it comes with an error, does not.
func (r Result) Met() bool { return r.solved() && r.Shortfall().None() }

func (r Result) solved() bool { return len(r.Evaluation.Record.Positions) > 0 }

// Setting is a number of the pattern as the search chose it.
type Setting struct {
	Freedom spring.Freedom
	Value   float64 // mm or rad
}

// Search returns the best spring for a case. Where the target cannot be met the result is
// the nearest spring and says what it misses and exceeds. The errors are those of
// design.Case.Validate, ErrNothingSolved, that of ctx, and those of design.PatternFor and
// design.Evaluate; with ErrYield the result is complete all the same.
func Search(ctx context.Context, c design.Case, o Options) (Result, error) {
	if err := c.Validate(); err != nil {
		return Result{}, err
	}
	return bestSpring(ctx, c, o)
}

// bestSpring is Search for a case that may go beyond what Validate allows, such as one with more
// room than there is.
func bestSpring(ctx context.Context, c design.Case, o Options) (Result, error) {
	pattern, err := o.patternFor(c)
	if err != nil {
		return Result{}, err
	}
	s := newSearcher(ctx, c, pattern, o)
	f, err := s.findInOneHand(o)
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

func (s *searcher) result(free, chosen candidate) (Result, error) {
	spring := s.c.SpringFor(s.pattern.PathFor(chosen.x))
	evaluation, yields := solve.Evaluate(s.ctx, spring, solve.Options{})
	if yields != nil && !errors.Is(yields, solve.ErrYield) {
		return Result{}, yields
	}
	before, err := solve.Evaluate(s.ctx, s.c.SpringFor(s.pattern.PathFor(free.x)), solve.Options{AllowYield: true})
	if err != nil {
		return Result{}, err
	}
	r := Result{
		Spring:     spring,
		Evaluation: evaluation,
		Family:     s.pattern.Family,
		Before:     summarise(s.c, before.Record),
		After:      summarise(s.c, evaluation.Record),
		Misses:     s.c.Misses(evaluation.Record),
	}
	for j, f := range s.pattern.Freedoms {
		r.Settings = append(r.Settings, Setting{f, chosen.x[j]})
	}
	r.Exceeded = s.exceeded(chosen.x, r.After.StressRatio)
	r.Binding = s.binding(free.x, chosen.x, r)
	// The spring and its record carry what they miss, wherever they go.
	short := r.Shortfall()
	r.Evaluation.Record.Verdict = &short
	if !short.None() {
		r.Spring.Shortfall = &short
	}
	for i := range s.workers {
		r.Evaluations += s.workers[i].count + s.sketch[i].count
	}
	return r, yields
}

// Spared is a stage of giving up pre-activation bends.
type Spared struct {
	Bends int     // bends that are not plain corners
	Worst float64 // worst use of a tolerance or slack: 1 at its edge
}
