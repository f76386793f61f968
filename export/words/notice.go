package words

import (
	"fmt"
	"math"
	"strings"

	"springwright/design/notice"
	"springwright/design/tooth"
	"springwright/design/wire"
)

// Notice says a notice, and what to do about it; no hint where there is nothing to do. Both
// begin small and end without a full stop.
func (b *Book) Notice(n notice.Notice) (text, hint string) {
	switch n := n.(type) {
	case notice.NearYield:
		return b.Say("stress comes to %s of the yield stress with %s mm of travel left", b.Number(n.StressRatio, 2), b.Number(n.TravelLeftMM, 2)),
			b.Say("wires of one name differ by more than that: expect some permanent set, or activate less")
	case notice.ElasticYield:
		return b.Say("the wire yields: stress is %s of the yield stress with %s mm of travel left; these elastic figures are too high", b.Number(n.StressRatio, 2), b.Number(n.TravelLeftMM, 2)),
			b.Say("activate less, make the loop larger or use a thinner wire")
	case notice.PermanentSet:
		hint = b.Say("activate less, make the loop larger or use a thinner wire; or bend it past its shape, activate it once and correct it")
		if n.Unknown {
			return b.Say("the wire yields, and its permanent set was not found; loads are those after yielding"), hint
		}
		return b.Say("the wire yields: permanent set of %s mm, %s°; loads are those after yielding", b.Number(n.ShiftMM, 2), b.Number(n.TurnRad/degree, 1)), hint
	case notice.PhaseStrain:
		return b.Say("the wire is strained to %s of what its change of phase gives back", b.Number(n.StrainRatio, 2)),
			b.Say("expect some permanent set; activate less or use a thinner wire")
	case notice.HookOff:
		return b.Say("the hook does not stay on its tooth: it slides to %s mm from the point where it is hooked, with %s mm of travel left (allowed: %s mm)",
				b.Number(n.OffMM, 1), b.Number(n.TravelLeftMM, 2), b.Number(n.AllowedMM, 1)),
			b.Say("make the arm longer or shorter by that much, so that it ends at the tooth")
	case notice.OpposedBends:
		return b.opposedBends(n)
	case notice.OtherRest:
		return b.Say("the wire may roll either way in its slots and rests on both sides, at %d of %d positions; the forces of the two sides differ by up to %s N, the couples by up to %s N·mm",
				n.At, n.Positions, b.Number(n.ForceN, 2), b.Number(n.CoupleNMM, 1)),
			b.Say("reckon with the loads of both sides, or tie the wire in so that it cannot roll")
	case notice.SlidToRest:
		if n.DrawnN > 0 {
			return b.Say("loads hold for a wire that is drawn through the slot of tooth %d until a gauge at its end reads %s N", int(n.Tooth), b.Number(n.DrawnN, 2)),
				b.Say("hold the gauge in line with the slot and cinch the wire at that reading, not at a length: the force is right then, however stiff the wire is")
		}
		return b.slidToRest(n), b.Say("before it is tied, slide the wire in the slot of tooth %d until it neither pushes nor pulls along it", int(n.Tooth))
	case notice.Play:
		if n.Seated {
			return b.play(n), b.Say("on a bench that clamps the wire expect other loads")
		}
		return b.play(n), b.Say("tie the wire in, or use a wire that fills the slot better")
	case notice.TravelNotMade:
		return b.Say("the predicted drift does not bring tooth %d along its planned travel: its load works the other way, or not at all", int(n.Tooth)),
			b.Say("check the goal, and the sense and size of the loads")
	case notice.UnplannedTurn:
		of := n.Teeth.ActiveMember()
		return b.Say("tooth %d is predicted to turn by up to %s°, %s, which is not planned", int(of.Number), b.Number(math.Abs(n.TurnRad)/degree, 0), b.Sense(of, n.Component, n.TurnRad)),
			b.Say("ask for a couple against it, or limit the load that turns the tooth")
	case notice.UnaskedForce:
		return b.Say("a %s of %s N that nobody asked for is larger than any that was, %s N",
				b.LoadName(n.Teeth.ActiveMember(), n.Component, n.ForceN), b.Number(math.Abs(n.ForceN), 2), b.Number(n.AskedN, 2)),
			b.Say("give it a window of its own in the target")
	case notice.TeethUnnamed:
		return b.Say("%s does not name its teeth: make sure that it is for %s", n.File, b.Pair(n.Teeth)),
			b.Say("on another side of the mouth it would push and turn the teeth the wrong way; a spring file that \"design\" writes names its teeth")
	}
	return b.way(n), ""
}

