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

// playNotice holds a spring in tied slots against the same spring lying loosely in both: one that was
// designed for tied slots, or one whose loads are those with play. A question that has no answer, such
// as play with no settled contacts, is left out: the design stands without it.
func playNotice(ctx context.Context, c design.Case, s spring.Spring) notice.List {
	seated := s.AnchorHold.Play || s.ActiveHold.Play
	loose := s
	if !seated {
		loose.AnchorHold = c.AnchorSlot.WithPlay()
		if !loose.ActiveHold.Hook {
			loose.ActiveHold = c.ActiveSlot.WithPlay()
		}
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
		Teeth: c.Teeth, Seated: seated, Hook: s.ActiveHold.Hook, Component: k,
		Tied:            effect.Tied.Record.Positions[0].Active.Component(k),
		Played:          effect.Played.Record.Positions[0].Active.Component(k),
		ActiveCoupleNMM: effect.Active.CoupleNMM, AnchorCoupleNMM: effect.Anchor.CoupleNMM,
	}}
}

// slidNotice tells where a wire is slid to rest before it is tied.
func slidNotice(c design.Case, s spring.Spring, r spring.Record) notice.List {
	if s.SlidToRest == spring.NoSlide || s.Slide != spring.NoSlide || len(r.Positions) == 0 || r.Positions[0].Play == nil {
		return nil
	}
	n := notice.SlidToRest{Tooth: c.Teeth.Active, OutMM: r.Positions[0].Play.SlidMM, DrawnN: s.DrawnToN}
	if s.SlidToRest == spring.SlideAnchor {
		n.Tooth = c.Teeth.Anchor
	}
	return notice.List{n}
}
