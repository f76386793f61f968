package words

import (
	"math"
	"strings"

	"springwright/design"
	"springwright/design/bent"
	"springwright/design/report"
	"springwright/design/spring"
	"springwright/design/tooth"
)

// Activation says how a spring is tried on the bench: how far, how often, which set is allowed after it, and what
// may be bent in beforehand. It is empty where there are no teeth to name directions by.
func (b *Book) Activation(c design.Case, s spring.Spring, a report.Activation) []string {
	if s.Teeth == (tooth.Pair{}) {
		return nil
	}
	way := strings.Join(append(b.shifts(s, a.Off), b.turns(s, a.Off)...), ", ")
	text := b.Say("Trial activation: hold the anchor end as in its slot, bring E to the active slot's entry (%s), never farther, and let go, %d times (common practice).", way, a.Times)
	if c.ActiveSlot.Hook {
		text = b.Say("Trial activation: hold the anchor end as in its slot, bring E to the active slot's centre (%s), never farther, and let go, %d times (common practice).", way, a.Times)
	}
	allowed := b.Say("Afterwards E may lie up to %s mm and %s from where it lay before: what the eye tells. More is a set: measure it, and put it back.", b.Number(a.AllowedMM, 1), b.Degrees(a.AllowedRad))
	if a.Sets {
		allowed = b.Say("Afterwards E may lie up to %s mm and %s from where it lay before, as the wire yields a little. More is not reckoned with: measure it, and put it back.", b.Number(a.AllowedMM, 1), b.Degrees(a.AllowedRad))
	}
	texts := []string{text, allowed}
	if first := b.beforehand(c, a); first != "" {
		texts = append(texts, first)
	}
	return texts
}

// beforehand says what to bend in for the first day, or why nothing.
func (b *Book) beforehand(c design.Case, a report.Activation) string {
	if !a.Loss.Known() {
		return ""
	}
	percent := func(share float64) string { return b.Number(100*share, 0) }
	text := b.Say("The first day takes %s to %s %% of the load (from memory).", percent(a.Loss.Low), percent(a.Loss.High))
	shiftMM, turnRad := a.Size()
	lowMM, highMM := a.Beforehand.Low*shiftMM, a.Beforehand.High*shiftMM
	lowRad, highRad := a.Beforehand.Low*turnRad, a.Beforehand.High*turnRad
	switch {
	case len(a.Beyond) > 0:
		return text + " " + b.Say("Bend in nothing for it: at first, %s would be beyond what is asked for.", b.Quantities(c, a.Beyond[0].Quantity))
	case a.Beforehand == (spring.Band{}):
		return text + " " + b.Say("Bend in nothing for it: the wire would be stressed beyond what is allowed.")
	case highMM < 0.1 && highRad < 0.5*degree:
		return text + " " + b.Say("That is less than a hand can bend in.")
	}
	var parts []string
	if highMM >= 0.1 {
		parts = append(parts, b.Say("%s to %s mm", b.Number(lowMM, 1), b.Number(highMM, 1)))
	}
	if highRad >= 0.5*degree {
		parts = append(parts, b.Say("%s to %s", b.Degrees(lowRad), b.Degrees(highRad)))
	}
	return text + " " + b.Say("To have all of it afterwards, bend E farther from the slot beforehand, the same way: %s.", strings.Join(parts, ", "))
}

// shifts are the parts of an offset that do not print as zero, with the words of their ways.
func (b *Book) shifts(s spring.Spring, off [tooth.Components]float64) []string {
	var parts []string
	for _, k := range [...]tooth.Component{tooth.ForceZ, tooth.ForceX, tooth.ForceY} {
		if mm := off[k]; math.Abs(mm) >= 0.05 {
			parts = append(parts, b.Number(math.Abs(mm), 1)+" mm "+b.Way(s.Teeth.ActiveMember(), k, mm))
		}
	}
	return parts
}

// turns are those of its turn, as somebody sees them.
func (b *Book) turns(s spring.Spring, off [tooth.Components]float64) []string {
	// A turn is anticlockwise about an axis that points at the viewer: from the cheek that is the page's
	// right × up, from the biting side −z, and for somebody who looks along +x, −x.
	cheek := -1.0
	if s.Teeth.XPointsRight() {
		cheek = -cheek
	}
	if s.Teeth.Active.Upper() {
		cheek = -cheek
	}
	var parts []string
	for _, t := range [...]struct {
		k    tooth.Component
		sign float64
		ways [2]Phrase
	}{
		{tooth.CoupleY, cheek, [...]Phrase{"turned %s clockwise, seen from the cheek", "turned %s anticlockwise, seen from the cheek"}},
		{tooth.CoupleZ, -1, [...]Phrase{"turned %s clockwise, seen from the biting side", "turned %s anticlockwise, seen from the biting side"}},
		{tooth.CoupleX, -1, [...]Phrase{"turned %s clockwise, seen along the arch from the anchor tooth", "turned %s anticlockwise, seen along the arch from the anchor tooth"}},
	} {
		switch rad := t.sign * off[t.k]; {
		case rad >= 0.5*degree:
			parts = append(parts, b.Say(t.ways[1], b.Degrees(rad)))
		case rad <= -0.5*degree:
			parts = append(parts, b.Say(t.ways[0], b.Degrees(-rad)))
		}
	}
	return parts
}

// bentLost says what a trial activation took, and where to put it back.
func (b *Book) bentLost(drawn spring.Spring, l bent.Lost) []string {
	parts := append(b.shifts(drawn, l.Off), b.turns(drawn, l.Off)...)
	if drawn.Teeth == (tooth.Pair{}) {
		return nil
	}
	if l.Within {
		return []string{b.Say("the trial activation took no more than is allowed: nothing to put back")}
	}
	if l.Share <= 0 {
		return []string{b.Say("after the trial activation the free end has moved %s, not towards the slot: no set does that, read it again", strings.Join(parts, ", "))}
	}
	texts := []string{b.Say("the trial activation took about %s %% of the activation: the free end moved %s", b.hundred(l.Share), strings.Join(parts, ", "))}
	if l.Back == nil {
		return append(texts, b.Say("no one bend puts it back: measure all of it again"))
	}
	text := b.Say("to put it back: %s", strings.Join(b.Corrections(drawn, *l.Back), "; "))
	if left := append(b.shifts(drawn, l.Left), b.turns(drawn, l.Left)...); len(left) > 0 {
		text = b.Say("%s; what is left then: %s", text, strings.Join(left, ", "))
	}
	return append(texts, text, b.Say("then measure all of it again: what is told here is of the spring before the trial activation"))
}
