package design

import (
	"springwright/design/target"
	"springwright/design/tooth"
)

// MissName names the quantity with a value of that sign, in the words of the trade where teeth
// are given and else by the axes of the mechanics.
func MissName(m target.Miss, teeth tooth.Pair, sign float64) string {
	k, anchor, ok := m.Quantity.Component()
	switch {
	case ok && teeth == (tooth.Pair{}):
		axis := [...]string{"x", "y", "z"}[k%3]
		if sign < 0 {
			axis = "−" + axis
		}
		name := "force along " + axis
		if k.Couple() {
			name = "couple about " + axis
		}
		if anchor {
			return name + " on the anchor tooth"
		}
		return name + " on the active tooth"
	case ok:
		c := Case{Teeth: teeth}
		c.Target.AtResistance = m.AtResistance
		return c.named(m.Quantity, sign)
	}
	return Case{}.named(m.Quantity, sign)
}
