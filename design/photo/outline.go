package photo

import (
	"gonum.org/v1/gonum/spatial/r2"
)

// Outline is what a picture tells of a spring.
type Outline struct {
	Straights []Straight // in order from the anchor's end, legs included
	Bends     []Bend     // in order from the anchor's end
	// TurnedOver says which face of the spring is up: false where its bends of positive angle
	// turn to the left as the card is read, going along the wire from the anchor's end.
	TurnedOver bool
	// AnchorEnd is where the anchor's end of the wire is, and ActiveEnd the other one, mm on the
	// card.
	AnchorEnd, ActiveEnd r2.Vec
	// WireMM is the width of the wire in the picture, by the card's measure; 0 where glare or
	// shadows do not show it.
	WireMM float64
	// ScatterMM is how far the wire's middle lies off straights and arcs, root mean square.
	ScatterMM float64
	PxPerMM   float64
	Notes     []Note

	field   *field
	line    *line
	edgesMM float64 // between the edges that were looked for
}

// Straight is a straight of the wire.
type Straight struct {
	Step     int // of the path as expected; −1 where it has none, as the wire in a slot
	LengthMM float64
	SEMM     float64 // standard error
	ByHand   bool    // the picture does not tell it well enough: it is to be measured by hand
	// Leg tells that it runs to the end of the wire, and not to where the path ends: its length
	// has what lies in the slot in it, and what was left long.
	Leg bool
}

// Bend is a bend of the wire.
type Bend struct {
	Step, Number int     // of the path as expected; the number is that of Path.BendNumbers
	AngleRad     float64 // signed as the path's
	SERad        float64 // standard error
	ByHand       bool    // the picture does not tell it well enough: it is to be measured by hand
	// RadiusMM is that of the wire's middle line that straights' lengths and the angle go with.
	RadiusMM float64
}

// Note is something to be told beside a reading.
type Note struct {
	Kind NoteKind
	// Values are the numbers of it: see the kinds.
	Values []float64
}

// NoteKind is what a note is about.
type NoteKind int

// The kinds of notes.
const (
	// PrintedOffScale: the bars as measured show that the page was printed at another size,
	// which is taken out: across, up, of the nominal size.
	PrintedOffScale NoteKind = iota
	// WidthAtOdds: the wire in the picture is not as wide as expected, by the card's measure,
	// which speaks for a page printed at another size: mm seen, mm expected.
	WidthAtOdds
	// TakenByAnchorLeft: the spring fits with either end first, and was taken as laid with its
	// anchor end to the left.
	TakenByAnchorLeft
	// BendsByHand: the numbers of the bends that the picture does not tell well enough.
	BendsByHand
	// StraightsByHand: the same of straights, each by the number of the bend before it.
	StraightsByHand
)
