package lattice

import "math"

// rounding is what a point of an axis may lie beyond its ends, as a share of a unit: more than the
// arithmetic's error, less than any step.
const rounding = 1e-9

// Axis is one number of a grid: the points Origin + k·Step within Min and Max. Without a step every
// value is a point.
type Axis struct {
	Min, Max, Origin, Step float64
}

// Nearest is the point nearest to v.
func (a Axis) Nearest(v float64) float64 {
	if a.Step <= 0 {
		return v
	}
	steps := math.Round((v - a.Origin) / a.Step)
	for a.Origin+steps*a.Step > a.Max+rounding {
		steps--
	}
	for a.Origin+steps*a.Step < a.Min-rounding {
		steps++
	}
	return a.Origin + steps*a.Step
}

// Steps is how many whole steps go into a length of the axis, at most most.
func (a Axis) Steps(length float64, most int) int {
	return min(most, int(math.Floor(length/a.Step+rounding)))
}