// opposedBends says which bends the activation opens, and how much the worst of them carries.
func (b *Book) opposedBends(n notice.OpposedBends) (text, hint string) {
	last := len(n.Bends) - 1
	text = b.Say("seated, the spring opens bend %s again, against the way it was bent", fmt.Sprint(n.Bends[last]))
	if last > 0 {
		text = b.Say("seated, the spring opens bends %s and %s again, against the way they were bent", strings.Trim(strings.ReplaceAll(fmt.Sprint(n.Bends[:last]), " ", ", "), "[]"), fmt.Sprint(n.Bends[last]))
	}
	if n.Twist {
		return text + "; " + b.Say("twist %d carries %s of the yield stress", n.Worst, b.Number(n.StressRatio, 2)),
			b.Say("a twist gives way early against its own direction, from about %s of the yield stress on (Bauschinger effect)", b.Number(n.LimitRatio, 1)) + "; " +
				b.Say("twist it past its angle and come back, so that the last twist runs the way the spring works")
	}
	return text + "; " + b.Say("bend %d carries %s of the yield stress", n.Worst, b.Number(n.StressRatio, 2)),
		b.Say("a bend gives way early against its own direction, from about %s of the yield stress on (Bauschinger effect)", b.Number(n.LimitRatio, 1)) + "; " +
			b.Say("bend it past its angle and come back, so that the last bend runs the way the spring works")
}

// play says what play does to the load that drives the travel, and to the couples.
func (b *Book) play(n notice.Play) string {
	// In the sense that it has with tied slots, so that the first number is above 0.
	sense, unit := math.Copysign(1, n.Tied), "N"
	if n.Component.Couple() {
		unit = "N·mm"
	}
	name := b.LoadName(n.Teeth.ActiveMember(), n.Component, n.Tied)
	tied, played := b.Number(sense*n.Tied, 2), b.Number(sense*n.Played, 2)
	switch {
	case n.Seated && n.Hook:
		return b.Say("loads hold for a wire with play in the anchor slot; tied tightly into it, the %s at the start would be %s instead of %s %s, and the couple on the anchor tooth would differ by up to %s N·mm",
			name, tied, played, unit, b.Number(n.AnchorCoupleNMM, 1))
	case n.Seated:
		return b.Say("loads hold for a wire with play in its slots; tied tightly into them, the %s at the start would be %s instead of %s %s, and the couples would differ by up to %s N·mm on the active tooth and %s N·mm on the anchor",
			name, tied, played, unit, b.Number(n.ActiveCoupleNMM, 1), b.Number(n.AnchorCoupleNMM, 1))
	case n.Hook:
		return b.Say("loads hold for a wire tied tightly into the anchor slot; lying loosely in it, play takes the %s at the start from %s to %s %s and changes the couple on the anchor tooth by up to %s N·mm",
			name, tied, played, unit, b.Number(n.AnchorCoupleNMM, 1))
	}
	return b.Say("loads hold for a wire tied tightly into both slots; lying loosely in them, play takes the %s at the start from %s to %s %s and changes the couples by up to %s N·mm on the active tooth and %s N·mm on the anchor",
		name, tied, played, unit, b.Number(n.ActiveCoupleNMM, 1), b.Number(n.AnchorCoupleNMM, 1))
}

// slidToRest says how far from where it is drawn a wire comes to rest.
func (b *Book) slidToRest(n notice.SlidToRest) string {
	const hiddenMM = 0.05 // less is printed as 0
	switch {
	case n.OutMM <= -hiddenMM:
		return b.Say("loads hold for a wire that is slid to rest in the slot of tooth %d, by about %s mm farther into it than drawn", int(n.Tooth), b.Number(-n.OutMM, 1))
	case n.OutMM >= hiddenMM:
		return b.Say("loads hold for a wire that is slid to rest in the slot of tooth %d, by about %s mm farther out of it than drawn", int(n.Tooth), b.Number(n.OutMM, 1))
	}
	return b.Say("loads hold for a wire that is slid to rest in the slot of tooth %d, about where it is drawn", int(n.Tooth))
}

