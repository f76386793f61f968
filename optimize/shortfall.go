package optimize

import (
	"maps"
	"slices"

	"springwright/design"
)

// Shortfall is what the spring misses and exceeds, in numbers.
func (r Result) Shortfall() design.Shortfall {
	s := design.Shortfall{Exceeded: r.Beyond, Untold: len(r.Exceeded) > len(r.Beyond)}
	for _, m := range r.Misses {
		s.Misses = append(s.Misses, m.Axes)
	}
	return s
}

// beyond lists how far the spring x goes beyond its limits: those on room in the order of
// their names, then bends and stress.
func (s *searcher) beyond(x []float64, stressRatio float64) []design.Excess {
	var list []design.Excess
	excessMM := s.workers[0].excesses(x)
	for _, name := range slices.Sorted(maps.Keys(excessMM)) {
		if excess := excessMM[name]; excess > exceedMM {
			limit, _ := design.ParseLimit(name)
			list = append(list, design.Excess{Limit: limit, Beyond: excess})
		}
	}
	if most := s.c.Limits.MostBends; most > 0 && s.bends(x) > most {
		list = append(list, design.Excess{Limit: design.BendsLimit, Beyond: float64(s.bends(x) - most)})
	}
	if over := stressRatio - s.c.Limits.StressRatio(); over > 0 {
		list = append(list, design.Excess{Limit: design.StressLimit, Beyond: over})
	}
	return list
}
