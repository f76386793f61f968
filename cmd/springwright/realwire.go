package main

import (
	"context"
	"fmt"
	"math"

	"springwright/design"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/target"
)

// realWire says what the plain model leaves out of a spring made for a case: what play in the
// slots does. A question that has no answer, such as play with no settled contacts, is left
// out: the design stands without it.
func realWire(ctx context.Context, wanted design.Case, spring spring.Spring) []solve.Warning {
	var warnings []solve.Warning
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
func playWarning(ctx context.Context, wanted design.Case, spring spring.Spring) (solve.Warning, bool) {
	loose := spring
	loose.AnchorHold = wanted.AnchorSlot.WithPlay()
	if !loose.ActiveHold.Hook {
		loose.ActiveHold = wanted.ActiveSlot.WithPlay()
	}
	effect, err := solve.PlayEffect(ctx, loose, solve.Options{AllowYield: true})
	if err != nil || len(effect.Tied.Record.Positions) == 0 {
		return solve.Warning{}, false
	}
	if max(effect.Active.ForceN, effect.Anchor.ForceN) < worthForceN && max(effect.Active.CoupleNMM, effect.Anchor.CoupleNMM) < worthCoupleNMM {
		return solve.Warning{}, false
	}
	return solve.Warning{
		Text: playText(wanted, spring, effect),
		Hint: "tie the wire in, or use a wire that fills the slot better",
		Work: solve.Tying,
	}, true
}

// playText says what play does to the load that drives the travel, and to the couples.
func playText(wanted design.Case, spring spring.Spring, effect solve.PlayComparison) string {
	k, _ := spring.Travel().Component()
	tied, played := effect.Tied.Record.Positions[0].Active, effect.Played.Record.Positions[0].Active
	// In the sense that it has with tied slots, so that the first number is above 0.
	name, sense := wanted.Teeth.ActiveMember().LoadName(k, tied.Component(k)), math.Copysign(1, tied.Component(k))
	change := fmt.Sprintf("play takes the %s at the start from %.2f to %.2f %s",
		name, sense*tied.Component(k), sense*played.Component(k), target.OfActive(k).Unit())
	if spring.ActiveHold.Hook {
		return fmt.Sprintf("loads hold for a wire tied tightly into the anchor slot; lying loosely in it, %s and changes the couple on the anchor tooth by up to %.1f N·mm",
			change, effect.Anchor.CoupleNMM)
	}
	return fmt.Sprintf("loads hold for a wire tied tightly into both slots; lying loosely in them, %s and changes the couples by up to %.1f N·mm on the active tooth and %.1f N·mm on the anchor",
		change, effect.Active.CoupleNMM, effect.Anchor.CoupleNMM)
}
