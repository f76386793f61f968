package photo

import (
	"math"
	"slices"
)

// widthBehindBlur is the width of a dark bar whose steepest places, behind a blur, are apartMM
// apart: blur moves them outwards.
func widthBehindBlur(apartMM, blurMM float64) float64 {
	apart := func(width float64) float64 {
		// Where exp(−(u−w/2)²/2s²) − exp(−(u+w/2)²/2s²) is largest.
		slope := func(u float64) float64 {
			a, b := (u-width/2)/blurMM, (u+width/2)/blurMM
			return -a*math.Exp(-a*a/2) + b*math.Exp(-b*b/2)
		}
		low, high := width/2, width/2+2*blurMM
		for range 40 {
			middle := (low + high) / 2
			if slope(middle) > 0 {
				low = middle
			} else {
				high = middle
			}
		}
		return low + high
	}
	low, high := 0.2*apartMM, apartMM
	if apart(low) > apartMM {
		return low
	}
	for range 40 {
		middle := (low + high) / 2
		if apart(middle) < apartMM {
			low = middle
		} else {
			high = middle
		}
	}
	return low
}

// widths are those of the wire where it is seen between paper on both sides.
type widths struct {
	count int
	apart []float64 // its steepest edges, rising
	plain []float64 // those without a glare between them
}

// apartness is which of the widths that are seen is taken as the wire's: the share of them that are less.
// A shadow close by and a side of the wire widen what is seen, and nothing makes it less.
type apartness float64

const (
	usualApart  apartness = 0.5
	narrowApart apartness = 0.2
)

func (w widths) apartMM(of apartness) float64 {
	if w.count == 0 {
		return 0
	}
	return w.apart[int(float64(of)*float64(w.count))]
}

func (w widths) known() bool { return w.count >= fewWidths }

// seenWidth measures the wire's width.
func (f *field) seenWidth(all []place) (w widths) {
	for i := range all {
		p := &all[i]
		if p.mean == nil || !p.free[0] || !p.free[1] {
			continue
		}
		profile, found := p.mean, p.edges
		// The outermost strong edges: the way in and the way out.
		var in, out *edge
		most, strong := 0.0, 0
		for _, e := range found {
			most = math.Max(most, math.Abs(e.slope))
		}
		for k := range found {
			e := &found[k]
			if math.Abs(e.slope) < 0.4*most {
				continue
			}
			strong++
			if in == nil && e.slope < 0 {
				in = e
			}
			if e.slope > 0 {
				out = e
			}
		}
		if in == nil || out == nil || out.offMM <= in.offMM {
			continue
		}
		if !f.paperBeside(profile, 2*out.offMM, 0) || !f.paperBeside(profile, -2*in.offMM, 1) {
			continue
		}
		width := out.offMM - in.offMM
		w.apart = append(w.apart, width)
		// A wire without glare is darkest in its middle.
		middle := profile[len(profile)/2+int(math.Round((in.offMM+out.offMM)/2/f.stepMM()))]
		if strong == 2 && middle < slices.Min(profile)+0.05 {
			w.plain = append(w.plain, width)
		}
	}
	w.count = len(w.apart)
	slices.Sort(w.apart)
	slices.Sort(w.plain)
	return w
}

const (
	voteMM       = 0.01 // a step of widths that are voted for; they scatter by about two
	voteNarrow   = 0.10 // share by which a wire is seen narrower than it is, standard deviation
	voteWide     = 0.35 // and wider: seen aslant it shows a side, too
	voteRound    = 0.15 // and by which a bend is seen otherwise than the straights beside it
	widestSeen   = 2.2  // how many times as wide as it is at most
	fewVotes     = 8
	ownWidthFrom = 0.12 // share by which a piece's width must differ from the usual one to be its own
)

// pieceWidths are how wide the wire is seen on each piece: a wire seen aslant shows a side of it, on
// pieces across the view more than on those along it. Pieces that tell nothing have the usual width.
func (f *field) pieceWidths(l *line, all []place, usualMM, expectedMM float64) []float64 {
	bins := int(widestSeen * expectedMM / voteMM)
	votes := make([][]float64, len(l.pieces))
	count := make([]int, len(l.pieces))
	for i := range votes {
		votes[i] = make([]float64, bins+1)
	}
	for i := range all {
		p := &all[i]
		if p.mean == nil || !p.free[0] || !p.free[1] {
			continue
		}
		for j, r := range p.edges {
			for _, e := range p.edges[j+1:] {
				width := e.offMM - r.offMM
				if bin := int(width / voteMM); r.slope < 0 && e.slope > 0 && width > leastWidth*expectedMM && bin <= bins {
					aside := (e.offMM + r.offMM) / expectedMM
					votes[p.piece][bin] += math.Min(-r.slope, e.slope) / (1 + 0.2*aside*aside)
					count[p.piece]++
				}
			}
		}
	}
	choose := func(piece int, aboutMM, narrow, wide float64) float64 {
		v := votes[piece]
		best, most := aboutMM, 0.0
		for i := 2; i < len(v)-2; i++ {
			width := (float64(i) + 0.5) * voteMM
			off := width/aboutMM - 1
			if off < 0 {
				off /= narrow
			} else {
				off /= wide
			}
			// Half of the weight at two steps: about a normal scatter of that.
			sum := (v[i] + 0.8*(v[i-1]+v[i+1]) + 0.5*(v[i-2]+v[i+2])) * math.Exp(-off*off/2)
			if sum > most {
				best, most = width, sum
			}
		}
		if count[piece] < fewVotes || math.Abs(best/aboutMM-1) < ownWidthFrom {
			return aboutMM
		}
		return best
	}
	out := make([]float64, len(l.pieces))
	for i := 0; i < len(out); i += 2 {
		out[i] = choose(i, usualMM, voteNarrow, voteWide)
	}
	for i := 1; i < len(out); i += 2 {
		out[i] = choose(i, (out[i-1]+out[i+1])/2, voteRound, voteRound)
	}
	return out
}
