package spring

import (
	"springwright/design/target"
)

// Band is where the values of many bent springs lie: 5 % are below Low, half are below
// Median and 5 % above High.
type Band struct{ Low, Median, High float64 }

// Spread is what comes of many springs bent in trial from one template, with the errors of
// a Bender.
type Spread struct {
	Springs  int // bent
	Met      int // of these, how many meet the whole target
	Unseated int // of these, how many could not be seated; they count as not met
	// Low and High hold the share of springs that meet the target with 95 % confidence.
	Low, High float64
	// Influence names the largest source of the spread, InfluenceShare is its share of the
	// variance; "" where there is none.
	Influence      string
	InfluenceShare float64
	// MostMissed names the load that misses its window in most springs, as in files, Missed is
	// that load, and MissedShare the
	// share of the springs that could be seated in which it does; "" where none misses.
	MostMissed  string
	Missed      target.Quantity
	MissedShare float64
	Positions   []PositionSpread // of the springs that could be seated
	// Tolerances are those of every step of the path; empty where the spring as drawn misses the target.
	Tolerances []Tolerance
}

// Shares counts springs bent in trial that meet the target in the slots and with the wire as they really are.
type Shares struct {
	Springs   int
	AsBent    int
	Checked   int // the free end put right as printed
	Corrected int // all bends read, and one correction made
	AsDrawn   int // bent exactly as drawn: what slots and wire alone leave
}

// Tolerance is by how much one step of a path may be less or more than drawn, in size, before the target
// is missed, all else as drawn: mm of a straight, rad of a bend or twist. Springs are held against the
// target up to a size that nobody would take for the same spring, and no closer than can be measured.
type Tolerance struct {
	Angle      bool // rad; else mm
	Less, More float64
}

// Share is the share of springs that meet the target.
func (s Spread) Share() float64 { return float64(s.Met) / float64(max(1, s.Springs)) }

// PositionSpread is the spread at one position of the travel. The loads are those on the
// teeth, global axes, couples about the slots' centres.
type PositionSpread struct {
	TravelLeftMM     float64
	ActiveForceZN    Band
	ActiveCoupleYNMM Band
	AnchorForceZN    Band
	AnchorCoupleYNMM Band
}
