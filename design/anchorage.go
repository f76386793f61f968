package design

import (
	"fmt"
	"slices"

	"springwright/design/fault"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// Anchorage is what holds the anchor slot against moving. The zero value is the anchor tooth
// alone: a case that says nothing of a hold must not be told that the anchor stays.
type Anchorage struct {
	// Joined are the teeth of the same quadrant that are tied to the anchor tooth so that they
	// move as one piece.
	Joined []tooth.Number
	Held   AnchorHold
	// HoldRatio is how many times as firmly all that holds the anchor, joined teeth and bar
	// included, holds against being shifted as the active tooth does; 0: by the surfaces of roots.
	HoldRatio float64
}

// AnchorHold is by what an anchor tooth is held beside the teeth of its own quadrant.
type AnchorHold int

const (
	NotHeld AnchorHold = iota
	// BarHeld is a bar across to the same tooth of the other side: palatal in the upper jaw,
	// lingual in the lower. It rests on two teeth and on no bone, so that it is taken as what
	// it is: one stiff piece with the fellow. That doubles the hold against being shifted and
	// tipped along the arch, and all but stops torque and rotation; a force that extrudes one
	// side alone tilts the two nearly as much as it would lift the one. A bar that rests on more
	// teeth than these holds better.
	BarHeld
	// ScrewHeld is a screw in the bone: it has no ligament and is taken not to move at all (that
	// loaded screws drift by some tenths of a millimetre in months, from memory, is left out).
	ScrewHeld
)

// anchorHoldWords are the words of files, in the order of the holds.
var anchorHoldWords = [...]string{"", "bar", "screw"}

// String is the hold's word in files; "" for none.
func (h AnchorHold) String() string {
	if h < 0 || int(h) >= len(anchorHoldWords) {
		return fmt.Sprintf("hold %d", int(h))
	}
	return anchorHoldWords[h]
}

// AnchorHoldWords lists the words of files.
func AnchorHoldWords() []string { return slices.Clone(anchorHoldWords[1:]) }

// ParseAnchorHold is the hold of a word.
func ParseAnchorHold(word string) (h AnchorHold, known bool) {
	i := slices.Index(anchorHoldWords[:], word)
	return AnchorHold(max(i, 0)), i > 0
}

// How many times as firmly as the active tooth an anchor may be said to hold: an incisor with
// little bone left beside a molar, and more than all teeth of a jaw beside an incisor (choice).
const (
	LeastHoldRatio = 0.1
	MostHoldRatio  = 50
)

// Faults finds what is wrong with the hold of an anchor beside teeth that are known, in the words
// and under the keys of a case file.
func (a Anchorage) Faults(teeth tooth.Pair) fault.List {
	var faults fault.List
	blame := func(key, text, hint string) {
		faults = append(faults, fault.Fault{Key: "anchor." + key, Text: text, Hint: hint})
	}
	const others = "name the other teeth that are tied to the anchor tooth"
	for i, n := range a.Joined {
		key := fmt.Sprintf("joined[%d]", i+1)
		switch {
		case !n.Valid():
			blame(key, fmt.Sprintf("%d is no permanent tooth, %s", n, AllowedTeeth), TeethHint)
		case n == teeth.Active:
			blame(key, fmt.Sprintf("%d is the active tooth", n), others)
		case n == teeth.Anchor:
			blame(key, fmt.Sprintf("%d is the anchor tooth itself", n), others)
		case slices.Contains(a.Joined[:i], n):
			blame(key, fmt.Sprintf("%d is named twice", n), others)
		case n.Quadrant() != teeth.Anchor.Quadrant():
			blame(key, fmt.Sprintf("%d is %s and the anchor tooth %d %s", n, n.QuadrantName(), teeth.Anchor, teeth.Anchor.QuadrantName()),
				"joined teeth stand in one quadrant with the anchor tooth")
		}
	}
	if a.Held == BarHeld && teeth.Anchor.AcrossMM() == 0 {
		blame("held", fmt.Sprintf("%q does not suit tooth %d: a bar goes across from a molar or premolar", a.Held, teeth.Anchor),
			"leave held out, and name the teeth that are joined to the anchor tooth, if any")
	}
	if a.Held == ScrewHeld && a.HoldRatio != 0 {
		blame("hold_ratio", fmt.Sprintf("is given beside held = %q, which is taken not to move", a.Held), "leave one of the two out")
	}
	return faults
}

// Moves tells whether the anchor gives way at all.
func (a Anchorage) Moves() bool { return a.Held != ScrewHeld }

// mirrored is the anchorage on the other side of the mouth.
func (a Anchorage) mirrored() Anchorage {
	a.Joined = slices.Clone(a.Joined)
	for i, n := range a.Joined {
		a.Joined[i] = n.Mirrored()
	}
	return a
}

// AnchorRoot is one of the teeth that hold the anchor.
type AnchorRoot struct {
	Number   tooth.Number
	Surface  tooth.RootSurface
	OffsetMM r3.Vec  // of its centre of resistance from the anchor slot's centre, as the teeth stand now
	LeverMM2 float64 // see tooth.Resistance
}

// AnchorRoots are the teeth that hold the anchor, the anchor tooth first, then the joined ones,
// then its fellow behind a bar; they are what they are behind a screw, too.
//
// Joined teeth stand along x at their usual distances, their slots level with the anchor's, each
// with the usual place of its centre of resistance. That the arch turns inwards in front is left
// out (choice): there the unit holds against torque and rotation better than is said.
func (c Case) AnchorRoots() []AnchorRoot {
	anchor := c.Teeth.Anchor
	roots := []AnchorRoot{{anchor, tooth.RootSurfaceOf(anchor), c.AnchorOffset(), c.Resistance.Anchor.LeverMM2}}
	for _, n := range c.Anchorage.Joined {
		at := tooth.ResistanceOf(n)
		offset := tooth.ResistanceOffset(c.Teeth, at)
		offset.X -= anchor.DistalMM(n) * c.Teeth.MesialSign()
		roots = append(roots, AnchorRoot{n, tooth.RootSurfaceOf(n), offset, at.LeverMM2})
	}
	if c.Anchorage.Held == BarHeld {
		fellow := roots[0]
		fellow.Number = anchor.Mirrored()
		fellow.OffsetMM.Y -= anchor.AcrossMM() * c.Teeth.BuccalSign()
		roots = append(roots, fellow)
	}
	return roots
}

// HoldRatio is how many times as firmly the anchor holds against being shifted as the active
// tooth does; 0 where it does not move.
func (c Case) HoldRatio() float64 {
	switch {
	case !c.Anchorage.Moves():
		return 0
	case c.Anchorage.HoldRatio > 0:
		return c.Anchorage.HoldRatio
	}
	sum := 0.0
	for _, r := range c.AnchorRoots() {
		sum += r.Surface.AreaMM2
	}
	return sum / tooth.RootSurfaceOf(c.Teeth.Active).AreaMM2
}

// mostProposed is how many teeth are proposed to be joined before a hold that is not of teeth
// (choice: a segment from first premolar to first molar is usual).
const mostProposed = 2

// BetterAnchorage is the next better hold that a clinic could choose: one more tooth joined to
// the anchor, up to two, then a screw. It is not ok where nothing is better, and where the anchor
// is the tooth that the spring is to move.
func (c Case) BetterAnchorage() (better Anchorage, ok bool) {
	a := c.Anchorage
	if f, err := FamilyOf(c.Family); err == nil && f.MovesAnchor || !a.Moves() {
		return Anchorage{}, false
	}
	n, found := c.nextToJoin()
	if a.Held == BarHeld || len(a.Joined) >= mostProposed || !found {
		return Anchorage{Joined: slices.Clone(a.Joined), Held: ScrewHeld}, true
	}
	a.Joined = append(slices.Clone(a.Joined), n)
	if a.HoldRatio > 0 {
		a.HoldRatio += tooth.RootSurfaceOf(n).AreaMM2 / tooth.RootSurfaceOf(c.Teeth.Active).AreaMM2
	}
	return a, true
}

// nextToJoin is the tooth next to those that hold the anchor, on the side that faces away from
// the active tooth where there is one. Third molars are not proposed, which are seldom there, nor
// a neighbour of the active tooth, whose place may be the gap that is to be closed (choice).
func (c Case) nextToJoin() (n tooth.Number, found bool) {
	const lastMolar = 7
	active, anchor := c.Teeth.Active.Place(), c.Teeth.Anchor.Place()
	first := tooth.Number(10 * c.Teeth.Anchor.Quadrant())
	away := 1
	if c.Teeth.ActiveIsDistal() {
		away = -1
	}
	for _, way := range [...]int{away, -away} {
		for place := anchor + way; place >= 1 && place <= lastMolar; place += way {
			if way == -away && (place-active)*away <= 1 {
				break
			}
			if n := first + tooth.Number(place); !slices.Contains(c.Anchorage.Joined, n) {
				return n, true
			}
		}
	}
	return 0, false
}
