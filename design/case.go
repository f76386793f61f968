package design

import (
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// Case is a prescription: which tooth, from where to where, with which loads, in which
// room, with which wire. casefile reads it; optimize turns it into a Spring. One that is built
// in code has Validate.
type Case struct {
	Code  string // case code; never a patient's name
	Title string
	Teeth tooth.Pair

	Family string // kind of spring, as in Families; "": the usual one
	// SpringFile names the spring file with the free path that the case asks for instead of
	// a family, "" where it does not; FreePath is what that file holds.
	SpringFile string
	FreePath   spring.Pattern

	AnchorSlot spring.Slot
	ActiveSlot spring.Slot
	Slide      spring.Slide   // of the finished spring
	Heading    spring.Heading // how the wire runs through the active slot

	Resistance Resistances // centres of resistance, from the centre of each slot
	Anchorage  Anchorage   // what holds the anchor tooth against moving

	Now, Goal Placement // of the active slot's centre against the anchor slot's centre
	Positions int       // positions of the travel that are solved, at least 2

	Wire   wire.Wire
	Choice Choice // what may be chosen beside the wire, kind and heading that are said above
	Limits Limits
	Target target.Target
	Search Search
	Bender Bender
}

// Placement is where the centre of the active slot lies against the centre of the anchor
// slot, on the axes of the package comment.
type Placement struct {
	CentreMM r3.Vec // x along the arch (the interbracket distance), y across, z apical
	Rotation r3.Vec // rotation vector, rad: X torque, Y tip, Z rotation
}

// Limits is the room a spring has and what a hand can bend.
type Limits struct {
	// LoopHeightMM is the largest apical reach of the wire above the active slot's goal: the
	// depth of the cheek fold less the clearance from it, or what is usual.
	LoopHeightMM       float64
	FoldDepthMM        float64 // as measured; 0: it is not known
	LoopWidthMM        float64 // largest extent of the loop along x
	RoomMesialMM       float64 // largest reach of the wire mesially of the active slot's centre
	RoomDistalMM       float64 // the same distally
	BendRadiusMM       float64 // to the centreline: the pliers' radius plus half the wire
	ShortestStraightMM float64 // what pliers need between two bends
	LargestPreBendRad  float64 // largest pre-activation angle at one bend
	// BitingReachMM is the largest reach of the wire towards the biting side, from the
	// centre of that slot which lies nearer to it; 0: any.
	BitingReachMM float64
	// CheekBulgeMM is the largest reach of the wire towards the cheek, from the centre of
	// that slot which lies nearer to it; 0: any.
	CheekBulgeMM float64
	// TongueReachMM is the largest reach of the wire the other way, where the teeth are; 0: UsualTongueReachMM.
	TongueReachMM float64
	MostBends     int // largest number of bends and twists; 0: any
	// LargestStressRatio is the largest stress over yield; 0: 1.
	LargestStressRatio float64
}

// UsualTongueReachMM is how far a wire may lie on the tongue's side of the slots: as far as these usually
// stand out from the teeth and some play of the cheek (choice).
const UsualTongueReachMM = 2

// ReachToTongueMM is how far the wire may lie on the tongue's side of the slot that is nearer to it.
func (l Limits) ReachToTongueMM() float64 {
	if l.TongueReachMM <= 0 {
		return UsualTongueReachMM
	}
	return l.TongueReachMM
}

// StressRatio is the largest stress over yield that is allowed.
func (l Limits) StressRatio() float64 {
	if l.LargestStressRatio <= 0 {
		return 1
	}
	return l.LargestStressRatio
}

// Search says on which numbers a design may end.
type Search struct {
	LengthStepMM float64
	AngleStepRad float64
	Seed         uint64
	Starts       int // starting points of the search, and with them its length; 0: the search's own
}

// SpringFor returns the spring that bends path for this case: its slots, seats and wire.
func (c Case) SpringFor(path spring.Path) spring.Spring {
	return spring.Spring{
		Title:              c.Title,
		Teeth:              c.Teeth,
		Path:               path,
		Wire:               c.Wire,
		AnchorSlotLengthMM: c.AnchorSlot.LengthMM,
		ActiveSlotLengthMM: c.ActiveSlot.LengthMM,
		AnchorHold:         c.AnchorSlot.Hold(),
		ActiveHold:         c.ActiveSlot.Hold(),
		Slide:              c.Slide,
		Heading:            c.Heading,
		Start:              c.seat(c.Now),
		End:                c.seat(c.Goal),
		Positions:          c.Positions,
	}
}

// seat turns a placement of slot centres, as measured, into the entry of the free wire:
// the wire leaves the anchor slot half its length in front of its centre, and enters the
// active slot half that slot's length before its centre.
func (c Case) seat(p Placement) spring.Seat {
	s := spring.Seat{
		AtMM:     r3.Sub(p.CentreMM, r3.Vec{X: c.AnchorSlot.LengthMM / 2}),
		Rotation: p.Rotation,
	}
	s.AtMM = s.Pose(c.Heading).Along(-c.ActiveSlot.LengthMM / 2).At
	return s
}
