package photo

import (
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
//
// In one piece: nodes, then the branches between them, over the same marks on the pixels.
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
