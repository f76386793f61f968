package jig

import (
	"errors"
	"math"

	"springwright/export/plane"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	// cellMM is the finest cell: where the groove's edge is curved most, inside a bend of 0.5 mm about a
	// wire of 0.4 mm, a chord across it is off by cellMM²/(8·0.2 mm) = 0.006 mm.
	cellMM = 0.1
	coarse = 32 // finest cells along the coarsest
	// nearest is how near an edge may come to a node, as a share of a cell: it keeps the triangles' sides
	// above 0.002 mm, far above what the file's numbers resolve.
	nearest = 0.02
)

// node is a corner of the grid, in finest cells.
type node struct{ x, y int }

func (n node) at() plane.Point {
	return plane.Point{X: float64(n.x) * cellMM, Y: float64(n.y) * cellMM}
}

// cell is a square of the grid, its lower left corner and its side in finest cells.
type cell struct {
	at   node
	side int
}

// mesher turns a shape into triangles: a grid that is fine where edges run, whose finest cells are cut along
// them. Every place has one height but on the edges, where a wall joins both, so that nothing can cross.
type mesher struct {
	*shape
	cells     []cell
	nodes     map[node]bool
	edges     map[node][2]float64 // values of edge and rise at nodes
	heights   map[node]float64
	cuts      map[[2]node]cut
	triangles [][3]r3.Vec
	err       error
}

// cut is where an edge of the shape crosses a side of a finest triangle: one place, two heights.
type cut struct{ in, out r3.Vec }

var errCut = errors.New("two edges of the plate run through one cell") // ruled out by their distance

func (g *shape) mesh() ([][3]r3.Vec, error) {
	m := &mesher{shape: g, nodes: map[node]bool{}, edges: map[node][2]float64{}, heights: map[node]float64{}, cuts: map[[2]node]cut{}}
	for y := range g.down {
		for x := range g.across {
			m.divide(cell{node{x * coarse, y * coarse}, coarse})
		}
	}
	for _, c := range m.cells {
		m.fill(c)
	}
	m.close()
	return m.triangles, m.err
}

// divide splits a cell until no edge runs through one that is not among the finest, and heights are met.
func (m *mesher) divide(c cell) {
	if c.side > 1 && m.tooCoarse(c) {
		h := c.side / 2
		for _, at := range [...]node{c.at, {c.at.x + h, c.at.y}, {c.at.x, c.at.y + h}, {c.at.x + h, c.at.y + h}} {
			m.divide(cell{at, h})
		}
		return
	}
	m.cells = append(m.cells, c)
	for _, n := range c.corners() {
		m.nodes[n] = true
	}
}

func (m *mesher) tooCoarse(c cell) bool {
	half := float64(c.side) * cellMM / 2
	centre := c.at.at().Add(plane.Point{X: half, Y: half})
	// Distances change by no more than the way, but where the groove's width changes: a third more.
	reach := 1.34*math.Sqrt2*half + cellMM/2
	edge := m.edge(centre)
	if edge < mouthMM+reach || math.Abs(m.rise(centre)) < reach {
		return true
	}
	const slopeCells = 4 // of the ridge's flanks
	return c.side > slopeCells && m.top(centre) > m.baseTop-math.Sqrt2*half && m.slopes(c)
}

// slopes tells whether the plate is not level over a cell.
func (m *mesher) slopes(c cell) bool {
	const levelMM = 0.02
	least, most := math.Inf(1), math.Inf(-1)
	for y := 0; y <= c.side; y += c.side / 4 {
		for x := 0; x <= c.side; x += c.side / 4 {
			z := m.top(node{c.at.x + x, c.at.y + y}.at())
			least, most = min(least, z), max(most, z)
		}
	}
	return most-least > levelMM
}

// corners run anticlockwise.
func (c cell) corners() [4]node {
	x, y, s := c.at.x, c.at.y, c.side
	return [4]node{{x, y}, {x + s, y}, {x + s, y + s}, {x, y + s}}
}

// fill covers a cell: a finest one by two triangles, a coarser one by a fan to all nodes on its sides.
func (m *mesher) fill(c cell) {
	corners := c.corners()
	if c.side == 1 {
		m.cut(corners[0], corners[1], corners[2])
		m.cut(corners[0], corners[2], corners[3])
		return
	}
	centre := node{c.at.x + c.side/2, c.at.y + c.side/2}
	for i, from := range corners {
		to := corners[(i+1)%4]
		dx, dy := sign(to.x-from.x), sign(to.y-from.y)
		last := from
		for n := from; n != to; {
			n = node{n.x + dx, n.y + dy}
			if m.nodes[n] {
				m.add(m.vertex(last), m.vertex(n), m.vertex(centre))
				last = n
			}
		}
	}
}

