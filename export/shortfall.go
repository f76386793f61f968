package export

import (
	"math"
	"slices"

	"springwright/design/target"
)

// finiteShortfall tells whether the numbers of what is missed can be printed.
func finiteShortfall(s *target.Shortfall) bool {
	if s == nil {
		return true
	}
	bad := func(v float64) bool { return math.IsNaN(v) || math.IsInf(v, 0) }
	return !slices.ContainsFunc(s.Misses, func(m target.Miss) bool {
		return bad(m.Value) || bad(m.TravelLeftMM) || math.IsNaN(m.Window.Min) || math.IsNaN(m.Window.Max)
	}) && !slices.ContainsFunc(s.Exceeded, func(e target.Excess) bool { return bad(e.Beyond) })
}
