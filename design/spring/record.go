package spring

import (
	"slices"

	"springwright/design/notice"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/design/wire"

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
	// FirstDayLoss is what share of its loads the wire loses in the first day; see
	// AfterFirstDay. The zero range says that nothing is known.
	FirstDayLoss wire.Relaxation
	Spread       *Spread // of springs bent in trial from the template; nil where none were
	// Shares is what checks and a correction make of springs bent in trial; nil where nobody has looked.
	Shares *Shares
	// Verdict is what the spring misses of its target, nothing where it meets it as drawn;
	// nil where nobody has held it against one.
	Verdict *target.Shortfall
	// Chosen tells what was chosen for the case beside the numbers of the spring: its kind, its wire.
	Chosen notice.List
}

// AfterFirstDay returns the loads at a position once the wire, seated at the first, has relaxed
// by a share of its loads there, such as FirstDayLoss.Low. Its sections creep in proportion to
// what they bear, so that every load at the first position falls by that share. What they have
// crept stays as a set while the tooth moves, and takes as much away at every other position:
// half of the travel away from the first, some twice that share. Geometry is taken as linear.
func (r Record) AfterFirstDay(position int, loss float64) (active, anchor tooth.Load) {
	first, p := r.Positions[0], r.Positions[position]
	return relaxed(p.Active, first.Active, loss), relaxed(p.Anchor, first.Anchor, loss)
}

// BentIn returns the record of a spring whose free end is bent a share farther from its slot than drawn, geometry
// taken as linear: as much is added at every position as that share of the loads at the first.
func (r Record) BentIn(share float64) Record {
	positions := slices.Clone(r.Positions)
	for i := range positions {
		positions[i].Active, positions[i].Anchor = r.AfterFirstDay(i, -share)
	}
	r.Positions = positions
	return r
}

// relaxed is a load less a share of another.
func relaxed(l, first tooth.Load, loss float64) tooth.Load {
	return tooth.Load{
		ForceN:    r3.Sub(l.ForceN, r3.Scale(loss, first.ForceN)),
		CoupleNMM: r3.Sub(l.CoupleNMM, r3.Scale(loss, first.CoupleNMM)),
	}
}
