package words

import (
	"errors"
	"math"
	"strings"

	"springwright/design/beam"
	"springwright/design/effect"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// Alloy is the alloy of a wire; one of the user's own by its modulus or as it is named.
func (b *Book) Alloy(w wire.Wire) string {
	if w.Alloy == "" {
		return b.Say("wire of E %s GPa", b.Number(w.EMPa/1000, 1))
	}
	return b.Name(w.Alloy)
}

// Wire is such as "beta-titanium, 0.432 × 0.635 mm".
func (b *Book) Wire(w wire.Wire) string {
	if w.Round() {
		return b.Say("%s, round %s mm", b.Alloy(w), b.Number(w.DiameterMM, 3))
	}
	return b.Say("%s, %s × %s mm", b.Alloy(w), b.Number(w.ThicknessMM, 3), b.Number(w.WidthMM, 3))
}

// shortWire is short enough for a label: "superelastic 0.014", "stainless 0.016×0.022".
func (b *Book) shortWire(w wire.Wire) string {
	inches := func(mm float64) string { return b.Number(mm/wire.MMPerInch, 3) }
	size := inches(w.ThicknessMM) + "×" + inches(w.WidthMM)
	if w.Round() {
		size = inches(w.DiameterMM)
	}
	kind, _, _ := strings.Cut(w.Alloy, " ")
	return b.Name(kind) + " " + size
}

// Candidate is the short name of one of several springs.
func (b *Book) Candidate(c effect.Candidate) string {
	switch {
	case c.Straight:
		return b.shortWire(c.Spring.Wire)
	case c.Family != "":
		return b.Name(c.Family)
	}
	return b.Say("spring")
}

// CandidateTitle is one of several springs in full. A title that the user gave stays as it is.
func (b *Book) CandidateTitle(c effect.Candidate) string {
	switch {
	case c.Straight:
		return b.Say("straight wire, %s", b.Wire(c.Spring.Wire))
	case len(c.Spring.Path.Steps()) == 0:
		return b.Say("no spring was found")
	case c.Family != "":
		return b.Wire(c.Spring.Wire)
	case c.Spring.Title != "":
		return c.Spring.Title + ", " + b.Wire(c.Spring.Wire)
	}
	return b.Say("spring") + ", " + b.Wire(c.Spring.Wire)
}

// Reason says why something could not be solved. Errors are English; other languages know the
// reasons by what they wrap.
func (b *Book) Reason(err error) string {
	if b.Language() == English {
		return strings.ReplaceAll(err.Error(), " -", " −")
	}
	if withheld, ok := errors.AsType[*effect.WithheldError](err); ok {
		if !errors.Is(err, solve.ErrYield) {
			return b.Say("it cannot be solved: %s", b.Reason(withheld.Cause))
		}
		return b.Reason(withheld.Cause) + "; " + b.Say("it stays elastic for no more than %s mm of the travel", b.Number(withheld.ElasticMM, 2))
	}
	if yield, ok := errors.AsType[*solve.YieldError](err); ok {
		return b.Say("the wire yields: stress is %s of the yield stress %s MPa with %s mm of travel left (allowed: up to %s)",
			b.Number(yield.StressRatio, 2), b.Number(yield.YieldMPa, 0), b.Number(yield.TravelLeftMM, 2), b.Number(1, 2))
	}
	for _, known := range []struct {
		is   error
		text Phrase
	}{
		{solve.ErrTooShort, "the wire is too short"},
		{beam.ErrNoStraight, "no straight is left that could slide through the slot"},
		{solve.ErrNoContact, "no state of the play in the slots is in equilibrium"},
		{solve.ErrTooMuchWork, "no state of the play in the slots was found within the bound on work"},
		{beam.ErrUnstable, "the wire loses stability and would snap"},
		{beam.ErrNoConvergence, "no equilibrium found"},
	} {
		if errors.Is(err, known.is) {
			return b.Say(known.text)
		}
	}
	return b.Say("it could not be solved")
}

// AnchorEffect says what a candidate does to the anchor tooth, from its figures at both ends of the
// travel, beside those of a reference where that has any. It begins small and ends without a full
// stop.
func (b *Book) AnchorEffect(teeth tooth.Pair, c, reference effect.Candidate) string {
	positions := c.Positions()
	if len(positions) == 0 {
		return b.Say("no figures: %s", b.Reason(c.Withheld))
	}
	first, last := positions[0], positions[len(positions)-1]
	nothing := b.Say("next to nothing")
	text := b.Say("at the start tooth %d feels %s", int(teeth.Anchor), b.anchorLoad(teeth.AnchorMember(), first.Anchor, nothing))
	if other := reference.Positions(); len(other) > 0 && b.Candidate(reference) != b.Candidate(c) {
		if times := b.times(first.Anchor, other[0].Anchor); times != "" {
			text = b.Say("%s (%s of the %s)", text, times, b.Candidate(reference))
		}
	}
	text += b.class(teeth, first) + "; "
	end := b.anchorLoad(teeth.AnchorMember(), last.Anchor, nothing)
	switch {
	case end == nothing:
		return text + b.Say("nothing is left of it at the end of the travel")
	case effect.ClassOf(last) == effect.ClassOf(first):
		return text + b.Say("at the end of the travel %s", end)
	}
	return text + b.Say("at the end of the travel %s", end) + b.class(teeth, last)
}

// anchorLoad names the forces and couples worth naming, those seen from the cheek first.
func (b *Book) anchorLoad(of tooth.Member, l tooth.Load, nothing string) string {
	var parts []string
	add := func(decimals int, unit string, least float64, components ...tooth.Component) {
		for _, k := range components {
			// A smaller one is named only where it is a fifth of the largest of its kind.
			least = math.Max(least, math.Abs(l.Component(k))/5)
		}
		for _, k := range components {
			if v := l.Component(k); math.Abs(v) >= least {
				parts = append(parts, b.Number(math.Abs(v), decimals)+" "+unit+" "+b.Sense(of, k, v))
			}
		}
	}
	add(2, "N", effect.LeastForceN, tooth.ForceZ, tooth.ForceX, tooth.ForceY)
	add(1, "N·mm", effect.LeastCoupleNMM, tooth.CoupleY, tooth.CoupleX, tooth.CoupleZ)
	return b.and(parts, nothing)
}

// times compares sizes of force and couple with those of the reference.
func (b *Book) times(l, reference tooth.Load) string {
	var parts []string
	if of := r3.Norm(reference.ForceN); of >= effect.LeastForceN {
		parts = append(parts, b.Say("%s times the force", b.Number(r3.Norm(l.ForceN)/of, 1)))
	}
	if of := r3.Norm(reference.CoupleNMM); of >= effect.LeastCoupleNMM {
		parts = append(parts, b.Say("%s times the couple", b.Number(r3.Norm(l.CoupleNMM)/of, 1)))
	}
	return b.and(parts, "")
}

// class says what the geometry class means for the two teeth: nothing where the couples that tip
// them, which it is about, are small beside others.
func (b *Book) class(teeth tooth.Pair, p spring.Position) string {
	var tipping, other float64
	for _, l := range [...]tooth.Load{p.Active, p.Anchor} {
		tipping = math.Max(tipping, math.Abs(l.CoupleNMM.Y))
		other = math.Max(other, math.Hypot(l.CoupleNMM.X, l.CoupleNMM.Z))
	}
	if tipping < other/5 {
		return ""
	}
	class, active := effect.ClassOf(p), int(teeth.Active)
	onActive := b.Sense(teeth.ActiveMember(), tooth.CoupleY, p.Active.CoupleNMM.Y)
	switch {
	case class == 0:
		return ", " + b.Say("and neither tooth is tipped by a couple")
	case class <= 3:
		return ", " + b.Say("and tooth %d is turned the same way, %s (class %s)", active, onActive, class.String())
	case class == 4 && math.Abs(p.Anchor.CoupleNMM.Y) >= math.Abs(p.Active.CoupleNMM.Y):
		return ", " + b.Say("and carries the couple all but alone (class %s)", class.String())
	case class == 4:
		return ", " + b.Say("while tooth %d carries the couple all but alone (class %s)", active, class.String())
	}
	return ", " + b.Say("turned %s while tooth %d is turned %s (class %s)",
		b.Sense(teeth.AnchorMember(), tooth.CoupleY, p.Anchor.CoupleNMM.Y), active, onActive, class.String())
}
