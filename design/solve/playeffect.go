package solve

import (
	"context"
	"math"

	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// PlayComparison is a spring in tied slots and in slots with play.
type PlayComparison struct {
	Tied, Played   Evaluation
	Active, Anchor Effect // what play alone changes, at most, over the travel
}

// PlayEffect evaluates a spring with its slots tied and as they are, and tells how far play
// alone changes the loads on each tooth. Errors are those of Evaluate.
func PlayEffect(ctx context.Context, s spring.Spring, o Options) (PlayComparison, error) {
	var c PlayComparison
	var err error
	if c.Tied, err = Evaluate(ctx, s.Tied(), o); err != nil {
		return PlayComparison{}, err
	}
	if c.Played, err = Evaluate(ctx, s, o); err != nil {
		return PlayComparison{}, err
	}
	for i, tied := range c.Tied.Record.Positions {
		played := c.Played.Record.Positions[i]
		c.Active.add(tied.Active, played.Active)
		c.Anchor.add(tied.Anchor, played.Anchor)
		if other := played.OtherRest; other != nil {
			c.Active.add(tied.Active, other.Active)
			c.Anchor.add(tied.Anchor, other.Anchor)
		}
	}
	return c, nil
}

// Effect is the largest change of a force and of a couple over the travel.
type Effect struct {
	ForceN, CoupleNMM float64
}

// add takes in the change from one load to another.
func (e *Effect) add(from, to tooth.Load) {
	e.ForceN = math.Max(e.ForceN, r3.Norm(r3.Sub(to.ForceN, from.ForceN)))
	e.CoupleNMM = math.Max(e.CoupleNMM, r3.Norm(r3.Sub(to.CoupleNMM, from.CoupleNMM)))
}
