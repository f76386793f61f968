package bent

import "math"

// Corrected is what corrections make of a spring.
type Corrected struct {
	Corrections []Correction
	WithLast    float64 // see WithLast
	Outcome
}

// Correction is a bend that is changed, or made, at one place of a spring that is bent already.
type Correction struct {
	Place
	ByRad float64 // above 0 in the sense of Place.Sense: a bend is closed, bent further
}

// Place is where a spring may be corrected.
type Place struct {
	Step int // of the path: a bend, a twist, or the straight in whose middle a fresh bend is made
	// Fresh tells that the bend is a new one; RadiusMM is its radius to the wire's centreline.
	Fresh    bool
	RadiusMM float64
	Sense    float64 // +1 or −1: the sign of an angle in the path that closes the bend; of a fresh one +1
}

// Opens tells that a bend is bent back, against the direction in which it was last bent.
func (c Correction) Opens() bool { return !c.Fresh && c.ByRad < 0 }

// WithLast is the share of the corrections' angles that lies in the direction of each one's last bend;
// fresh bends are in their own.
func WithLast(corrections []Correction) float64 {
	var with, all float64
	for _, c := range corrections {
		all += math.Abs(c.ByRad)
		if !c.Opens() {
			with += math.Abs(c.ByRad)
		}
	}
	if all == 0 {
		return 1
	}
	return with / all
}
