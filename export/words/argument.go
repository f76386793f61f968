package words

import (
	"math"

	"springwright/design/effect"
	"springwright/design/tooth"
)

// ArgumentRemark says how straight wires were taken for what is said of them.
func (b *Book) ArgumentRemark(a effect.Argument) string {
	text := b.Say("Put in with play, superelastic wires with the weakest and the strongest data of their alloy")
	if a.Next > 0 {
		text += b.Say(", ending in the anchor slot or going on into the next one, of tooth %d", int(a.Next))
	}
	return text + b.Say(". Clearly larger: by a fifth or more. Put in over less travel, the wire is held against the first loads of the spring. It will do where its force is at least a third of the spring's, and neither that, unless the case allows it, nor the couple on the anchor is clearly larger.")
}

// Heard says a saying about straight wires and whether it holds beside a spring. It begins with a capital and
// ends with a full stop.
func (b *Book) Heard(teeth tooth.Pair, h effect.Heard) string {
	travel, anchor := b.span(h.FromMM, h.ToMM, -1), int(teeth.Anchor)
	var saying string
	switch h.Saying {
	case effect.WireForceLarger:
		saying = b.Say("At %s mm the straight wire's force is clearly larger", travel)
	case effect.WireCoupleLarger:
		saying = b.Say("At %s mm its couple on tooth %d is clearly larger, too", travel, anchor)
	case effect.WireMomentLarger:
		saying = b.Say("At %s mm its moment about the centre of resistance of tooth %d is clearly larger", travel, anchor)
	case effect.BothTipAlike:
		saying = b.Say("The straight wire tips both teeth the same way")
	case effect.SmallTravelWire:
		saying = b.Say("Small travel, %s mm: the straight wire will do", travel)
	default:
		saying = b.Say("Large travel, %s mm: a loop", travel)
	}
	holds := b.holds(h)
	if h.Compares() {
		holds += ", " + b.Say("%s times as much as with the spring", b.span(h.Least, h.Most, 1))
	}
	return b.Say("“%s”: %s.", saying, holds)
}

// holds says in which cases a saying holds.
func (b *Book) holds(h effect.Heard) string {
	switch h.Holds {
	case h.Of:
		return b.Say("holds")
	case 0:
		return b.Say("does not hold")
	}
	switch h.Only {
	case effect.WeakestData:
		return b.Say("holds with the weakest data alone")
	case effect.StrongestData:
		return b.Say("holds with the strongest data alone")
	case effect.EndsAtAnchor:
		return b.Say("holds only where the wire ends in the anchor slot")
	case effect.GoesOn:
		return b.Say("holds only where the wire goes on into the next slot")
	case effect.IsPutIn:
		return b.Say("holds only where the wire is put in")
	case effect.IsLetBack:
		return b.Say("holds only where the wire is let back")
	}
	return b.Say("holds in %d of %d cases", h.Holds, h.Of)
}

// ArgumentFigures says what a straight wire does for each newton, at the force of the spring, and by going on into
// the next slot. Sentences, none where there are no figures.
func (b *Book) ArgumentFigures(teeth tooth.Pair, a effect.Argument) (said []string) {
	if len(a.Loop) == 0 {
		return nil
	}
	anchor, loop := int(teeth.Anchor), a.Loop[0]
	travel := b.Figures(loop.TravelLeftMM, 3)
	perN := newRange()
	for _, f := range a.Wires {
		if v, ok := f.Loads.AnchorCouplePerForceMM(); ok && f.TravelLeftMM == loop.TravelLeftMM {
			perN.add(v)
		}
	}
	if v, ok := loop.Loads.AnchorCouplePerForceMM(); ok && perN.any {
		said = append(said, b.Say("For each newton tooth %d feels %s N·mm from the straight wire at %s mm, %s N·mm from the spring.",
			anchor, b.span(perN.least, perN.most, 1), travel, b.Number(v, 1)))
	}
	couple, left := newRange(), newRange()
	for _, f := range a.AtEqualForce {
		couple.add(math.Abs(f.Loads.AnchorCoupleNMM))
		left.add(f.TravelLeftMM)
	}
	if couple.any {
		said = append(said, b.Say("The straight wire comes down to the spring's first force of %s N with %s mm left, and puts %s N·mm on tooth %d then; the spring puts %s N·mm.",
			b.Number(loop.Loads.ForceN, 2), b.span(left.least, left.most, 1), b.span(couple.least, couple.most, 1), anchor, b.Number(math.Abs(loop.Loads.AnchorCoupleNMM), 1)))
	}
	force, less := newRange(), newRange()
	for _, on := range a.Wires {
		for _, ends := range a.Wires {
			state := on.State
			state.Next = 0
			if on.State.Next > 0 && ends.State == state && ends.TravelLeftMM == on.TravelLeftMM && on.TravelLeftMM == loop.TravelLeftMM {
				force.add(on.Loads.AnchorForceN - ends.Loads.AnchorForceN)
				less.add(math.Abs(ends.Loads.AnchorCoupleNMM) - math.Abs(on.Loads.AnchorCoupleNMM))
			}
		}
	}
	if force.any && less.least > 0 && force.least > 0 {
		said = append(said, b.Say("Going on into the slot of tooth %d, the straight wire puts %s N·mm less couple on tooth %d at %s mm, and %s N more force.",
			int(a.Next), b.span(less.least, less.most, 1), anchor, travel, b.span(force.least, force.most, 2)))
	}
	if a.Unsolved > 0 {
		said = append(said, b.Say("In %d cases the straight wire yields or cannot be solved: they have no figures.", a.Unsolved))
	}
	if n := a.Strained(); n > 0 {
		said = append(said, b.Say("In %d cases the straight wire is bent farther than its alloy gives back: it keeps a set, and pushes less than told.", n))
	}
	return said
}

// span is such as "1.2 to 3.4", one number where both print alike; −1 decimals: three figures.
func (b *Book) span(least, most float64, decimals int) string {
	print := func(v float64) string { return b.Number(v, decimals) }
	if decimals < 0 {
		print = func(v float64) string { return b.Figures(v, 3) }
	}
	low, high := print(least), print(most)
	if low == high {
		return low
	}
	return b.Say("%s to %s", low, high)
}

// spread is the least and the most of some numbers.
type spread struct {
	least, most float64
	any         bool
}

func newRange() spread { return spread{least: math.Inf(1), most: math.Inf(-1)} }

func (s *spread) add(v float64) { s.least, s.most, s.any = min(s.least, v), max(s.most, v), true }
