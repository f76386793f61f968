package main

import (
	"context"
	"fmt"

	"springwright/design"
)

// realWire says what the plain model leaves out of a spring made for a case: bends that the
// activation opens again, and what play in the slots does. A question that has no answer,
// such as play with no settled contacts, is left out: the design stands without it.
func realWire(ctx context.Context, wanted design.Case, spring design.Spring) []design.Warning {
	var warnings []design.Warning
	if bends, err := spring.OpposedBends(); err == nil {
		if w, found := design.OpposedBendsWarning(bends); found {
			warnings = append(warnings, w)
		}
	}
	if w, found := playWarning(ctx, wanted, spring); found {
		warnings = append(warnings, w)
	}
	return warnings
}

// Changes by play below these are not worth a line: a gauge shows neither.
const (
	worthForceN    = 0.03
	worthCoupleNMM = 0.3
)

// playWarning holds a spring that was designed for tied slots against the same spring lying
// loosely in both.
func playWarning(ctx context.Context, wanted design.Case, spring design.Spring) (design.Warning, bool) {
	loose := spring
	loose.AnchorHold = wanted.AnchorSlot.WithPlay()
	if !loose.ActiveHold.Hook {
		loose.ActiveHold = wanted.ActiveSlot.WithPlay()
	}
	effect, err := design.PlayEffect(ctx, loose, design.EvaluateOptions{AllowYield: true})
	if err != nil || len(effect.Tied.Record.Positions) == 0 {
		return design.Warning{}, false
	}
	if max(effect.Active.ForceN, effect.Anchor.ForceN) < worthForceN && max(effect.Active.CoupleNMM, effect.Anchor.CoupleNMM) < worthCoupleNMM {
		return design.Warning{}, false
	}
	tied, played := effect.Tied.Record.Positions[0], effect.Played.Record.Positions[0]
	return design.Warning{
		Text: fmt.Sprintf("loads hold for a wire tied tightly into both slots; lying loosely in them, play takes the intrusive force at the start from %.2f to %.2f N and changes the couples by up to %.1f N·mm on the active tooth and %.1f N·mm on the anchor",
			tied.Active.ForceN.Z, played.Active.ForceN.Z, effect.Active.CoupleNMM, effect.Anchor.CoupleNMM),
		Hint: "tie the wire in, or use a wire that fills the slot better",
	}, true
}