// way says what stands in the way of a better spring, or what would do.
func (b *Book) way(n notice.Notice) string {
	switch n := n.(type) {
	case notice.LimitInWay:
		return b.Limit(n.Limit)
	case notice.PreBendInWay:
		return b.Say("largest pre-activation bend, %s°", b.Figures(n.LargestRad/degree, 4))
	case notice.StraightInWay:
		return b.Say("shortest straight, %s mm", b.Figures(n.ShortestMM, 4))
	case notice.NumberInWay:
		if n.Angle {
			return b.Say("%s at its limit, %s°", n.Name, b.Figures(n.AngleRad/degree, 4))
		}
		return b.Say("%s at its limit, %s mm", n.Name, b.Figures(n.LengthMM, 4))
	case notice.StressInWay:
		return b.Say("yield stress")
	case notice.LimitRelief:
		if n.Limit == notice.BendsLimit {
			return b.Say("would do: %s", b.Say("%s %s instead of %s", b.Limit(n.Limit), b.Number(n.To, 0), b.Number(n.From, 0)))
		}
		text := b.Say("%s %s mm instead of %s mm", b.Limit(n.Limit), b.Number(n.To, 1), b.Number(n.From, 1))
		if n.Limit.Measured() {
			return b.wouldDoMeasured(text)
		}
		return b.Say("would do: %s", text)
	case notice.HeightRelief:
		return b.wouldDoMeasured(b.Say("height of the spring, which is usual as no %s is given, %s mm instead of %s mm", b.Limit(notice.FoldLimit), b.Number(n.ToMM, 1), b.Number(n.FromMM, 1)))
	case notice.PreBendRelief:
		return b.Say("would do: %s", b.Say("largest pre-activation bend %s° instead of %s°", b.Number(n.ToRad/degree, 0), b.Number(n.FromRad/degree, 0)))
	case notice.WireRelief:
		if n.Alloy == "" {
			return b.Say("would do: a %s wire of the same alloy, which the prescriber must judge", b.decimals(n.Size.String())) + b.drive(n.Drive)
		}
		return b.Say("would do: a wire of %s, %s, which the prescriber must judge", b.Alloy(wire.Wire{Alloy: n.Alloy}), b.decimals(n.Size.String())) + b.drive(n.Drive)
	case notice.FamilyRelief:
		return b.Say("would do: %s", b.Say("another kind of spring, the %s", b.Name(n.Family))) + b.drive(n.Drive)
	case notice.EntryRelief:
		if n.FromBehind {
			return b.Say("would do: %s", b.Say("a wire that enters the active slot from behind")) + b.drive(n.Drive)
		}
		return b.Say("would do: %s", b.Say("a wire that enters the active slot from the anchor's side")) + b.drive(n.Drive)
	case notice.KindChosen:
		return b.Say("as the case names no kind of spring, a %s was taken, which suits this task: %s", b.Name(n.Family), b.Say(taskPhrases[n.Task]))
	case notice.WireChosen:
		return b.Say("of %d wires to choose from, %s was taken", n.Among, b.Wire(n.Wire.Wire()))
	case notice.Shape:
		return b.Shape(n)
	case notice.TwoSpringsRelief:
		if n.Wire != nil {
			return b.Say("would do: two springs of %s, which the prescriber must judge, the second one made for the last %s mm of the travel", b.Wire(n.Wire.Wire()), b.Number(n.ReactivateMM, 2))
		}
		return b.Say("would do: two springs, the second one made for the last %s mm of the travel", b.Number(n.ReactivateMM, 2))
	case notice.NoRelief:
		return b.Say("tried without success: other wires, other kinds of springs, two springs for half the travel each, more bend, more room")
	}
	return n.Kind().String() // no kind is left: TestEveryNoticeIsSaid
}

// drive says what a spring that would do gives.
func (b *Book) drive(d notice.Drive) string {
	if d == (notice.Drive{}) {
		return ""
	}
	if d.Couple {
		return b.Say(" (met, %s → %s N·mm)", b.Number(d.Start, 1), b.Number(d.End, 1))
	}
	return b.Say(" (met, %s → %s N)", b.Number(d.Start, 2), b.Number(d.End, 2))
}

// taskPhrases are in the order of notice.Task.
var taskPhrases = [notice.Tasks]Phrase{
	"as named", "closing a space", "opening a space", "turning a root alone", "a force at a point of the tooth",
	"intruding incisors from a molar", "moving a tooth across the arch or in height, or turning it",
}

func (b *Book) wouldDoMeasured(text string) string {
	return b.Say("would do, if the mouth has it, which only measuring again can tell: %s", text)
}

// limitPhrases are in the order of notice.Limit.
var limitPhrases = [notice.Limits]Phrase{
	"room", "loop width", "fold depth", "room mesially", "room distally", "room in front of the active slot",
	"clearance on the biting side", "bulge into the cheek", "clearance of the wire from itself",
	"place of the hook on its tooth", "planned travel", "anchorage loss", "tipping of the anchor", "number of bends", "stress",
}

// Limit is what a limit is called by whoever has measured or chosen it, with its letter on the
// measuring sheet.
func (b *Book) Limit(l notice.Limit) string {
	if l < 0 || l >= notice.Limits {
		l = notice.OtherLimit
	}
	if letter := l.Letter(); letter != "" {
		return b.Say(limitPhrases[l]) + " (" + letter + ")"
	}
	return b.Say(limitPhrases[l])
}

// Pair names two teeth, such as "tooth 37 from tooth 36".
func (b *Book) Pair(p tooth.Pair) string {
	return b.Say("tooth %d from tooth %d", int(p.Active), int(p.Anchor))
}
