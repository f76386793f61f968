package photo

import (
	"cmp"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// run is a row of dark pixels side by side, from x0 to before x1.
type run struct{ y, x0, x1, label int }

// darkBlobs are the blobs that dark pixels form which touch by sides or corners, in order of
// their first pixel.
func darkBlobs(dark []bool, width, height int) []*blob {
	var runs []run
	var parent []int
	find := func(i int) int {
		for parent[i] != i {
			parent[i] = parent[parent[i]]
			i = parent[i]
		}
		return i
	}
	lastFrom, lastTo := 0, 0
	for y := range height {
		from := len(runs)
		line := dark[y*width : (y+1)*width]
		above := lastFrom
		for x := 0; x < width; x++ {
			if !line[x] {
				continue
			}
			r := run{y: y, x0: x, label: len(parent)}
			for x < width && line[x] {
				x++
			}
			r.x1 = x
			parent = append(parent, r.label)
			for above < lastTo && runs[above].x1 < r.x0 {
				above++
			}
			for k := above; k < lastTo && runs[k].x0 <= r.x1; k++ {
				a, b := find(runs[k].label), find(r.label)
				parent[max(a, b)] = min(a, b)
			}
			runs = append(runs, r)
		}
		lastFrom, lastTo = from, len(runs)
	}
	blobs := map[int]*blob{}
	var order []*blob
	for _, r := range runs {
		root := find(r.label)
		c := blobs[root]
		if c == nil {
			c = &blob{minX: r.x0, minY: r.y, maxX: r.x1 - 1, maxY: r.y}
			blobs[root] = c
			order = append(order, c)
		}
		c.area += r.x1 - r.x0
		c.minX, c.maxX, c.maxY = min(c.minX, r.x0), max(c.maxX, r.x1-1), r.y
		left, right, y := float64(r.x0), float64(r.x1), float64(r.y)
		c.rim = append(c.rim, r2.Vec{X: left, Y: y}, r2.Vec{X: left, Y: y + 1}, r2.Vec{X: right, Y: y}, r2.Vec{X: right, Y: y + 1})
	}
	return order
}

// hole is a set of pixels inside a blob that are not dark.
type hole struct {
	area   int
	middle r2.Vec
}

// holes are those of a blob, which pixels of other blobs inside its bounds do not belong to.
func holes(dark []bool, width int, c *blob) []hole {
	w, h := c.maxX-c.minX+1, c.maxY-c.minY+1
	seen := make([]bool, w*h)
	var found []hole
	var stack []int
	for start := range seen {
		if seen[start] || dark[(c.minY+start/w)*width+c.minX+start%w] {
			continue
		}
		var now hole
		outside := false
		stack, seen[start] = append(stack[:0], start), true
		for len(stack) > 0 {
			i := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			x, y := i%w, i/w
			now.area++
			now.middle = r2.Add(now.middle, r2.Vec{X: float64(c.minX+x) + 0.5, Y: float64(c.minY+y) + 0.5})
			outside = outside || x == 0 || y == 0 || x == w-1 || y == h-1
			for _, d := range [...][2]int{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
				u, v := x+d[0], y+d[1]
				if u >= 0 && v >= 0 && u < w && v < h && !seen[v*w+u] && !dark[(c.minY+v)*width+c.minX+u] {
					seen[v*w+u] = true
					stack = append(stack, v*w+u)
				}
			}
		}
		if !outside {
			now.middle = r2.Scale(1/float64(now.area), now.middle)
			found = append(found, now)
		}
	}
	return found
}

// convexHull goes round points with positive turns; as Andrew's monotone chain, Inf Process
// Lett 1979;9:216.
func convexHull(points []r2.Vec) []r2.Vec {
	points = slices.Clone(points)
	slices.SortFunc(points, func(a, b r2.Vec) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) })
	var hull []r2.Vec
	for range 2 {
		from := len(hull)
		for _, p := range points {
			for len(hull) >= from+2 && r2.Cross(r2.Sub(hull[len(hull)-1], hull[len(hull)-2]), r2.Sub(p, hull[len(hull)-2])) <= 0 {
				hull = hull[:len(hull)-1]
			}
			hull = append(hull, p)
		}
		hull = hull[:len(hull)-1]
		slices.Reverse(points)
	}
	return hull
}

func polygonArea(p []r2.Vec) float64 {
	var twice float64
	for i, a := range p {
		twice += r2.Cross(a, p[(i+1)%len(p)])
	}
	return twice / 2
}

// fourSided is the quadrilateral that a convex polygon is nearly: corner after corner is cut
// off that takes the least area with it. It is not ok where that leaves too much out.
func fourSided(hull []r2.Vec) (quad [4]r2.Vec, ok bool) {
	hull = slices.Clone(hull)
	if len(hull) < 4 {
		return quad, false
	}
	whole := polygonArea(hull)
	cut := func(i int) float64 {
		n := len(hull)
		a, b, c := hull[(i+n-1)%n], hull[i], hull[(i+1)%n]
		return r2.Cross(r2.Sub(b, a), r2.Sub(c, b)) / 2
	}
	for len(hull) > 4 {
		least := 0
		for i := range hull {
			if cut(i) < cut(least) {
				least = i
			}
		}
		hull = slices.Delete(hull, least, least+1)
	}
	copy(quad[:], hull)
	return quad, whole > 0 && polygonArea(hull) > 0.88*whole
}
