package target

import (
	"springwright/design/tooth"
)

// UsualForceN is the largest force, either way along an axis, that a target lets a tooth feel
// where it does not say so itself.
//
// The forces that tip a tooth are 35 gf for the smallest teeth and 60 gf for the largest
// (textbook table, from memory; 1 gf = 0.00980665 N, rounded); a force that nobody asked for
// should not be able to do more. Incisors are intruded by 10–25 gf (van Steenbergen et al.,
// Angle Orthod 2005;75:723), so a side force of that way is kept below.
func UsualForceN(n tooth.Number, k tooth.Component) float64 {
	switch {
	case n.Molar():
		return 0.6
	case !n.Incisor():
		return 0.5
	case k == tooth.ForceZ:
		return 0.25
	}
	return 0.35
}

// usualLeverMM turns a usual force into the couple that turns a tooth about as much: the
// height of a centre of resistance over its slot, 7.9 mm for the upper first molar (see
// tooth.ResistanceOf), rounded (choice).
const usualLeverMM = 8

// UsualLimit is the window, the same both ways, of a component that nobody asked for: N or
// N·mm. The largest force of the tooth, and the couple that it has about the centre of
// resistance.
func UsualLimit(n tooth.Number, k tooth.Component) Window {
	most := UsualForceN(n, k)
	if k.Couple() {
		most = usualLeverMM * UsualForceN(n, tooth.ForceX)
	}
	return Window{Min: -most, Max: most, Usual: true}
}

// WithUsualLimits returns the target with UsualLimit over the travel for every component of
// the load on the active tooth n that it leaves as the zero window: silence is no consent.
// FreeWindow lifts a limit. Where a component is asked for at the start alone, its limit over
// the travel holds what is asked for there; a moment-to-force ratio names the couple about y.
func (t Target) WithUsualLimits(n tooth.Number) Target {
	fill := func(k tooth.Component, travel *Window, start Window) {
		switch {
		case *travel != Window{}:
		case start == FreeWindow():
			*travel = start
		default:
			*travel = UsualLimit(n, k)
			travel.Min, travel.Max = min(travel.Min, start.Min), max(travel.Max, start.Max)
		}
	}
	if t.MomentToForceMM != (Window{}) && t.Travel.CoupleNMM[1] == (Window{}) {
		t.Travel.CoupleNMM[1] = FreeWindow()
	}
	for i := range 3 {
		fill(tooth.ForceX+tooth.Component(i), &t.Travel.ForceN[i], t.Start.ForceN[i])
		fill(tooth.CoupleX+tooth.Component(i), &t.Travel.CoupleNMM[i], t.Start.CoupleNMM[i])
	}
	return t
}
