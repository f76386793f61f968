package design

import "math"

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
