package photo

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// branch is a piece of the middle line between two nodes; −1 stands for a free end.
type branch struct {
	ends   [2]int
	pixels []int
}

// graph is the middle line: branches that meet in nodes.
type graph struct {
	m        *mask
	branches []branch
	nodes    int
}

// graphOf makes the graph of a middle line, without spurs shorter than spurMM, which a thick
// end or a rough edge grows.
func graphOf(m *mask, line []bool, spurMM float64) *graph {
	for {
		g := split(m, line)
		cut := false
		if g.nodes > 0 {
			for _, b := range g.branches {
				if (b.ends[0] < 0) != (b.ends[1] < 0) && g.lengthMM(b.pixels) < spurMM {
					for _, i := range b.pixels {
						line[i] = false
					}
					cut = true
				}
			}
		}
		if !cut {
			return g
		}
		// What a spur leaves of its node is thinned to a line again.
		kept := &mask{m.plate, line}
		line = kept.thinned()
	}
}

func (g *graph) lengthMM(pixels []int) float64 {
	var sum float64
	for k := 1; k < len(pixels); k++ {
		sum += r2.Norm(r2.Sub(g.at(pixels[k]), g.at(pixels[k-1])))
	}
	return sum
}

func (g *graph) at(i int) r2.Vec { return g.m.card(float64(i%g.m.width), float64(i/g.m.width)) }

// split finds nodes and branches.
func split(m *mask, line []bool) *graph {
	g := &graph{m: m}
	around := m.around()
	neighbours := func(i int) (list []int) {
		for _, d := range around {
			if line[i+d] {
				list = append(list, i+d)
			}
		}
		return list
	}
	var pixels []int
	for i, on := range line {
		if on {
			pixels = append(pixels, i)
		}
	}
	node := map[int]int{}
	for _, start := range pixels {
		if _, known := node[start]; known || len(neighbours(start)) < 3 {
			continue
		}
		stack := []int{start}
		node[start] = g.nodes
		for len(stack) > 0 {
			i := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			for _, k := range neighbours(i) {
				if _, known := node[k]; !known && len(neighbours(k)) >= 3 {
					node[k] = g.nodes
					stack = append(stack, k)
				}
			}
		}
		g.nodes++
	}
	used := map[int]bool{}
	// follow goes along a branch from one of its pixels, from a node or a free end.
	follow := func(from, i int) {
		b := branch{ends: [2]int{from, -1}}
		for {
			used[i] = true
			b.pixels = append(b.pixels, i)
			next, nextNode := -1, -1
			for _, k := range neighbours(i) {
				if n, isNode := node[k]; isNode {
					// Back into the node it came from only after a way round.
					if n != from || len(b.pixels) > 3 {
						nextNode = n
					}
				} else if !used[k] {
					next = k
				}
			}
			if nextNode >= 0 && (next < 0 || len(b.pixels) > 1) {
				b.ends[1] = nextNode
				break
			}
			if next < 0 {
				break
			}
			i = next
		}
		g.branches = append(g.branches, b)
	}
	for _, i := range pixels {
		if _, isNode := node[i]; !isNode && !used[i] && len(neighbours(i)) == 1 {
			if n, besideNode := node[neighbours(i)[0]]; besideNode {
				used[i] = true
				g.branches = append(g.branches, branch{[2]int{-1, n}, []int{i}})
				continue
			}
			follow(-1, i)
		}
	}
	for _, i := range pixels {
		n, isNode := node[i]
		if !isNode {
			continue
		}
		for _, k := range neighbours(i) {
			if _, other := node[k]; !other && !used[k] {
				follow(n, k)
			}
		}
	}
	return g
}

// joined makes one node of nodes that are nearer to each other than nearMM along a branch: where
// two parts of the wire cross, a middle line often has two nodes.
func (g *graph) joined(nearMM float64) *graph {
	parent := make([]int, g.nodes)
	for i := range parent {
		parent[i] = i
	}
	find := func(i int) int {
		for parent[i] != i {
			i = parent[i]
		}
		return i
	}
	short := func(b branch) bool { return b.ends[0] >= 0 && b.ends[1] >= 0 && g.lengthMM(b.pixels) < nearMM }
	for _, b := range g.branches {
		if short(b) {
			u, v := find(b.ends[0]), find(b.ends[1])
			parent[max(u, v)] = min(u, v)
		}
	}
	out := &graph{m: g.m, nodes: g.nodes}
	for _, b := range g.branches {
		if short(b) {
			continue
		}
		for side, n := range b.ends {
			if n >= 0 {
				b.ends[side] = find(n)
			}
		}
		out.branches = append(out.branches, b)
	}
	return out
}

const (
	mostBranches  = 24 // more is no wire
	mostKinkRad   = 70 * math.Pi / 180
	mostRoutes    = 24
	routeStepMM   = 0.1
	kinkFromMM    = 0.4 // how far from a node, in widths of the wire and more, a way's direction is taken
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

// leaving is the direction in which a leg starts, seen from where it starts.
func (g *graph) leaving(l leg) (at, direction r2.Vec) {
	p := g.pixels(l)
	a := g.at(p[min(len(p)-1, int(kinkFromMM*g.m.pxPerMM))])
	b := g.at(p[min(len(p)-1, int((kinkFromMM+kinkOverMM)*g.m.pxPerMM))])
	if a == b {
		a = g.at(p[0])
	}
	return a, r2.Sub(b, a)
}

// routes are the ways along the wire that leave nothing out, the least kinked first. A branch
// between nodes may be gone twice: there two parts of the wire lie against each other.
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
	order := make([]int, len(found))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case kinks[a] < kinks[b]:
			return -1
		case kinks[a] > kinks[b]:
			return 1
		}
		return 0
	})
	var all []route
	for _, i := range order[:min(len(order), 2*mostRoutes)] { // each is found from both ends
		all = append(all, g.route(found[i], kinks[i]))
	}
	return all
}

// kink is by how much a way turns from one leg to the next, over what is hidden between.
func (g *graph) kink(a, b leg) float64 {
	p, out := g.leaving(leg{a.branch, !a.back})
	q, in := g.leaving(b)
	out = r2.Scale(-1, out)
	across := r2.Sub(q, p)
	return math.Max(angleBetween(out, in), math.Max(angleBetween(out, across), angleBetween(across, in)))
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
