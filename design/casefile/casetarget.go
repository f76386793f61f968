package casefile

import (
	"fmt"

	"springwright/design"
	"springwright/design/quantity"
	"springwright/design/target"
	"springwright/design/tooth"
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
	ratioSpan       = span{unit: quantity.Millimetre, low: -100, high: 100}
	ratioTolerance  = span{unit: quantity.Millimetre, high: 100, above: true}
	rateSpan        = span{unit: plain, high: 20, above: true}
	anchorLossSpan  = span{unit: quantity.Millimetre, low: design.LeastAnchorLossMM, high: design.MostAnchorLossMM}
	anchorTipSpan   = span{unit: quantity.Degree, low: design.LeastAnchorTipDeg, high: design.MostAnchorTipDeg}
	weightSpan      = span{unit: plain, low: 0.01, high: 100}
)

// readTarget reads the loads that are wanted; the case has its placements already. The
// force is asked for until 0.5 mm of travel are left, or half of a travel below 1 mm.
func (c *caseReader) readTarget(of design.Case) target.Target {
	t := c.required("target", "add [target.start] or [target.travel] with the loads that are wanted")
	defer t.close()
	moved, _ := travel(of)
	target := target.Target{AgainstTravelMeant: t.againstTravel()}
	target.ForceUntilMM = t.optional("force_until_mm", forceUntilSpan, min(usualForceUntilMM, moved/2))
	if target.ForceUntilMM > 0 && target.ForceUntilMM >= moved && moves(of) {
		t.blame("force_until_mm", fmt.Sprintf("%s is not below the travel of %s", millimetres(target.ForceUntilMM), millimetres(moved)),
			"the force would never be asked for: give less")
	}
	target.AtResistance = t.atResistance()
	target.AnchorLossMM = t.optional("anchor_loss_mm", anchorLossSpan, 0)
	target.AnchorTipRad = t.optional("anchor_tip_deg", anchorTipSpan, 0)
	faultsBefore := len(c.faults)
	start, whole := t.table("start"), t.table("travel")
	target.Start = c.readLoads(start, c.teeth.Active)
	start.close()
	target.Travel = c.readLoads(whole, c.teeth.Active)
	c.readRatio(whole, &target)
	if whole.has("max_rate_n_per_mm") {
		target.MaxRateNPerMM = whole.optional("max_rate_n_per_mm", rateSpan, 0)
		if moved < leastMovementMM {
			whole.blame("max_rate_n_per_mm", "is asked for, but the slot only turns", "a rate needs a travel: leave it out")
		}
	}
	whole.close()
	if t.has("anchor") {
		anchor := t.table("anchor")
		target.Anchor = c.readLoads(anchor, c.teeth.Anchor)
		anchor.close()
	}
	// Whoever wrote a window that cannot be read has not left it free.
	unread := len(c.faults) > faultsBefore || len(t.unknown()) > 0
	if t.node != nil && target.AllFree() && !unread {
		t.report(t.at, t.path, "leaves every load free", "give at least one window, under the key whose sense is wanted, such as start.intrusive_n or start.extrusive_n = { min = …, max = … }")
	}
	return target.WithUsualLimits(c.teeth.Active)
}

const (
	againstTravel = "against_travel"
	isMeant       = "meant"
)

// againstTravel reads whether loads against the travel are meant.
func (s *section) againstTravel() bool {
	if !s.has(againstTravel) {
		return false
	}
	word, _ := s.word(againstTravel, isMeant)
	return word == isMeant
}

// readLoads reads a window for each component, in the words of the clinic for that tooth. What
// is left out is the zero window.
func (c *caseReader) readLoads(t *section, of tooth.Number) target.LoadWindow {
	var loads target.LoadWindow
	for _, n := range loadSenses {
		unit, values, tolerances, into := "_n", forceSpan, forceTolerance, loads.ForceN[:]
		if n.component.Couple() {
			unit, values, tolerances, into = "_nmm", coupleSpan, coupleTolerance, loads.CoupleNMM[:]
		}
		key, way := t.sensed(n, unit, of)
		if key == "" { // those that stand beside each other may have faults of their own
			for _, key := range n.keys(unit) {
				t.window(key, values, tolerances)
			}
		} else {
			into[n.component%tooth.CoupleX] = t.window(key, values, tolerances).along(way * c.teeth.ClinicalSign(n.component))
		}
	}
	return loads
}

// readRatio reads the window of the moment-to-force ratio, which only makes sense for a
// force along the arch that does not change sign.
func (c *caseReader) readRatio(t *section, target *target.Target) {
	const key = "moment_to_force_mm"
	if !t.has(key) {
		return
	}
	target.MomentToForceMM = t.window(key, ratioSpan, ratioTolerance).along(1)
	if along := target.Travel.ForceN[0]; !target.MomentToForceMM.Free() && (along.Free() || along.Misses(0) <= 0) {
		t.blame(key, "is asked for without a force along the arch that keeps its sense", "give mesial_n or distal_n here, too, with a window that does not hold 0")
	}
}

// wordWindow is a window whose positive sense is a word of the clinic.
type wordWindow target.Window

// along turns the word's sense into that of the axis.
func (w wordWindow) along(sign float64) target.Window {
	if sign < 0 {
		w.Min, w.Max = 0-w.Max, 0-w.Min // 0 stays +0
	}
	return target.Window(w)
}

const windowHint = `write { min = …, max = … }, { value = …, tolerance = … } or "free"`

// window reads { min, max } with one end or both, { value, tolerance } or "free", the first
// two with a weight if it is given; left out it is free.
func (s *section) window(key string, values, tolerances span) wordWindow {
	free := wordWindow(target.FreeWindow())
	e := s.ask(key)
	switch {
	case e == nil, e.value.kind == text && e.value.text == "free":
		return free
	case e.value.kind != table:
		s.wrongKind(e.value, join(s.path, key), "a window", windowHint)
		return free
	}
	t := s.table(key)
	defer t.close()
	weight := 0.0
	if t.has("weight") {
		weight = t.optional("weight", weightSpan, 1)
	}
	ranged, aimed := t.has("min") || t.has("max"), t.has("value") || t.has("tolerance")
	switch {
	case ranged && aimed:
		s.blame(key, "has both a range and a value", windowHint)
		return free
	case aimed:
		value := t.needed("value", values, windowHint)
		tolerance := t.needed("tolerance", tolerances, windowHint)
		return wordWindow{Min: value - tolerance, Max: value + tolerance, Aimed: true, Weight: weight}
	case !ranged && weight != 0:
		s.blame(key, "has a weight and nothing that it is for", windowHint)
		return free
	case !ranged:
		s.blame(key, "is empty", windowHint)
		return free
	}
	w := free
	w.Weight = weight
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
