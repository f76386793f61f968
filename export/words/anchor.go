package words

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"springwright/design"
	"springwright/design/effect"
	"springwright/design/notice"
	"springwright/design/target"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// Anchorage is what holds the anchor slot, such as "36 alone", "35–36 joined", "36 with a bar".
func (b *Book) Anchorage(teeth tooth.Pair, a design.Anchorage) string {
	who := unit(teeth.Anchor, a.Joined)
	switch {
	case a.Held == design.ScrewHeld:
		return b.Say("%s held by a screw", who)
	case a.Held == design.BarHeld:
		return b.Say("%s with a bar", who)
	case len(a.Joined) > 0:
		return b.Say("%s joined", who)
	}
	return b.Say("%s alone", who)
}

// unit names teeth of one quadrant that move as one piece: "35–36" where they stand in a row, else
// "34, 36".
func unit(anchor tooth.Number, joined []tooth.Number) string {
	all := append([]tooth.Number{anchor}, joined...)
	slices.Sort(all)
	first, last := all[0], all[len(all)-1]
	if len(all) > 1 && int(last-first) == len(all)-1 {
		return fmt.Sprintf("%d–%d", first, last)
	}
	var names []string
	for _, n := range all {
		names = append(names, fmt.Sprint(int(n)))
	}
	return strings.Join(names, ", ")
}

// AnchorOutcome says in a short sentence, without its full stop, how far the active tooth comes with
// an anchor held in one way, and how far the anchor has moved by then: "36 alone: 37 comes 0.46 of
// 2.00 mm before the spring is spent; 36 tips 5.6°, crown-mesial, and its slot moves 0.7 mm".
func (b *Book) AnchorOutcome(teeth tooth.Pair, o effect.AnchorOutcome) string {
	held := b.Anchorage(teeth, o.Anchorage)
	if o.Anchorage.HoldRatio > 0 {
		held = b.Say("%s (hold %s times that of %d)", held, b.Figures(o.Anchorage.HoldRatio, 3), int(teeth.Active))
	}
	if o.Fault != nil {
		return b.Say("%s: no prediction: %s", held, b.DriftFault(o.Fault))
	}
	return held + ": " + b.comes(teeth.Active, o.Drift) + "; " + b.anchorLost(teeth.AnchorMember(), o)
}

// comes says how far a tooth comes on its way, and why no farther.
func (b *Book) comes(n tooth.Number, d effect.Drift) string {
	text := b.Say("%d comes %s of %s mm", int(n), b.Number(d.ReachedMM, 2), b.Number(d.PlannedMM, 2))
	made, planned := b.turned(d)
	switch {
	case d.Turns && d.ReachedRad < -leastDriftRad:
		text = b.Say("%d turns %s° away from its planned %s°", int(n), made, planned)
	case d.Turns:
		text = b.Say("%d turns %s of %s°", int(n), made, planned)
	case d.ReachedMM < -leastDriftMM:
		text = b.Say("%d goes %s mm against its travel of %s mm", int(n), b.Number(-d.ReachedMM, 2), b.Number(d.PlannedMM, 2))
	}
	switch d.End {
	case effect.DriftDied:
		return b.Say("%s before the spring is spent", text)
	case effect.DriftAgainst:
		return b.Say("%s, where the spring works the other way", text)
	case effect.DriftCentreGone:
		return b.Say("%s by the time its centre of resistance has gone as far as planned", text)
	case effect.DriftAside:
		return b.Say("%s and then hardly nearer", text)
	}
	return text
}

// anchorLost says how far an anchor has moved at the end of the way: the largest part of its turn,
// and how far its slot has gone, whichever way.
func (b *Book) anchorLost(of tooth.Member, o effect.AnchorOutcome) string {
	lost := o.Drift.AnchorLost()
	turn := lost.Rotation
	largest := max(math.Abs(turn.X), math.Abs(turn.Y), math.Abs(turn.Z))
	n, moved := int(of.Number), b.anchorMM(r3.Norm(lost.SlotMM))
	switch {
	case !o.Anchorage.Moves():
		return b.Say("%d is taken not to move", n)
	case largest < leastDriftRad && r3.Norm(lost.SlotMM) < leastDriftMM:
		return b.Say("%d hardly moves", n)
	case largest < leastDriftRad:
		return b.Say("%d keeps its angle and its slot moves %s mm", n, moved)
	case largest == math.Abs(turn.Y):
		return b.Say("%d tips %s°, %s, and its slot moves %s mm", n, b.Number(largest/degree, 1), b.turnSense(of, turn), moved)
	}
	return b.Say("%d turns %s°, %s, and its slot moves %s mm", n, b.Number(largest/degree, 1), b.turnSense(of, turn), moved)
}

// anchorMM is how far an anchor's slot goes, to a tenth, or a hundredth below that.
func (b *Book) anchorMM(mm float64) string {
	if mm < 0.1 {
		return b.Number(mm, 2)
	}
	return b.Number(mm, 1)
}

// AnchorSlot is how far the anchor's slot has gone at the end of the way, and the largest part of
// which way, such as "0.74 mm mesial"; "–" where nothing is predicted.
func (b *Book) AnchorSlot(teeth tooth.Pair, o effect.AnchorOutcome) string {
	mm := o.Drift.AnchorLost().SlotMM
	switch {
	case o.Fault != nil:
		return "–"
	case r3.Norm(mm) < leastDriftMM/2: // prints as zero
		return b.Number(0, 2)
	}
	return b.Number(r3.Norm(mm), 2) + " " + b.largestWay(teeth.AnchorMember(), mm)
}

// LimitVerdict is what a limit beside the loads is about, what came out, and what is allowed.
func (b *Book) LimitVerdict(v target.LimitVerdict) (name, value, limit string) {
	text := func(size float64) string {
		if v.Limit == notice.AnchorTipLimit {
			return b.Say("at most %s", b.Number(size/degree, 1)+"°")
		}
		return b.Say("at most %s", b.Number(size, 2)+" mm")
	}
	value = text(v.Value)
	if v.Unknown {
		value = b.Say("not known")
	}
	return b.Limit(v.Limit), value, text(v.Allowed)
}
