package notice

import (
	"fmt"
	"strings"
)

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
	TongueLimit // the other way: the teeth are there
	SelfLimit   // clearance of the wire from itself
	HookLimit   // place of the hook on its tooth
	// TravelLimit is the planned travel, of which a predicted drift makes nothing or less; what is
	// beyond it is left undone.
	TravelLimit
	// AnchorLossLimit and AnchorTipLimit are what the target lets the anchor lose.
	AnchorLossLimit
	AnchorTipLimit
	BendsLimit
	StressLimit
	Limits // how many there are
)

// limitNames are the words of files, in the order of the limits.
var limitNames = [Limits]string{
	"room", "loop width", "fold depth", "room mesially", "room distally", "room in front of the active slot",
	"clearance on the biting side", "bulge into the cheek", "room towards the tongue", "clearance of the wire from itself",
	"place of the hook on its tooth", "planned travel", "anchorage loss", "tipping of the anchor", "number of bends", "stress",
}

// String is the limit's name in files.
func (l Limit) String() string {
	if l < 0 || int(l) >= len(limitNames) {
		return fmt.Sprintf("limit %d", int(l))
	}
	return limitNames[l]
}

// MarshalText is String.
func (l Limit) MarshalText() ([]byte, error) { return []byte(l.String()), nil }

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

// Measured tells whether the limit is a room in the mouth, which nobody chooses.
func (l Limit) Measured() bool {
	switch l {
	case FoldLimit, RoomMesialLimit, RoomDistalLimit, BitingLimit, CheekLimit, TongueLimit:
		return true
	}
	return false
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
