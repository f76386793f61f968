package casefile

import (
	"fmt"

	"springwright/design"
	"springwright/design/quantity"
)

// usualForceUntilMM is the travel left below which no force is asked for: near its
// neutral position every spring goes slack.
const usualForceUntilMM = 0.5

var (
	forceSpan       = span{unit: quantity.Newton, low: -20, high: 20}
	coupleSpan      = span{unit: quantity.NewtonMillimetre, low: -200, high: 200}
	forceTolerance  = span{unit: quantity.Newton, high: 20, above: true}
	coupleTolerance = span{unit: quantity.NewtonMillimetre, high: 200, above: true}
	forceUntilSpan  = span{unit: quantity.Millimetre, low: 0, high: 20}
)

// readTarget reads the loads that are wanted; the case has its placements already. The
// force is asked for until 0.5 mm of travel are left, or half of a travel below 1 mm.
func (c *caseReader) readTarget(of design.Case) design.Target {
	t := c.required("target", "add [target.start] or [target.travel] with the loads that are wanted")
	defer t.close()
	moved, _ := travel(of)
	var target design.Target
	target.ForceUntilMM = t.optional("force_until_mm", forceUntilSpan, min(usualForceUntilMM, moved/2))
	if target.ForceUntilMM > 0 && target.ForceUntilMM >= moved && moves(of) {
		t.blame("force_until_mm", fmt.Sprintf("%s is not below the travel of %s", millimetres(target.ForceUntilMM), millimetres(moved)),
			"the force would never be asked for: give less")
	}
	target.AtResistance = t.atResistance()
	target.Start = c.readLoads(t.table("start"))
	target.Travel = c.readLoads(t.table("travel"))
	if t.node != nil && allFree(target.Start) && allFree(target.Travel) {
		t.report(t.at, t.path, "leaves every load free", "give at least one window, such as start.intrusive_n = { min = 0.3, max = 0.6 }")
	}
	return target
}

// readLoads reads a window for each component, in the words of the clinic.
func (c *caseReader) readLoads(t *section) design.LoadWindow {
	defer t.close()
	sign := signsOf(c.teeth)
	force := func(key string, sign float64) design.Window {
		return t.window(key, forceSpan, forceTolerance).along(sign)
	}
	couple := func(key string, sign float64) design.Window {
		return t.window(key, coupleSpan, coupleTolerance).along(sign)
	}
	return design.LoadWindow{
		ForceN: [3]design.Window{
			force("mesial_n", sign.mesial),
			force("buccal_n", sign.buccal),
			force("intrusive_n", 1),
		},
		CoupleNMM: [3]design.Window{
			couple("buccal_crown_torque_nmm", sign.buccalCrownTorque),
			couple("crown_mesial_nmm", sign.crownMesial),
			couple("mesial_in_nmm", sign.mesialIn),
		},
	}
}

func allFree(l design.LoadWindow) bool {
	for i := range 3 {
		if !l.ForceN[i].Free() || !l.CoupleNMM[i].Free() {
			return false
		}
	}
	return true
}

// wordWindow is a window whose positive sense is a word of the clinic.
type wordWindow design.Window

// along turns the word's sense into that of the axis.
func (w wordWindow) along(sign float64) design.Window {
	if sign < 0 {
		w.Min, w.Max = 0-w.Max, 0-w.Min // 0 stays +0
	}
	return design.Window(w)
}

// window reads { min, max } with one end or both, { value, tolerance } or "free"; left
// out it is free.
func (s *section) window(key string, values, tolerances span) wordWindow {
	free := wordWindow(design.FreeWindow())
	const hint = `write { min = …, max = … }, { value = …, tolerance = … } or "free"`
	e := s.ask(key)
	switch {
	case e == nil, e.value.kind == text && e.value.text == "free":
		return free
	case e.value.kind != table:
		s.wrongKind(e.value, join(s.path, key), "a window", hint)
		return free
	}
	t := s.table(key)
	defer t.close()
	ranged, aimed := t.has("min") || t.has("max"), t.has("value") || t.has("tolerance")
	switch {
	case ranged && aimed:
		s.blame(key, "has both a range and a value", hint)
		return free
	case aimed:
		value := t.needed("value", values, hint)
		tolerance := t.needed("tolerance", tolerances, hint)
		return wordWindow{Min: value - tolerance, Max: value + tolerance, Aimed: true}
	case !ranged:
		s.blame(key, "is empty", hint)
		return free
	}
	w := free
	if t.has("min") {
		w.Min = t.optional("min", values, 0)
	}
	if t.has("max") {
		w.Max = t.optional("max", values, 0)
	}
	if w.Min >= w.Max {
		t.blame("max", fmt.Sprintf("%s is not above min, %s", quantity.Format(w.Max), quantity.Format(w.Min)), "swap the two, or widen the window")
	}
	return w
}
