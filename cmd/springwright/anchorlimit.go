package main

import (
	"context"

	"springwright/design"
	"springwright/design/effect"
	"springwright/optimize"
)

// holdAnchor holds a result against what its target lets the anchor lose, of which the search
// knows nothing: it adds what is beyond that to what the result exceeds, takes away alternatives
// that go beyond it, and fails where a spring that met the rest does not meet this, unless it is
// wanted anyway. Where nothing is known of the loss, it fails.
func holdAnchor(ctx context.Context, wanted design.Case, r *optimize.Result, teeth effect.TeethReport, anyway bool) error {
	verdicts := teeth.AnchorVerdicts(wanted.Target)
	if len(verdicts) == 0 {
		return nil
	}
	for _, v := range verdicts {
		if v.Unknown {
			return (&failure{code: exitUnmet, text: "the target limits what the anchor loses, but that is not known: " + teeth.Anchors[0].Fault.Error()}).
				hint("choose another kind of spring or wire, or a shorter travel")
		}
	}
	var kept []optimize.Alternative
	for _, a := range r.Alternatives {
		outcome, err := effect.PredictAnchor(ctx, wanted, a.Spring)
		if err != nil {
			return err
		}
		if (effect.TeethReport{Anchors: []effect.AnchorOutcome{outcome}}).AnchorKept(wanted.Target) {
			kept = append(kept, a)
		}
	}
	r.Alternatives = kept
	met := r.Met()
	r.Exceeded = append(r.Exceeded, teeth.AnchorBeyond(wanted.Target)...)
	if r.Met() || !met || anyway {
		return nil
	}
	f := &failure{code: exitUnmet, text: "the spring meets the loads of the target, but the anchor loses more than it allows", details: shortcomings(wanted, *r)}
	return f.hint("less force, a smaller couple on the anchor under [target.anchor], or an anchor that is held better in the mouth and said so in [anchor]; --anyway writes the template all the same")
}
