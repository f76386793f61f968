package photo

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

const (
	mostBranches  = 24 // more is no wire
	mostKinkRad   = 70 * math.Pi / 180
	mostRoutes    = 24
	routeStepMM   = 0.1
	kinkFromMM    = 0.4 // how far from a node, about a width of the wire, a way's direction is taken
	mostTurnRad   = math.Pi / 2
	kinkOverMM    = 1.0
	mostRouteWalk = 20000
)

// route is a way along the whole wire from one end to the other, points routeStepMM apart.
type route struct {
	points  []r2.Vec
	heading []float64 // rad, without jumps of a turn
	kinkRad float64   // by how much it turns where branches meet
}

// leg is a branch gone along one way.
type leg struct {
	branch int
	back   bool
}

func (g *graph) pixels(l leg) []int {
	p := g.branches[l.branch].pixels
	if l.back {
		p = slices.Clone(p)
		slices.Reverse(p)
	}
	return p
}

// end is the node at which a leg ends.
func (g *graph) end(l leg) int {
	if l.back {
		return g.branches[l.branch].ends[0]
	}
	return g.branches[l.branch].ends[1]
}

// leaving is where a leg leaves the mess of a node, and in which direction: as it lies a little
// way off, and turned back to the node as if it went on bending as it does there.
func (g *graph) leaving(l leg) (at, straight, bent r2.Vec) {
	p := g.pixels(l)
	far := func(mm float64) r2.Vec { return g.at(p[min(len(p)-1, int(mm*g.m.pxPerMM))]) }
	a, b, c := far(kinkFromMM), far(kinkFromMM+kinkOverMM/2), far(kinkFromMM+kinkOverMM)
	if a == c {
		a = g.at(p[0])
	}
	straight, bent = r2.Sub(c, a), r2.Sub(b, a)
	if a == b || b == c {
		return a, straight, straight
	}
	turn := math.Atan2(r2.Cross(r2.Sub(c, b), r2.Sub(b, a)), r2.Dot(r2.Sub(c, b), r2.Sub(b, a)))
	turn *= (kinkFromMM + kinkOverMM/4) / (kinkOverMM / 2)
	if math.Abs(turn) > mostTurnRad {
		return a, straight, straight
	}
	return a, straight, r2.Rotate(bent, turn, r2.Vec{})
}

// routes are the ways along the wire that leave nothing out, the least kinked first. A branch
// between nodes may be gone twice: there two parts of the wire lie against each other.
//
// In one piece: a walk that goes on from what it has used so far.
func (g *graph) routes() []route {
	if len(g.branches) > mostBranches {
		return nil
	}
	var found [][]leg
	var kinks []float64
	used := make([]int, len(g.branches))
	walked := 0
	var walk func(way []leg, kinkRad float64)
	walk = func(way []leg, kinkRad float64) {
		if walked++; walked > mostRouteWalk {
			return
		}
		if !slices.Contains(used, 0) {
			found = append(found, slices.Clone(way))
			kinks = append(kinks, kinkRad)
		}
		now := way[len(way)-1]
		n := g.end(now)
		if n < 0 {
			return
		}
		for i, b := range g.branches {
			for side := range 2 {
				if b.ends[side] != n || used[i] >= 2 || used[i] == 1 && (b.ends[0] < 0 || b.ends[1] < 0) {
					continue
				}
				next := leg{i, side == 1}
				if next.branch == now.branch && next.back != now.back {
					continue // the way it came
				}
				kink := g.kink(now, next)
				if kink > mostKinkRad {
					continue
				}
				used[i]++
				walk(append(way, next), kinkRad+kink)
				used[i]--
			}
		}
	}
	start := func(l leg) {
		used[l.branch]++
		walk([]leg{l}, 0)
		used[l.branch]--
	}
	free := 0
	for i, b := range g.branches {
		for side := range 2 {
			if b.ends[side] < 0 {
				free++
				start(leg{i, side == 1})
			}
		}
	}
	if free < 2 { // an end lies against another part of the wire
		for i, b := range g.branches {
			for side := range 2 {
				if b.ends[side] >= 0 {
					start(leg{i, side == 1})
				}
			}
		}
	}
	return g.straightest(found, kinks)
}

