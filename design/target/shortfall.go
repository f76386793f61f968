package target

import (
	"fmt"
	"math"
	"strings"
)

// Shortfall is what a spring misses of the target that it was designed for, and what it
// exceeds of the limits; the zero value is a spring that meets all of it as it is drawn.
type Shortfall struct {
	Misses   []Miss
	Exceeded []Excess
	// Untold says that more is missed than is listed, or nothing is known but that it is.
	Untold bool
}

// None tells that nothing is missed or exceeded.
func (s Shortfall) None() bool { return len(s.Misses) == 0 && len(s.Exceeded) == 0 && !s.Untold }

// Miss is a window of the target that a spring does not meet, at the worst place of it.
type Miss struct {
	Quantity     Quantity
	Value        float64 // global axes, in the quantity's unit
	Window       Window  // likewise
	AtStart      bool    // of the window at the start; else of that over the travel
	TravelLeftMM float64
	AtResistance bool // a couple about the centre of resistance; else about the slot's centre
}

// Sense is the sign of the values that the window asks for; where it allows both it is that
// of the value that misses it.
func (m Miss) Sense() (asked, got float64) {
	got = math.Copysign(1, m.Value)
	switch {
	case m.Window.Min >= 0 && m.Window.Max > 0:
		return 1, got
	case m.Window.Max <= 0 && m.Window.Min < 0:
		return -1, got
	}
	return got, got
}

// Mirrored is what the twin for the other side misses: see Spring.Mirrored.
func (s Shortfall) Mirrored() Shortfall {
	twin := s
	twin.Misses = append([]Miss(nil), s.Misses...)
	for i, m := range twin.Misses {
		k, _, ok := m.Quantity.Component()
		if !ok || !k.Chiral() {
			continue
		}
		twin.Misses[i].Value = -m.Value
		twin.Misses[i].Window.Min, twin.Misses[i].Window.Max = -m.Window.Max, -m.Window.Min
	}
	return twin
}

// Limit is something that a spring must keep to beside the loads.
type Limit int

// The limits. OtherLimit is one that has no name of its own here.
const (
	OtherLimit Limit = iota
	LoopWidthLimit
	FoldLimit // the depth of the cheek fold less the clearance, or what stands for it
	RoomMesialLimit
	RoomDistalLimit
	ActiveFrontLimit // room in front of the active slot
	BitingLimit
	CheekLimit
	SelfLimit // clearance of the wire from itself
	HookLimit // place of the hook on its tooth
	// TravelLimit is the planned travel, of which a predicted drift makes nothing or less; what is
	// beyond it is left undone.
	TravelLimit
	// AnchorLossLimit and AnchorTipLimit are what the target lets the anchor lose.
	AnchorLossLimit
	AnchorTipLimit
	BendsLimit
	StressLimit
)

// limitNames are the words of files, in the order of the limits.
var limitNames = [...]string{
	"room", "loop width", "fold depth", "room mesially", "room distally", "room in front of the active slot",
	"clearance on the biting side", "bulge into the cheek", "clearance of the wire from itself",
	"place of the hook on its tooth", "planned travel", "anchorage loss", "tipping of the anchor", "number of bends", "stress",
}

// String is the limit's name in files.
func (l Limit) String() string {
	if l < 0 || int(l) >= len(limitNames) {
		return fmt.Sprintf("limit %d", int(l))
	}
	return limitNames[l]
}

// Letter is the limit's letter on the measuring sheet; "" for one that is not measured.
func (l Limit) Letter() string {
	switch l {
	case FoldLimit:
		return "I"
	case RoomMesialLimit:
		return "J"
	case RoomDistalLimit:
		return "K"
	}
	return ""
}

// ParseLimit is the limit of a name; OtherLimit for one that is unknown.
func ParseLimit(name string) (l Limit, known bool) {
	for i, own := range limitNames {
		if strings.EqualFold(own, name) {
			return Limit(i), true
		}
	}
	return OtherLimit, false
}

// Excess is how far a spring goes beyond a limit.
type Excess struct {
	Limit  Limit
	Beyond float64 // mm, rad for AnchorTipLimit, bends for BendsLimit, a share of the yield stress for StressLimit
}
