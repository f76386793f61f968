package hand

import (
	"cmp"
	"slices"

	"gonum.org/v1/gonum/floats"
)

// Linear is how the judged loads of a design change with the errors of its bender, to
// first order: value + change · z, with z standard normal and independent.
type Linear struct {
	Terms   []Term
	Values  []float64   // of each term, as designed
	Changes [][]float64 // of each term by one standard deviation of each source
	sources []source
}

// Sources is how many errors there are.
func (l Linear) Sources() int { return len(l.sources) }

// Share is the share of a sample of standard normal numbers, one row a spring and one
// column a source or more, whose springs meet every window.
func (l Linear) Share(sample [][]float64) float64 {
	met := 0
	for _, z := range sample {
		if l.meets(z) {
			met++
		}
	}
	return float64(met) / float64(len(sample))
}

// Smoothing is over how much of half its window's width a load that crosses an edge turns from met
// to missed in a smooth share: so little that the share is off by less than its sample is (choice;
// half a point of the demo's).
const Smoothing = 0.1

// SmoothShare is Share for a search: a spring at the very edge of a window counts half, so that small
// steps of a design show.
func (l Linear) SmoothShare(sample [][]float64) float64 {
	var sum float64
	for _, z := range sample {
		sum += l.smoothlyMeets(z)
	}
	return sum / float64(len(sample))
}

// smoothlyMeets is what the spring of one row of a sample counts in a smooth share.
func (l Linear) smoothlyMeets(z []float64) float64 {
	worst := -Smoothing / 2
	for i, term := range l.Terms {
		v := l.Values[i] + floats.Dot(l.Changes[i], z[:len(l.Changes[i])])
		if worst = max(worst, term.Beyond(v)); worst >= Smoothing/2 {
			break
		}
	}
	return SmoothlyMet(worst)
}

// SmoothlyMet is what a spring counts whose worst load is so far beyond its window: 1 well within,
// 0 well beyond.
func SmoothlyMet(beyond float64) float64 {
	return min(max(0.5-beyond/Smoothing, 0), 1)
}

func (l Linear) meets(z []float64) bool {
	for i, term := range l.Terms {
		if term.Window.Misses(l.Values[i]+floats.Dot(l.Changes[i], z[:len(l.Changes[i])])) > 0 {
			return false
		}
	}
	return true
}

// influences returns the first-order share of each source in the variance of the judged
// loads, each load measured by the width of its window; the largest first.
func (l Linear) influences() []Influence {
	var out []Influence
	var sum float64
	for j, s := range l.sources {
		var variance float64
		for i, term := range l.Terms {
			share := l.Changes[i][j] / max(term.Width(), 2*LeastSlack)
			variance += share * share
		}
		sum += variance
		out = append(out, Influence{s.name, variance})
	}
	if sum == 0 {
		return nil
	}
	for j := range out {
		out[j].Share /= sum
	}
	slices.SortStableFunc(out, func(a, b Influence) int { return cmp.Compare(b.Share, a.Share) })
	return out
}
