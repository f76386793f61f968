package design

import (
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
)

// AnchorExcess is a component of the load on the anchor tooth that goes beyond its usual limit
// although the target says nothing of it.
type AnchorExcess struct {
	Component    tooth.Component
	Value        float64 // N or N·mm, on the axes; about the slot's centre
	Limit        float64 // of its size
	TravelLeftMM float64
}

// AnchorExcesses lists the components of the load on the anchor tooth that are larger
// somewhere on the travel than UsualLimit for that tooth, each at its largest. Those that the
// target has a window for, or "free", are not among them, and none of a tooth that is held by what
// does not move.
func (c Case) AnchorExcesses(r spring.Record) []AnchorExcess {
	if !c.Anchorage.Moves() {
		return nil
	}
	var list []AnchorExcess
	for k := range tooth.Components {
		asked := c.Target.Anchor.ForceN[k%tooth.CoupleX]
		if k.Couple() {
			asked = c.Target.Anchor.CoupleNMM[k%tooth.CoupleX]
		}
		if asked != (target.Window{}) {
			continue
		}
		usual := target.UsualLimit(c.Teeth.Anchor, k)
		worst := AnchorExcess{Component: k, Limit: usual.Max}
		for _, p := range r.Positions {
			if v := p.Anchor.Component(k); usual.Misses(v) > usual.Misses(worst.Value) {
				worst.Value, worst.TravelLeftMM = v, p.TravelLeftMM
			}
		}
		if worst.Value != 0 {
			list = append(list, worst)
		}
	}
	return list
}
