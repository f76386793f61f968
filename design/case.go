package design

import (
	"math"

	"springwright/design/beam"
	"springwright/design/tooth"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// Case is a prescription: which tooth, from where to where, with which loads, in which
// room, with which wire. casefile reads it; optimize turns it into a Spring.
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
	LoopHeightMM       float64 // largest apical reach of the wire above the active slot's goal
	LoopWidthMM        float64 // largest extent of the loop along x
	RoomMesialMM       float64 // largest reach of the wire mesially of the active slot's centre
	RoomDistalMM       float64 // the same distally
	BendRadiusMM       float64 // to the centreline: the pliers' radius plus half the wire
	ShortestStraightMM float64 // what pliers need between two bends
	LargestPreBendRad  float64 // largest pre-activation angle at one bend
}

// Window is a range that a load must lie in. A free component has −Inf and +Inf.
type Window struct {
	Min, Max float64
	// Aimed tells that the middle is wanted (a value ± a tolerance), not just the range.
	Aimed bool
}

// FreeWindow lets a component take any value.
func FreeWindow() Window { return Window{Min: math.Inf(-1), Max: math.Inf(1)} }

// Free tells whether the window lets everything pass.
func (w Window) Free() bool { return math.IsInf(w.Min, -1) && math.IsInf(w.Max, 1) }

// Misses returns how far v lies outside the window, 0 inside.
func (w Window) Misses(v float64) float64 { return max(0, w.Min-v, v-w.Max) }

// LoadWindow is a window for each component of a load on the active tooth, on the global
// axes x, y, z.
type LoadWindow struct {
	ForceN    [3]Window
	CoupleNMM [3]Window
}

// Target is the load system wanted on the active tooth.
type Target struct {
	Start  LoadWindow // at the first position
	Travel LoadWindow // at every position; forces only while ForceUntilMM of travel are left
	// ForceUntilMM is the travel left below which the force is no longer asked for: near
	// its neutral position every spring goes slack.
	ForceUntilMM float64
	// AtResistance tells that the windows hold for the load at the active tooth's centre of
	// resistance instead of that at its slot's centre; see Case.JudgedLoad.
	AtResistance bool
}

// WindowAt returns the window of a component with leftMM of travel left: that at the start
// of the travel, or that over the whole of it.
func (t Target) WindowAt(k tooth.Component, leftMM float64, atStart bool) Window {
	w := t.Travel
	if atStart {
		w = t.Start
	}
	switch {
	case k.Couple():
		return w.CoupleNMM[k-tooth.CoupleX]
	case !atStart && leftMM < t.ForceUntilMM-1e-9:
		return FreeWindow()
	}
	return w.ForceN[k]
}

// Search says on which numbers a design may end.
type Search struct {
	LengthStepMM float64
	AngleStepRad float64
	Seed         uint64
	Starts       int // starting points of the search; 0: the search's own default
}

// SpringFor returns the spring that bends path for this case: its slots, seats and wire.
func (c Case) SpringFor(path Path) Spring {
	return Spring{
		Title:              c.Title,
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
