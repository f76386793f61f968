package effect

import (
	"context"
	"errors"
	"fmt"
	"math"

	"springwright/design"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"
)

// Candidate is one of several springs that are held against each other over one travel.
type Candidate struct {
	Name       string // short, such as "loop", as in files
	Title      string // in full, as in files
	Family     string // kind of spring that was searched; "" where it is not known
	Straight   bool   // a straight wire
	Spring     spring.Spring
	Evaluation solve.Evaluation
	// Withheld says why there are no figures; then Evaluation is empty.
	Withheld error
	// Anchor is what becomes of both teeth with the anchor of the case; nil before WithAnchor has
	// worked it out, and where figures are withheld.
	Anchor *AnchorOutcome
	// Argument holds a straight wire against the spring beside it; nil before Argued has worked it out, and
	// where there is none.
	Argument *Argument
}

// WithheldError says why a candidate has no figures.
type WithheldError struct {
	Cause     error   // of Evaluate
	ElasticMM float64 // of the travel, over which a wire that yields stays elastic at most
}

func (e *WithheldError) Error() string {
	if errors.Is(e.Cause, solve.ErrYield) {
		return fmt.Sprintf("%v; it stays elastic for no more than %.2f mm of the travel", e.Cause, e.ElasticMM)
	}
	return fmt.Sprintf("it cannot be solved: %v", e.Cause)
}

// Unwrap returns the cause.
func (e *WithheldError) Unwrap() error { return e.Cause }

// NewCandidate evaluates a spring. One that cannot be solved has no figures, and neither
// has one that yields without a law for what follows: its first seat sets it permanently,
// so that elastic figures would be wrong over the whole travel. The error is that of ctx.
func NewCandidate(ctx context.Context, name, title string, s spring.Spring) (Candidate, error) {
	c := Candidate{Name: name, Title: title, Spring: s}
	e, err := solve.Evaluate(ctx, s, solve.Options{})
	if stopped := ctx.Err(); stopped != nil {
		return Candidate{}, stopped
	}
	switch {
	case err == nil:
		c.Evaluation = e
	case errors.Is(err, solve.ErrYield):
		c.Withheld = &WithheldError{Cause: err, ElasticMM: elasticMM(e.Record)}
	default:
		c.Withheld = &WithheldError{Cause: err}
	}
	return c, nil
}

// WithAnchor is the candidate with what becomes of both teeth under it, the anchor held as the case
// has it: the same for all candidates. The error is that of ctx.
func (c Candidate) WithAnchor(ctx context.Context, wanted design.Case) (Candidate, error) {
	if c.Withheld != nil {
		return c, nil
	}
	outcome, err := PredictAnchor(ctx, wanted, c.Spring)
	c.Anchor = &outcome
	return c, err
}

// elasticMM is the longest travel left with which the wire does not yield, from an elastic
// record.
func elasticMM(r spring.Record) float64 {
	elastic := math.Inf(1)
	for i, p := range r.Positions {
		if p.StressRatio <= 1 {
			continue
		}
		elastic = 0
		if i+1 < len(r.Positions) {
			next := r.Positions[i+1]
			if next.StressRatio <= 1 {
				share := (p.StressRatio - 1) / (p.StressRatio - next.StressRatio)
				elastic = p.TravelLeftMM + share*(next.TravelLeftMM-p.TravelLeftMM)
			}
		}
	}
	return elastic
}

// Compared is a component of the load on a tooth by which candidates are held against each
// other, and the sign that it is shown with.
type Compared struct {
	Component tooth.Component
	Sign      float64
}

// ComparedLoads lists the component that drives the travel, above 0 where it does so, and the
// couple that tips, where that is another.
func ComparedLoads(c design.Case) []Compared {
	main, sign := c.SpringFor(spring.Path{}).Travel().Component()
	list := []Compared{{main, sign}}
	if main != tooth.CoupleY {
		list = append(list, Compared{tooth.CoupleY, c.Teeth.ClinicalSign(tooth.CoupleY)})
	}
	return list
}

// Of is the component of a load with its sign.
func (c Compared) Of(l tooth.Load) float64 { return c.Sign * l.Component(c.Component) }

// Positions are those of the record, none where the figures are withheld.
func (c Candidate) Positions() []spring.Position { return c.Evaluation.Record.Positions }
