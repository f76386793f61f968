package effect

import (
	"context"

	"springwright/design"
	"springwright/design/spring"
	"springwright/design/target"
)

// AnchorOutcome is what becomes of both teeth under a spring whose anchor is held in one way.
type AnchorOutcome struct {
	Anchorage design.Anchorage
	// HoldRatio is how many times as firmly the anchor holds against being shifted as the active
	// tooth does; 0 where it does not move.
	HoldRatio float64
	Drift     Drift // of both teeth; empty with a Fault
	Fault     error // why no drift is predicted; nil where one is
}

// PredictAnchor predicts the drift of both teeth with the anchor of a case. The error is that of
// ctx; whatever else stands in the way of a prediction is the outcome's Fault.
func PredictAnchor(ctx context.Context, c design.Case, s spring.Spring) (AnchorOutcome, error) {
	o := AnchorOutcome{Anchorage: c.Anchorage, HoldRatio: c.HoldRatio()}
	body, err := AnchorBodyOf(c)
	if err == nil {
		o.Drift, err = PredictBothDrift(ctx, s, c.ActiveOffset(s.Start), c.Resistance.Active.LeverMM2, body)
	}
	o.Fault = err
	return o, ctx.Err()
}

// AnchorOutcomes are the outcome with the anchor of a case and, where there is a better hold that
// a clinic could choose, that with the next better one.
func AnchorOutcomes(ctx context.Context, c design.Case, s spring.Spring) ([]AnchorOutcome, error) {
	given, err := PredictAnchor(ctx, c, s)
	if err != nil {
		return nil, err
	}
	list := []AnchorOutcome{given}
	if better, ok := c.BetterAnchorage(); ok {
		c.Anchorage = better
		next, err := PredictAnchor(ctx, c, s)
		if err != nil {
			return nil, err
		}
		list = append(list, next)
	}
	return list, nil
}

// Spent tells that the spring's force, or couple, towards the goal has died out before it is
// reached.
func (o AnchorOutcome) Spent() bool { return o.Fault == nil && o.Drift.End == DriftDied }

// LossVerdicts holds what the anchor loses, where it is most on the way, against the limits that
// a target sets to it; none where it sets none.
func (o AnchorOutcome) LossVerdicts(t target.Target) []target.LimitVerdict {
	lostMM, tipRad := o.Drift.AnchorMost()
	var list []target.LimitVerdict
	add := func(limit target.Limit, value, allowed float64) {
		if allowed > 0 {
			list = append(list, target.LimitVerdict{
				Limit: limit, Value: value, Allowed: allowed,
				Met: o.Fault == nil && value <= allowed, Unknown: o.Fault != nil,
			})
		}
	}
	add(target.AnchorLossLimit, lostMM, t.AnchorLossMM)
	add(target.AnchorTipLimit, tipRad, t.AnchorTipRad)
	return list
}

// AnchorVerdicts are the LossVerdicts of the anchor as the case has it.
func (r TeethReport) AnchorVerdicts(t target.Target) []target.LimitVerdict {
	if len(r.Anchors) == 0 {
		return nil
	}
	return r.Anchors[0].LossVerdicts(t)
}

// AnchorKept tells that the anchor keeps to the limits that a target sets to what it may lose, as
// far as that is known.
func (r TeethReport) AnchorKept(t target.Target) bool {
	for _, v := range r.AnchorVerdicts(t) {
		if !v.Met {
			return false
		}
	}
	return true
}

// AnchorBeyond is how far the anchor goes beyond the limits that a target sets to what it may
// lose. What is not known is not among them.
func (r TeethReport) AnchorBeyond(t target.Target) []target.Excess {
	var list []target.Excess
	for _, v := range r.AnchorVerdicts(t) {
		if !v.Met && !v.Unknown {
			list = append(list, target.Excess{Limit: v.Limit, Beyond: v.Value - v.Allowed})
		}
	}
	return list
}
