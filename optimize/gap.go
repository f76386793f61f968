package optimize

import (
	"math"

	"springwright/design"
	"springwright/design/beam"
	"springwright/design/family"
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

// selfGapMM is the clear distance that a wire keeps from itself where it does not have to
// pass: pliers, plaque and a hand's error of half a millimetre (common practice).
const selfGapMM = 0.5

// crossedMM is the distance below which two stretches cross: what is left of it is
// rounding and has no direction.
const crossedMM = 1e-9

// selfGap finds where a wire comes nearest to itself.
type selfGap struct {
	limitMM   float64 // between centrelines
	passingMM float64 // the same where the wire has to pass itself
	rank      []int   // of each step: which straight it is, −1 for a bend or twist
	passings  []spring.Passing
}

func newSelfGap(c design.Case, pattern spring.Pattern) selfGap {
	g := selfGap{
		limitMM:   c.Wire.HeightMM() + selfGapMM,
		passingMM: max(c.Wire.HeightMM(), c.Wire.DepthMM()) + family.PassingMM,
		passings:  pattern.Passings,
	}
	next := 0
	for _, step := range pattern.Steps {
		rank := -1
		if step.Kind == spring.Straight {
			rank, next = next, next+1
		}
		g.rank = append(g.rank, rank)
	}
	return g
}

// approach is where two stretches of wire come nearest to each other: the share of the way
// between each one's two nodes.
type approach struct {
	distanceMM           float64
	excessMM             float64 // by which the distance falls short of its limit
	first, second        int     // each stretch's second node
	firstShare, secShare float64
	apart                r3.Vec // unit vector from the second to the first, 0 where they cross
}

// limitBetween is the least distance of the centrelines of two steps, i before j, and
// whether they have one: straights that have another one between them, and any steps where
// the wire has to pass itself.
func (g *selfGap) limitBetween(i, j int) (limitMM float64, watched bool) {
	for _, p := range g.passings {
		if isAmong(i, p.One) && isAmong(j, p.Other) {
			return g.passingMM, true
		}
	}
	return g.limitMM, g.rank[i] >= 0 && g.rank[j] >= g.rank[i]+2
}

func isAmong(step int, steps [2]int) bool { return steps[0] <= step && step <= steps[1] }

// gapRivals is how many pairs of steps are looked at that may come nearest to each other;
// see rivals.
const gapRivals = 2

// closest returns the approaches that fall short of their limits by most, at most one of
// each pair of steps, in the order of the steps.
func (g *selfGap) closest(nodes []beam.Node) []approach {
	first := make([]int, len(g.rank)+1) // of each step, its first node but one
	at := 1
	for step := range first {
		for at < len(nodes) && nodes[at].Piece < step {
			at++
		}
		first[step] = at
	}
	var kept []approach
	for i := range g.rank {
		for j := i + 1; j < len(g.rank); j++ {
			if limitMM, watched := g.limitBetween(i, j); watched {
				near := nearest(nodes, [2]int{first[i], first[i+1]}, [2]int{first[j], first[j+1]})
				near.excessMM = limitMM - near.distanceMM
				kept = keepMost(kept, near, gapRivals, func(a approach) float64 { return a.excessMM })
			}
		}
	}
	return kept
}

// nearest is where two stretches of the wire, each from one node and before another, come
// nearest to each other.
func nearest(nodes []beam.Node, one, other [2]int) approach {
	best := approach{distanceMM: math.Inf(1)}
	for i := one[0]; i < one[1]; i++ {
		for j := other[0]; j < other[1]; j++ {
			s, t, gap := segmentGap(nodes[i-1].Pose.At, nodes[i].Pose.At, nodes[j-1].Pose.At, nodes[j].Pose.At)
			if d := r3.Norm(gap); d < best.distanceMM {
				best = approach{distanceMM: d, first: i, second: j, firstShare: s, secShare: t}
				if d > crossedMM {
					best.apart = r3.Scale(1/d, gap)
				}
			}
		}
	}
	return best
}

// excessMM is how much nearer than allowed the wire comes to itself; −Inf where nothing is
// watched.
func (g *selfGap) excessMM(nodes []beam.Node) float64 {
	most := math.Inf(-1)
	for _, near := range g.closest(nodes) {
		most = max(most, near.excessMM)
	}
	return most
}

// segmentGap returns the nearest points of the segments a–b and c–d as shares of the way
// along each, and the vector from the second to the first (Ericson, Real-Time Collision
// Detection, 2005, section 5.1.9).
func segmentGap(a, b, c, d r3.Vec) (s, t float64, gap r3.Vec) {
	u, v, w := r3.Sub(b, a), r3.Sub(d, c), r3.Sub(a, c)
	uu, vv, uv := r3.Dot(u, u), r3.Dot(v, v), r3.Dot(u, v)
	uw, vw := r3.Dot(u, w), r3.Dot(v, w)
	unit := func(x float64) float64 { return min(max(x, 0), 1) }
	if uu == 0 || vv == 0 { // a point and a segment, or two points
		if uu > 0 {
			s = unit(-uw / uu)
		}
		if vv > 0 {
			t = unit(vw / vv)
		}
	} else {
		if across := uu*vv - uv*uv; across > 1e-12*uu*vv {
			s = unit((uv*vw - uw*vv) / across)
		}
		t = (uv*s + vw) / vv
		if t < 0 || t > 1 {
			t = unit(t)
			s = unit((uv*t - uw) / uu)
		}
	}
	return s, t, r3.Add(w, r3.Sub(r3.Scale(s, u), r3.Scale(t, v)))
}

// putGaps puts the rows of the wire's distance from itself.
func (o *objective) putGaps(r *rows) {
	shift := func(node int, share float64, j int) r3.Vec {
		before, after := o.nodeSlope(node-1, j).ShiftMM, o.nodeSlope(node, j).ShiftMM
		return r3.Add(r3.Scale(1-share, before), r3.Scale(share, after))
	}
	end := r.next + gapRivals
	for _, near := range o.gap.closest(o.nodes) {
		if !putExcess(r, near.excessMM) {
			continue
		}
		r.setSlopes(func(j int) float64 {
			change := r3.Sub(shift(near.first, near.firstShare, j), shift(near.second, near.secShare, j))
			return -r3.Dot(near.apart, change) / slackMM
		})
	}
	r.skipTo(end)
}
