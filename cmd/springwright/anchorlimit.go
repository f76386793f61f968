package main

import (
	"context"

	"springwright/design/effect"
	"springwright/design/report"
	"springwright/export/words"
	"springwright/optimize"
)

// holdAnchor fails where a spring that a search found to meet its target does not keep to what the
// target lets the anchor lose, of which the search knows nothing, unless it is wanted anyway; and
// where nothing is known of the loss. Alternatives that go beyond it are taken away.
func holdAnchor(ctx context.Context, r report.Report, result *optimize.Result, anyway bool) error {
	wanted := r.Case
	verdicts := r.Teeth.AnchorVerdicts(wanted.Target)
	if len(verdicts) == 0 {
		return nil
	}
	for _, v := range verdicts {
		if v.Unknown {
			return (&failure{code: exitUnmet, text: "the target limits what the anchor loses, but that is not known: " + r.Teeth.Anchors[0].Fault.Error()}).
				hint("choose another kind of spring or wire, or a shorter travel")
		}
	}
	var kept []optimize.Alternative
	for _, a := range result.Alternatives {
		outcome, err := effect.PredictAnchor(ctx, wanted, a.Spring)
		if err != nil {
			return err
		}
		if (effect.TeethReport{Anchors: []effect.AnchorOutcome{outcome}}).AnchorKept(wanted.Target) {
			kept = append(kept, a)
		}
	}
	result.Alternatives = kept
	if r.Met() || !result.Met() || anyway {
		return nil
	}
	var book *words.Book
	f := &failure{code: exitUnmet, text: "the spring meets the loads of the target, but the anchor loses more than it allows"}
	for _, line := range book.Shortfall(wanted.Teeth, r.Spring) {
		f.details = append(f.details, "nearest design: "+line)
	}
	return f.hint("less force, a smaller couple on the anchor under [target.anchor], or an anchor that is held better in the mouth and said so in [anchor]; --anyway writes the template all the same")
}
