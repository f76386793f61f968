package optimize

import (
	"errors"
	"math"

	"springwright/design/solve"
	"springwright/design/spring"
)

// Merit is what a design is better at than others that meet the same target.
type Merit int

// The merits, in the order in which alternatives are listed.
const (
	Softest Merit = iota
	FewestBends
	MostTolerant
)

// String is the merit in words.
func (m Merit) String() string {
	return [...]string{"softest", "fewest bends", "most tolerant of the hand"}[m]
}

// Traits are what designs that meet the same target are held against each other by.
type Traits struct {
	RateNPerMM float64 // loss of force along the travel by its length, at the active tooth
	Bends      int     // bends and twists of the wire, plain corners included
	Share      float64 // of bent springs that meet the target, by the linear model
}

// Alternative is a design that meets the target, clearly differs from the chosen one and
// beats it in one respect.
type Alternative struct {
	Merit      Merit
	Spring     spring.Spring
	Evaluation solve.Evaluation
	After      Summary
	Traits     Traits
}

// traits describes the design x, evaluated as e.
func traits(p *problem, spring spring.Spring, e solve.Evaluation, x []float64) Traits {
	t := Traits{Share: p.share(x), Bends: spring.Path.Bends()}
	if positions := e.Record.Positions; len(positions) > 1 {
		t.RateNPerMM = spring.RateNPerMM(positions[0].Active, positions[len(positions)-1].Active)
	}
	return t
}

// beats tells whether t is better than other in one respect by more than a hair: the rate by 5 %,
// the share by twice the error of its sample (choices).
func (t Traits) beats(other Traits, m Merit) bool {
	const softer, tolerant = 0.95, 0.02
	switch m {
	case Softest:
		return t.RateNPerMM < softer*other.RateNPerMM
	case FewestBends:
		return t.Bends < other.Bends
	default:
		return t.Share > other.Share+tolerant
	}
}

// alternatives returns, for each merit in which one of the other finalists beats the
// chosen design, the best of those that meet the target and clearly differ from it and from
// those already taken.
func alternatives(p *problem, worker *objective, settled []candidate, chosen candidate, of Traits) []Alternative {
	var others []Alternative
	var at []candidate
	for _, other := range settled {
		if !other.cost.solved() || !differ(p.pattern, other.x, chosen.x) {
			continue
		}
		if a, ok := meeting(p, worker, other); ok {
			others, at = append(others, a), append(at, other)
		}
	}
	var taken []Alternative
	var takenAt []candidate
	for m := Softest; m <= MostTolerant; m++ {
		best := -1
		for i := range others {
			if !others[i].Traits.beats(of, m) || best >= 0 && !others[i].Traits.beats(others[best].Traits, m) {
				continue
			}
			clear := true
			for _, t := range takenAt {
				clear = clear && differ(p.pattern, at[i].x, t.x)
			}
			if clear {
				best = i
			}
		}
		if best >= 0 {
			others[best].Merit = m
			taken, takenAt = append(taken, others[best]), append(takenAt, at[best])
		}
	}
	return taken
}

// meeting evaluates a settled candidate; ok is false unless it meets the whole target.
func meeting(p *problem, worker *objective, c candidate) (a Alternative, ok bool) {
	spring := p.spring(c.x)
	e, err := solve.Evaluate(p.ctx, spring, solve.Options{})
	if errors.Is(err, solve.ErrYield) || err != nil || len(p.c.Misses(e.Record)) > 0 {
		return Alternative{}, false
	}
	after := summarise(p.c, e.Record)
	if len(exceeded(p, worker, c.x, after.StressRatio)) > 0 {
		return Alternative{}, false
	}
	return Alternative{Spring: spring, Evaluation: e, After: after, Traits: traits(p, spring, e, c.x)}, true
}

// differ tells whether two designs are clearly different: at least two of their numbers
// are, lengths by a millimetre and angles by ten degrees, which the eye tells apart (choice).
func differ(pattern spring.Pattern, a, b []float64) bool {
	const clearMM, clearRad = 1, math.Pi / 18
	count := 0
	for j, f := range pattern.Freedoms {
		least := float64(clearMM)
		if f.Angle {
			least = clearRad
		}
		if math.Abs(a[j]-b[j]) >= least-1e-9 {
			count++
		}
	}
	return count >= 2
}