// straightest are the ways that bend least where branches meet, the straightest first.
func (g *graph) straightest(found [][]leg, kinks []float64) []route {
	// Each is found from both ends, and is looked at both ways later.
	var order []int
	for i, way := range found {
		if !slices.ContainsFunc(order, func(k int) bool { return mirrored(found[k], way) }) {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Compare(kinks[a], kinks[b])
	})
	var all []route
	for _, i := range order[:min(len(order), mostRoutes)] {
		all = append(all, g.route(found[i], kinks[i]))
	}
	return all
}

// mirrored tells whether b is a gone from its end.
func mirrored(a, b []leg) bool {
	if len(a) != len(b) {
		return false
	}
	for i, l := range a {
		if m := b[len(b)-1-i]; m.branch != l.branch || m.back == l.back {
			return false
		}
	}
	return true
}

// kink is by how much a way turns from one leg to the next, over what is hidden between; the
// less of two readings, that both are straight there and that both are round.
func (g *graph) kink(a, b leg) float64 {
	p, out, outBent := g.leaving(leg{a.branch, !a.back})
	q, in, inBent := g.leaving(b)
	across := r2.Sub(q, p)
	of := func(out, in r2.Vec) float64 {
		out = r2.Scale(-1, out)
		return math.Max(angleBetween(out, in), math.Max(angleBetween(out, across), angleBetween(across, in))-mostTurnRad/2)
	}
	return math.Min(of(out, in), of(outBent, inBent))
}

func angleBetween(a, b r2.Vec) float64 {
	return math.Abs(math.Atan2(r2.Cross(a, b), r2.Dot(a, b)))
}

// route lays points along legs, straight across nodes and along what is gone twice.
func (g *graph) route(way []leg, kinkRad float64) route {
	count := make([]int, len(g.branches))
	for _, l := range way {
		count[l.branch]++
	}
	var rough []r2.Vec
	clear := int(0.3 * g.m.pxPerMM)
	for k, l := range way {
		p := g.pixels(l)
		from, to := 0, len(p)
		if k > 0 {
			from = min(clear, len(p)/3)
		}
		if k < len(way)-1 {
			to = len(p) - min(clear, len(p)/3)
		}
		if count[l.branch] > 1 || len(p) < 2*clear {
			if k > 0 && k < len(way)-1 {
				continue
			}
		}
		for _, i := range p[from:to] {
			rough = append(rough, g.at(i))
		}
	}
	r := route{points: evenly(rough, routeStepMM/2), kinkRad: kinkRad}
	r.points = evenly(smoothed(r.points, 4), routeStepMM) // over ±0.2 mm
	r.heading = headings(r.points, 2)
	return r
}

// evenly lays points at even distances along a line.
func evenly(line []r2.Vec, stepMM float64) []r2.Vec {
	if len(line) < 2 {
		return line
	}
	out := []r2.Vec{line[0]}
	left := stepMM
	for k := 1; k < len(line); k++ {
		a, b := line[k-1], line[k]
		for {
			d := r2.Norm(r2.Sub(b, a))
			if d < left {
				left -= d
				break
			}
			a = r2.Add(a, r2.Scale(left/d, r2.Sub(b, a)))
			out = append(out, a)
			left = stepMM
		}
	}
	return out
}

// smoothed averages each point with half on either side, fewer at the ends.
func smoothed(line []r2.Vec, half int) []r2.Vec {
	out := make([]r2.Vec, len(line))
	for i := range line {
		h := min(half, i, len(line)-1-i)
		var sum r2.Vec
		for _, p := range line[i-h : i+h+1] {
			sum = r2.Add(sum, p)
		}
		out[i] = r2.Scale(1/float64(2*h+1), sum)
	}
	return out
}

// headings are the directions of a line, over half points on either side.
func headings(line []r2.Vec, half int) []float64 {
	out := make([]float64, len(line))
	for i := range line {
		a, b := line[max(0, i-half)], line[min(len(line)-1, i+half)]
		h := math.Atan2(b.Y-a.Y, b.X-a.X)
		if i > 0 {
			h = out[i-1] + math.Remainder(h-out[i-1], 2*math.Pi)
		}
		out[i] = h
	}
	return out
}
