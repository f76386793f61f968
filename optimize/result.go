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
	"springwright/optimize/hand"
)

// Options sets how a search runs. The zero value uses every core.
type Options struct {
	Workers  int                   // goroutines; 0: one for each core. The answer does not depend on it
	Progress func(done, total int) // called from one goroutine at a time; may be nil
	Pattern  spring.Pattern        // searched instead of what the case asks for; empty: that
	// Better is told of the best design so far, its numbers rounded to what a hand can bend, with
	// the variant of the case that it is for; a later one may be worse while a variant's search is
	// young. Called from one goroutine at a time; may be nil.
	Better func(design.Case, spring.Spring)

	screening bool // a short search: is there a spring at all?
	yesOrNo   bool // in a screening: the nearest spring is not wanted where the target is far from met
}

// patternFor returns the pattern that is searched.
func (o Options) patternFor(c design.Case) (spring.Pattern, error) {
	if len(o.Pattern.Steps) > 0 {
		return o.Pattern, nil
	}
	return family.PatternFor(c)
}

// ErrNothingSolved means that no spring of the pattern could be seated at all.
var ErrNothingSolved = hand.ErrNothingSolved

// ErrSuperelastic means that bent springs of a wire that remembers its way cannot be
// followed by their elastic loads.
var ErrSuperelastic = hand.ErrSuperelastic

// What becomes of a design in the hand of the case's bender.
type (
	Robustness = hand.Robustness
	JudgedBand = hand.JudgedBand
	Influence  = hand.Influence
	Missed     = hand.Missed
)

// Bent bends n springs of a design in trial; see hand.Bent.
func Bent(ctx context.Context, c design.Case, spring spring.Spring, n int, seed uint64, workers int) (Robustness, error) {
	return hand.Bent(ctx, c, spring, n, seed, workers)
}

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

// newResult evaluates what was found. With ErrYield it is complete all the same.
func newResult(p *problem, worker *objective, f found) (Result, error) {
	free, chosen := f.free, f.chosen
	spring := p.spring(chosen.x)
	evaluation, yields := solve.Evaluate(p.ctx, spring, solve.Options{})
	if yields != nil && !errors.Is(yields, solve.ErrYield) {
		return Result{}, yields
	}
	before, err := solve.Evaluate(p.ctx, p.spring(free.x), solve.Options{AllowYield: true})
	if err != nil {
		return Result{}, err
	}
	r := Result{
		Spring:      spring,
		Evaluation:  evaluation,
		Family:      p.pattern.Family,
		Before:      summarise(p.c, before.Record),
		After:       summarise(p.c, evaluation.Record),
		Misses:      p.c.Misses(evaluation.Record),
		Evaluations: f.evaluations,
	}
	for j, f := range p.pattern.Freedoms {
		r.Settings = append(r.Settings, Setting{f, chosen.x[j]})
	}
	r.Exceeded = exceeded(p, worker, chosen.x, r.After.StressRatio)
	r.Binding = binding(p, worker, free.x, chosen.x, r)
	// The spring and its record carry what they miss, wherever they go.
	short := r.Shortfall()
	r.Evaluation.Record.Verdict = &short
	if !short.None() {
		r.Spring.Shortfall = &short
	}
	return r, yields
}

// Spared is a stage of giving up pre-activation bends.
type Spared struct {
	Bends int     // bends that are not plain corners
	Worst float64 // worst use of a tolerance or slack: 1 at its edge
}

// bendInTrial fills in Robust and the record's spread, where the case asks for it and the
// spring is one whose elastic loads say what it does.
func (r *Result) bendInTrial(ctx context.Context, c design.Case, workers int) error {
	if c.Bender.Springs <= 0 || c.Bender.Perfect() || r.Spring.Wire.IsSuperelastic() || r.After.StressRatio > 1 {
		return nil
	}
	robust, err := Bent(ctx, c, r.Spring, c.Bender.Springs, c.Search.Seed, workers)
	if err != nil {
		return err
	}
	r.Robust = robust
	r.Evaluation.Record.Spread = &robust.Spread
	return nil
}
