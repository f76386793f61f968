package design

import (
	"math"

	"springwright/design/beam"
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
	FreePath   Pattern

	AnchorSlot Slot
	ActiveSlot Slot
	Slide      Slide   // of the finished spring
	Heading    Heading // how the wire runs through the active slot

	Resistance Resistances // centres of resistance, from the centre of each slot

	Now, Goal Placement // of the active slot's centre against the anchor slot's centre
	Positions int       // positions of the travel that are solved, at least 2

	Wire   wire.Wire
	Limits Limits
	Target Target
	Search Search
	Bender Bender
}

// Slot is a bracket slot or a tube.
type Slot struct {
	HeightMM float64 // clear height, across the wire's thickness
	DepthMM  float64 // clear size across the wire's width; 0: see SlotHold
	LengthMM float64 // along the wire
	Play     bool    // the finished spring is evaluated with play; see SlotHold
	// Hook tells that the wire is hooked or tied to the tooth as a point, at the slot's
	// centre, and enters no slot; LengthMM is 0 then. See SlotHold.
	Hook bool
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
	MostBends    int // largest number of bends and twists; 0: any
	// LargestStressRatio is the largest stress over yield; 0: 1.
	LargestStressRatio float64
}

// StressRatio is the largest stress over yield that is allowed.
func (l Limits) StressRatio() float64 {
	if l.LargestStressRatio <= 0 {
		return 1
	}
	return l.LargestStressRatio
}

// Window is a range that a load must lie in: AtLeast, AtMost, Within and About make one. A free
// component has −Inf and +Inf; the zero window, which nothing could meet, is free too: see
// Target.WithUsualLimits.
type Window struct {
	Min, Max float64
	// Aimed tells that the middle is wanted (a value ± a tolerance), not just the range.
	Aimed bool
	// Usual tells that nobody asked for the window: it is a limit of WithUsualLimits.
	Usual bool
	// Weight is how hard the search tries to meet the window beside others; 0: 1. It does
	// not change what meets it.
	Weight float64
}

// FreeWindow lets a component take any value.
func FreeWindow() Window { return Window{Min: math.Inf(-1), Max: math.Inf(1)} }

// Free tells whether the window lets everything pass.
func (w Window) Free() bool {
	return math.IsInf(w.Min, -1) && math.IsInf(w.Max, 1) || w.Min == 0 && w.Max == 0
}

// Asked tells whether a target asks for the window: it is neither free nor a usual limit.
func (w Window) Asked() bool { return !w.Free() && !w.Usual }

// orFree is the window with the bounds of a free one where it is free.
func (w Window) orFree() Window {
	if w.Free() {
		return FreeWindow()
	}
	return w
}

// Misses returns how far v lies outside the window, 0 inside one and of a free one.
func (w Window) Misses(v float64) float64 {
	if w.Free() {
		return 0
	}
	return max(0, w.Min-v, v-w.Max)
}

// LoadWindow is a window for each component of a load on a tooth, on the global axes x, y, z.
type LoadWindow struct {
	ForceN    [3]Window
	CoupleNMM [3]Window
}

// Target is the load system wanted on the active tooth, and what the anchor tooth can bear.
type Target struct {
	Start  LoadWindow // at the first position
	Travel LoadWindow // at every position; forces only while ForceUntilMM of travel are left
	// ForceUntilMM is the travel left below which the force is no longer asked for: near
	// its neutral position every spring goes slack.
	ForceUntilMM float64
	// Anchor is for the load on the anchor tooth, as Travel for that on the active one.
	Anchor LoadWindow
	// MomentToForceMM is the window of MomentToForce, at every position where a force is
	// asked for. Travel has to ask for one along x and not to allow 0.
	MomentToForceMM Window
	MaxRateNPerMM   float64 // largest Rate; 0: any
	// AtResistance tells that the windows hold for the loads at the teeth's centres of
	// resistance instead of those at their slots' centres; see Case.JudgedAt.
	AtResistance bool
	// AgainstTravelMeant tells that loads are wanted although they work against the travel, or
	// do not bring the tooth along it.
	AgainstTravelMeant bool
}

// Search says on which numbers a design may end.
type Search struct {
	LengthStepMM float64
	AngleStepRad float64
	Seed         uint64
	Starts       int // starting points of the search, and with them its length; 0: the search's own
}

// SpringFor returns the spring that bends path for this case: its slots, seats and wire.
func (c Case) SpringFor(path Path) Spring {
	return Spring{
		Title:              c.Title,
		Teeth:              c.Teeth,
		Path:               path,
		Wire:               c.Wire,
		AnchorSlotLengthMM: c.AnchorSlot.LengthMM,
		ActiveSlotLengthMM: c.ActiveSlot.LengthMM,
		AnchorHold:         c.AnchorSlot.hold(),
		ActiveHold:         c.ActiveSlot.hold(),
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
func (c Case) seat(p Placement) Seat {
	s := Seat{
		AtMM:     r3.Sub(p.CentreMM, r3.Vec{X: c.AnchorSlot.LengthMM / 2}),
		Rotation: p.Rotation,
	}
	s.AtMM = s.Pose(c.Heading).Along(-c.ActiveSlot.LengthMM / 2).At
	return s
}

// Centre returns the centre of the active slot when the wire's end is at pose.
func (s Spring) Centre(end beam.Pose) r3.Vec { return end.Along(s.ActiveSlotLengthMM / 2).At }
