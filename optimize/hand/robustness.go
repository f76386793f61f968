package hand

import (
	"math"

	"springwright/design/spring"
	"springwright/design/target"
)

// Robustness is what becomes of a design in the hand of the case's bender.
type Robustness struct {
	Spread     spring.Spread
	Judged     []JudgedBand // every quantity that a window asks for, in the order of the travel
	Influences []Influence  // every source of error, the largest first
	Missed     []Missed     // the loads that miss a window in any spring, the one most often missed first
}

// Missed is a quantity and the share of the springs that could be seated
// in which it misses a window anywhere on the travel.
type Missed struct {
	Quantity target.Quantity
	Share    float64
}

// JudgedBand is the spread of one quantity that the target judges, over the springs that could be
// seated.
type JudgedBand struct {
	Position     int
	TravelLeftMM float64
	Quantity     target.Quantity
	Window       target.Window
	Band         spring.Band // in the quantity's unit, global axes, at the point that the case judges
}

// Influence is a source of error and its first-order share in the variance of the judged
// loads, each load measured by the width of its window.
type Influence struct {
	Name  string
	Share float64
}

// wilson returns the 95 % interval of a share of which met out of n were seen (Wilson, J Am
// Stat Assoc 1927;22:209): it stays within 0 and 1, also where all or none were. n is above 0.
func wilson(met, n int) (low, high float64) {
	const z = 1.959963984540054 // normal quantile of 0.975
	p, m := float64(met)/float64(n), float64(n)
	middle := (p + z*z/(2*m)) / (1 + z*z/m)
	half := z / (1 + z*z/m) * math.Sqrt(p*(1-p)/m+z*z/(4*m*m))
	return max(0, middle-half), min(1, middle+half)
}
