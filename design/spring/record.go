package spring

import (
	"springwright/design/target"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// Position is the state of a spring at one position of the travel.
type Position struct {
	Seat         Seat
	TravelLeftMM float64 // distance of the slot's entry from where it ends
	Active       tooth.Load
	Anchor       tooth.Load
	// HookMM is where a hook that slides has come to hang; nil for any other end.
	HookMM *r3.Vec
	// StressRatio is the largest equivalent stress over yield along the wire. With history
	// it is the largest equivalent strain over the yield strain or, of a superelastic wire,
	// over that at which all is martensite.
	StressRatio float64
	Play        *PlayState // nil where both slots are tied and nothing slides
	// OtherRest is set where the wire, free to roll in its slots, may as well lie in another
	// way, with other loads.
	OtherRest *OtherRest
}

// Record is what a spring does over its travel, first position first.
type Record struct {
	Title     string
	Teeth     tooth.Pair // that the spring is made for; the zero pair where they are not known
	Positions []Position
	Spread    *Spread // of springs bent in trial from the template; nil where none were
	// Verdict is what the spring misses of its target, nothing where it meets it as drawn;
	// nil where nobody has held it against one.
	Verdict *target.Shortfall
}
