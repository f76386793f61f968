package desk

import (
	"context"
	"math"

	"springwright/design/report"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/export/words"
	"springwright/optimize"
)

// beside is what is drawn in a chart beside the spring: a straight wire over the same travel, and
// between Low and High nine of ten springs of the case's bender. On the axes of the mechanics; nil
// where there is none.
type beside struct {
	Straight []float64 `json:"straight"`
	Low      []float64 `json:"low"`
	High     []float64 `json:"high"`
}

// springsInTrial are bent of a spring that no search has bent in trial: fewer than of one that is
// printed, for they are bent again after each change of it. They tell a share to 7 per cent.
const springsInTrial = 200

// inTheHand bends springs in trial where no search has, and the spring is one whose elastic loads
// say what it does.
func inTheHand(ctx context.Context, made *report.Report) error {
	record := &made.Evaluation.Record
	bender := made.Case.Bender
	if record.Spread != nil || bender.Springs <= 0 || bender.Perfect() || made.Spring.Wire.IsSuperelastic() {
		return nil
	}
	for _, p := range record.Positions {
		if p.StressRatio > 1 {
			return nil
		}
	}
	robust, err := optimize.Bent(ctx, made.Case, made.Spring, springsInTrial, made.Case.Search.Seed, 0)
	if err != nil {
		return err
	}
	record.Spread = &robust.Spread
	return nil
}

func besideOf(made report.Report) map[string]beside {
	out := map[string]beside{}
	change := func(anchor bool, k tooth.Component, f func(*beside)) {
		key := chartKey(anchor, k)
		one := out[key]
		f(&one)
		out[key] = one
	}
	if made.Straight != nil && !made.Straight.Yields() {
		for k := range tooth.Components {
			for _, p := range made.Straight.Positions {
				change(false, k, func(b *beside) { b.Straight = append(b.Straight, rounded(p.Active.Component(k), 4)) })
				change(true, k, func(b *beside) { b.Straight = append(b.Straight, rounded(p.Anchor.Component(k), 4)) })
			}
		}
	}
	if made.Evaluation.Record.Spread == nil {
		return out
	}
	for _, p := range made.Evaluation.Record.Spread.Positions {
		for _, of := range []struct {
			anchor bool
			k      tooth.Component
			band   spring.Band
		}{
			{false, tooth.ForceZ, p.ActiveForceZN},
			{false, tooth.CoupleY, p.ActiveCoupleYNMM},
			{true, tooth.ForceZ, p.AnchorForceZN},
			{true, tooth.CoupleY, p.AnchorCoupleYNMM},
		} {
			change(of.anchor, of.k, func(b *beside) {
				b.Low, b.High = append(b.Low, rounded(of.band.Low, 4)), append(b.High, rounded(of.band.High, 4))
			})
		}
	}
	return out
}

// straightWords say why a straight wire has no figures, or that the charts have them.
func straightWords(b *words.Book, made report.Report) string {
	straight := made.Straight
	left := func(v float64) string {
		if straight.Spring.Travel().Turns {
			return b.Number(v*180/math.Pi, 1) + "°"
		}
		return b.Number(v, 2) + " mm"
	}
	switch {
	case straight == nil:
		return ""
	case straight.Superelastic:
		return b.Say("Straight wire: no figures here, for a superelastic wire has loads that depend on the way it went.")
	case straight.Unsolved || len(straight.Positions) == 0:
		return b.Say("Straight wire: no figures, for no equilibrium was found for it in these slots.")
	case straight.Yields():
		length := left(straight.Spring.Travel().Left(straight.Positions[0]))
		if reach := straight.ElasticLeft(); reach > 0 {
			return b.Say("Straight wire: it yields, and has no figures. It stays elastic for no more than %s of the travel of %s.", left(reach), length)
		}
		return b.Say("Straight wire: it yields, and has no figures. It does not stay elastic over any of the travel of %s.", length)
	case straight.Rests():
		return b.Say("The straight wire slides through its slot and does nothing here.")
	}
	return b.Say("The charts hold the spring against the same wire, straight.")
}