func sign(n int) int {
	switch {
	case n > 0:
		return 1
	case n < 0:
		return -1
	}
	return 0
}

func (m *mesher) add(a, b, c r3.Vec) { m.triangles = append(m.triangles, [3]r3.Vec{a, b, c}) }

func (m *mesher) values(n node) [2]float64 {
	v, known := m.edges[n]
	if !known {
		v = [2]float64{m.edge(n.at()), m.rise(n.at())}
		m.edges[n] = v
	}
	return v
}

// vertex is a node at its height.
func (m *mesher) vertex(n node) r3.Vec {
	z, known := m.heights[n]
	if !known {
		at, v := n.at(), m.values(n)
		switch {
		case v[0] < 0:
			z = m.floor(at)
		case v[1] < 0:
			z = m.relief(at)
		default:
			z = m.plain(at, v[0])
		}
		m.heights[n] = z
	}
	return placed(n.at(), z)
}

// placed rounds heights, so that what is level is level to the last bit.
func placed(p plane.Point, z float64) r3.Vec {
	return r3.Vec{X: p.X, Y: p.Y, Z: math.Round(z*1e6) / 1e6}
}

// cut covers a finest triangle, in two parts with a wall between where an edge runs through it.
func (m *mesher) cut(a, b, c node) {
	corners := [3]node{a, b, c}
	crossed, which := 0, 0
	for k := range 2 {
		inside := 0
		for _, n := range corners {
			if m.values(n)[k] < 0 {
				inside++
			}
		}
		if inside == 1 || inside == 2 {
			crossed, which = crossed+1, k
		}
	}
	switch crossed {
	case 0:
		m.add(m.vertex(a), m.vertex(b), m.vertex(c))
		return
	case 2:
		m.err = errCut
		return
	}
	in := func(n node) bool { return m.values(n)[which] < 0 }
	alone := 0
	for i := range corners {
		if in(corners[i]) != in(corners[(i+1)%3]) && in(corners[i]) != in(corners[(i+2)%3]) {
			alone = i
		}
	}
	n, left, right := corners[alone], corners[(alone+1)%3], corners[(alone+2)%3]
	p, q := m.crossing(n, left, which), m.crossing(n, right, which)
	near, far := [2]r3.Vec{p.in, q.in}, [2]r3.Vec{p.out, q.out}
	if !in(n) {
		near, far = far, near
	}
	m.add(m.vertex(n), near[0], near[1])
	m.add(far[0], m.vertex(left), m.vertex(right))
	m.add(far[0], m.vertex(right), far[1])
	m.add(near[1], near[0], far[0])
	m.add(near[1], far[0], far[1])
}

// crossing finds where an edge crosses the side between two nodes.
func (m *mesher) crossing(a, b node, which int) cut {
	if b.x < a.x || b.x == a.x && b.y < a.y {
		a, b = b, a
	}
	if c, known := m.cuts[[2]node{a, b}]; known {
		return c
	}
	value := m.edge
	if which == 1 {
		value = m.rise
	}
	way := b.at().Sub(a.at())
	low, high := 0.0, 1.0
	inside := m.values(a)[which] < 0
	for range 30 {
		middle := (low + high) / 2
		if (value(a.at().Add(way.Times(middle))) < 0) == inside {
			low = middle
		} else {
			high = middle
		}
	}
	at := a.at().Add(way.Times(min(max(low, nearest), 1-nearest)))
	c := cut{placed(at, m.floor(at)), placed(at, m.plain(at, 0))}
	if which == 1 {
		c = cut{placed(at, m.relief(at)), placed(at, m.top(at))}
	}
	m.cuts[[2]node{a, b}] = c
	return c
}

// close adds the sides and the underside.
func (m *mesher) close() {
	right, top := m.across*coarse, m.down*coarse
	centre := placed(plane.Point{X: m.widthMM() / 2, Y: m.heightMM() / 2}, 0)
	corners := [4]node{{0, 0}, {right, 0}, {right, top}, {0, top}}
	for i, from := range corners {
		to := corners[(i+1)%4]
		dx, dy := sign(to.x-from.x), sign(to.y-from.y)
		last := from
		for n := from; n != to; {
			n = node{n.x + dx, n.y + dy}
			if !m.nodes[n] {
				continue
			}
			a, b := m.vertex(last), m.vertex(n)
			lowA, lowB := placed(last.at(), 0), placed(n.at(), 0)
			m.add(b, a, lowA)
			m.add(b, lowA, lowB)
			m.add(lowB, lowA, centre)
			last = n
		}
	}
}
