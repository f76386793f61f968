package report

import (
	"context"

	"springwright/design"
	"springwright/design/notice"
	"springwright/design/solve"
	"springwright/design/spring"
)

// Changes by play below these are not worth a line: a gauge shows neither.
const (
	worthForceN    = 0.03
	worthCoupleNMM = 0.3
)

// playNotice holds a spring that was designed for tied slots against the same spring lying
// loosely in both. A question that has no answer, such as play with no settled contacts, is left
// out: the design stands without it.
func playNotice(ctx context.Context, c design.Case, s spring.Spring) notice.List {
	loose := s
	loose.AnchorHold = c.AnchorSlot.WithPlay()
	if !loose.ActiveHold.Hook {
		loose.ActiveHold = c.ActiveSlot.WithPlay()
	}
	effect, err := solve.PlayEffect(ctx, loose, solve.Options{AllowYield: true})
	if err != nil || len(effect.Tied.Record.Positions) == 0 {
		return nil
	}
	if max(effect.Active.ForceN, effect.Anchor.ForceN) < worthForceN && max(effect.Active.CoupleNMM, effect.Anchor.CoupleNMM) < worthCoupleNMM {
		return nil
	}
	k, _ := s.Travel().Component()
	return notice.List{notice.Play{
		Teeth: c.Teeth, Hook: s.ActiveHold.Hook, Component: k,
		Tied:            effect.Tied.Record.Positions[0].Active.Component(k),
		Played:          effect.Played.Record.Positions[0].Active.Component(k),
		ActiveCoupleNMM: effect.Active.CoupleNMM, AnchorCoupleNMM: effect.Anchor.CoupleNMM,
	}}
}
