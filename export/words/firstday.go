package words

import (
	"math"

	"springwright/design/spring"
	"springwright/design/tooth"
)

const (
	leastRelaxedN   = 0.02 // a load below these has no range worth a line (choice)
	leastRelaxedNMM = 0.2
)

// FirstDay says what the first day in the mouth leaves of the load that drives the travel, or of
// the couple that tips where that is what there is; empty where nothing is known of the wire or
// there is nothing to lose.
func (b *Book) FirstDay(r spring.Record, way spring.Travel) string {
	if !r.FirstDayLoss.Known() || len(r.Positions) == 0 {
		return ""
	}
	k, _ := way.Component()
	now := func(k tooth.Component) float64 { return math.Abs(r.Positions[0].Active.Component(k)) }
	if !k.Couple() && now(k) < leastRelaxedN {
		k = tooth.CoupleY
	}
	if k.Couple() && now(k) < leastRelaxedNMM {
		return ""
	}
	left := func(loss float64) float64 {
		active, _ := r.AfterFirstDay(0, loss)
		return math.Abs(active.Component(k))
	}
	most, least := left(r.FirstDayLoss.Low), left(r.FirstDayLoss.High)
	text := Phrase("after the first day the force is %s to %s N at the start, and %s to %s N lower all the way, as the wire relaxes (from memory)")
	if k.Couple() {
		text = "after the first day the couple is %s to %s N·mm at the start, and %s to %s N·mm lower all the way, as the wire relaxes (from memory)"
	}
	return b.Say(text, b.Number(least, 2), b.Number(most, 2), b.Number(now(k)-most, 2), b.Number(now(k)-least, 2))
}
