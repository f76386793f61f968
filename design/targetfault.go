package design

import (
	"fmt"
	"math"
	"strings"

	"springwright/design/fault"
	"springwright/design/quantity"
	"springwright/design/target"
	"springwright/design/tooth"
)

// targetKey is the table of a case file that the faults below are of.
const targetKey = "target"

// OverlapFaults finds windows at the start that leave nothing of those over the travel. The
// faults name no place.
func (c Case) OverlapFaults() fault.List {
	var faults fault.List
	member := c.Teeth.ActiveMember()
	for k := range tooth.Components {
		q := target.OfActive(k)
		start, over := c.Target.WindowAt(q, c.Target.ForceUntilMM, true), c.Target.WindowAt(q, c.Target.ForceUntilMM, false)
		if !(start.Min > over.Max || over.Min > start.Max) {
			continue
		}
		faults = append(faults, fault.Fault{Key: targetKey, Text: fmt.Sprintf("asks at the start for %s and over the whole travel, which begins there, for %s",
			rangeText(member, k, start.Min, start.Max), rangeText(member, k, over.Min, over.Max)), Hint: "let the two windows overlap"})
	}
	return faults
}

// SenseFaults finds loads that push the tooth back from where it is to go, unless the target
// says that they are meant, and loads that statics forbids. It needs a case that has no other
// fault. How to say that a load is meant is no hint of theirs: it would be followed.
func (c Case) SenseFaults() fault.List {
	var faults fault.List
	if against := c.AgainstTravel(); len(against) > 0 && !c.Target.AgainstTravelMeant {
		faults = append(faults, c.againstFault(against[0]))
	}
	if found := c.Imbalances(); len(found) > 0 { // the first is the reason for the others
		text, hint := imbalanceText(c, found[0])
		faults = append(faults, fault.Fault{Key: targetKey, Text: text, Hint: hint})
	}
	return faults
}

func (c Case) againstFault(a AgainstTravel) fault.Fault {
	member := c.Teeth.ActiveMember()
	moves := fmt.Sprintf("goes %s %s", millimetres(math.Abs(a.Travel)), placeWord(member, a.Component, a.Travel))
	if a.Component.Couple() {
		moves = fmt.Sprintf("turns %s°, %s", quantity.Format(round(quantity.Degree.Outside(math.Abs(a.Travel)))), member.Sense(a.Component, a.Travel))
	}
	return fault.Fault{
		Key: targetKey,
		Text: fmt.Sprintf("asks for %s on tooth %d, but from [now] to [goal] it %s: the load would take it the other way",
			article(member.LoadName(a.Component, a.Sense)), c.Teeth.Active, moves),
		Hint: "check which way the tooth should go, and which way the load",
	}
}

func millimetres(mm float64) string { return quantity.Format(mm) + " mm" }

// placeWord is which way a part of the travel goes, in the words of [now] and [goal].
func placeWord(m tooth.Member, k tooth.Component, part float64) string {
	if k == tooth.ForceZ {
		return pick(part > 0, "towards the root tip (apically)", "towards the biting edge (occlusally)")
	}
	return m.Sense(k, part)
}

func pick(yes bool, a, b string) string {
	if yes {
		return a
	}
	return b
}

func article(name string) string {
	if strings.ContainsRune("aeiou", rune(name[0])) {
		return "an " + name
	}
	return "a " + name
}

// round keeps what is worth reading of a number in a message: four digits behind the point.
func round(v float64) float64 { return math.Round(v*1e4) / 1e4 }

// rangeText says a range of a component on the axes in the words of the tooth.
func rangeText(m tooth.Member, k tooth.Component, low, high float64) string {
	number := func(v float64) string { return quantity.Format(round(v)) }
	return m.Range(k, low, high, number, target.OfActive(k).Unit(), fmt.Sprintf)
}

// imbalanceText says an equation of statics in words, and what the target would make of it.
func imbalanceText(of Case, i Imbalance) (text, hint string) {
	active, anchor := of.Teeth.ActiveMember(), of.Teeth.AnchorMember()
	left := millimetres(round(i.TravelLeftMM)) + " of travel left"
	said := func(m tooth.Member, w target.Window) string {
		text := rangeText(m, i.Component, w.Min, w.Max)
		if w.Usual {
			text += `, the usual limit where the case says nothing`
		}
		return text
	}
	switch {
	case i.Joint:
		return fmt.Sprintf("cannot be in balance with %s: the couples on both teeth and force times distance must sum to 0 about all three axes, "+
				"and no force within its windows does that for all of them", left),
			"widen the windows of the couples on one tooth, or those of the forces"
	case i.Hook:
		return fmt.Sprintf("asks for a couple on tooth %d of %s with %s, but the wire only hooks on to it: force times distance from the hook gives %s",
				active.Number, said(active, i.Active), left, rangeText(active, i.Component, i.Arm.Min, i.Arm.Max)),
			"a couple needs a wire that is held in the slot: leave the couple out, or choose a spring that enters the slot"
	case !i.Component.Couple():
		return fmt.Sprintf("cannot be in balance with %s: one wire pushes both teeth with equal and opposite forces, force on %d + force on %d = 0, but it asks for %s on tooth %d and %s on tooth %d",
				left, active.Number, anchor.Number, said(active, i.Active), active.Number, said(anchor, i.Anchor), anchor.Number),
			"what moves one tooth one way moves the other one the other way: decide for one of them, and hold the other by other means"
	}
	sum := i.Sum()
	return fmt.Sprintf("cannot be in balance with %s: couple on %d + couple on %d + force × distance = 0, but it asks for a couple on tooth %d of %s, one on tooth %d of %s, and force × distance can be %s: together %s, never 0",
			left, active.Number, anchor.Number, active.Number, said(active, i.Active), anchor.Number, said(anchor, i.Anchor),
			rangeText(active, i.Component, i.Arm.Min, i.Arm.Max), rangeText(active, i.Component, sum.Min, sum.Max)),
		"a couple on one tooth needs a couple on the other or a force at a distance that balances it: widen one of the windows"
}
