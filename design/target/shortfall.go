package target

import (
	"math"

	"springwright/design/notice"
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
type Limit = notice.Limit

// The limits: see package notice.
const (
	OtherLimit       = notice.OtherLimit
	LoopWidthLimit   = notice.LoopWidthLimit
	FoldLimit        = notice.FoldLimit
	RoomMesialLimit  = notice.RoomMesialLimit
	RoomDistalLimit  = notice.RoomDistalLimit
	ActiveFrontLimit = notice.ActiveFrontLimit
	BitingLimit      = notice.BitingLimit
	CheekLimit       = notice.CheekLimit
	TongueLimit      = notice.TongueLimit
	SelfLimit        = notice.SelfLimit
	HookLimit        = notice.HookLimit
	TravelLimit      = notice.TravelLimit
	AnchorLossLimit  = notice.AnchorLossLimit
	AnchorTipLimit   = notice.AnchorTipLimit
	BendsLimit       = notice.BendsLimit
	StressLimit      = notice.StressLimit
)

// Excess is how far a spring goes beyond a limit.
type Excess struct {
	Limit  Limit
	Beyond float64 // mm, rad for AnchorTipLimit, bends for BendsLimit, a share of the yield stress for StressLimit
}
