package target

import (
	"math"
)

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
	// resistance instead of those at their slots' centres; see Judge.
	AtResistance bool
	// AgainstTravelMeant tells that loads are wanted although they work against the travel, or
	// do not bring the tooth along it.
	AgainstTravelMeant bool
}

func (w LoadWindow) Mirrored() LoadWindow {
	w.ForceN[1] = w.ForceN[1].negative()
	w.CoupleNMM[0], w.CoupleNMM[2] = w.CoupleNMM[0].negative(), w.CoupleNMM[2].negative()
	return w
}

// negative is the window of the values with the other sign.
func (w Window) negative() Window {
	w.Min, w.Max = 0-w.Max, 0-w.Min
	return w
}

// AtLeast lets a load be v and all above it.
func AtLeast(v float64) Window { return Window{Min: v, Max: math.Inf(1)} }

// AtMost lets a load be v and all below it. A load has a sign: AtMost(0.2) holds −5, too;
// Within(0, 0.2) does not.
func AtMost(v float64) Window { return Window{Min: math.Inf(-1), Max: v} }

// Within lets a load be anything from low to high; low has to be below high.
func Within(low, high float64) Window {
	// The zero window is free. One that would let nothing but 0 pass must not be taken for
	// it: Case.Validate refuses it.
	return Window{Min: low, Max: high, Aimed: low == 0 && high == 0}
}

// About wants v and lets a load be off by at most tolerance, which has to be above 0.
func About(v, tolerance float64) Window {
	return Window{Min: v - tolerance, Max: v + tolerance, Aimed: true}
}
