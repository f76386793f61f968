// Package plane holds the few shapes that a drawn page is laid out with. All lengths are
// mm, x to the right and y up.
package plane

import "math"

// Point is a place, or the step from one place to another.
type Point struct{ X, Y float64 }

// Add returns p moved by q.
func (p Point) Add(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Sub returns the step from q to p.
func (p Point) Sub(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Times returns p scaled by f.
func (p Point) Times(f float64) Point { return Point{f * p.X, f * p.Y} }

// Norm is the length of p.
func (p Point) Norm() float64 { return math.Hypot(p.X, p.Y) }

// Unit returns p scaled to length 1; the zero step stays.
func (p Point) Unit() Point {
	if n := p.Norm(); n > 0 {
		return p.Times(1 / n)
	}
	return p
}

// Left returns p turned a quarter turn to the left.
func (p Point) Left() Point { return Point{-p.Y, p.X} }

// Turned returns p turned to the left by rad.
func (p Point) Turned(rad float64) Point {
	sin, cos := math.Sincos(rad)
	return Point{cos*p.X - sin*p.Y, sin*p.X + cos*p.Y}
}

// Segment is a straight line between two places.
type Segment struct{ A, B Point }

// Crosses tells whether two segments meet.
func (s Segment) Crosses(t Segment) bool {
	side := func(a, b, c Point) float64 { return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X) }
	d1, d2 := side(t.A, t.B, s.A), side(t.A, t.B, s.B)
	d3, d4 := side(s.A, s.B, t.A), side(s.A, s.B, t.B)
	return (d1 > 0) != (d2 > 0) && (d3 > 0) != (d4 > 0)
}

// Box is an upright rectangle.
type Box struct{ Min, Max Point }

// Empty is a box that holds nothing: Cover starts from it.
func Empty() Box {
	return Box{Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}}
}

// BoxAt returns a box of the given size about its centre.
func BoxAt(centre Point, width, height float64) Box {
	half := Point{width / 2, height / 2}
	return Box{centre.Sub(half), centre.Add(half)}
}

// Width is the extent of the box along x.
func (b Box) Width() float64 { return b.Max.X - b.Min.X }

// Height is the extent of the box along y.
func (b Box) Height() float64 { return b.Max.Y - b.Min.Y }

// Centre is the middle of the box.
func (b Box) Centre() Point { return b.Min.Add(b.Max).Times(0.5) }

// Cover returns the box that also holds p.
func (b Box) Cover(p Point) Box {
	return Box{
		Point{min(b.Min.X, p.X), min(b.Min.Y, p.Y)},
		Point{max(b.Max.X, p.X), max(b.Max.Y, p.Y)},
	}
}

// Grown returns the box with every side moved outwards by d.
func (b Box) Grown(d float64) Box {
	return Box{Point{b.Min.X - d, b.Min.Y - d}, Point{b.Max.X + d, b.Max.Y + d}}
}

// Overlaps tells whether two boxes share more than an edge.
func (b Box) Overlaps(c Box) bool {
	return b.Min.X < c.Max.X && c.Min.X < b.Max.X && b.Min.Y < c.Max.Y && c.Min.Y < b.Max.Y
}

// Holds tells whether c lies inside b.
func (b Box) Holds(c Box) bool {
	return b.Min.X <= c.Min.X && c.Max.X <= b.Max.X && b.Min.Y <= c.Min.Y && c.Max.Y <= b.Max.Y
}

// Nearest returns the point of the box nearest to p.
func (b Box) Nearest(p Point) Point {
	return Point{max(b.Min.X, min(p.X, b.Max.X)), max(b.Min.Y, min(p.Y, b.Max.Y))}
}

// Touches tells whether a segment has a point inside the box (Liang and Barsky, ACM
// Transactions on Graphics 3 (1984) 1).
func (b Box) Touches(s Segment) bool {
	// Nearly all that are asked for lie wholly on one side: labels are tried in thousands of places.
	if max(s.A.X, s.B.X) <= b.Min.X || min(s.A.X, s.B.X) >= b.Max.X || max(s.A.Y, s.B.Y) <= b.Min.Y || min(s.A.Y, s.B.Y) >= b.Max.Y {
		return false
	}
	from, to := 0.0, 1.0
	d := s.B.Sub(s.A)
	for _, edge := range [4][2]float64{
		{-d.X, s.A.X - b.Min.X}, {d.X, b.Max.X - s.A.X}, {-d.Y, s.A.Y - b.Min.Y}, {d.Y, b.Max.Y - s.A.Y},
	} {
		p, q := edge[0], edge[1]
		switch {
		case p == 0 && q <= 0:
			return false
		case p < 0:
			from = max(from, q/p)
		case p > 0:
			to = min(to, q/p)
		}
	}
	return from < to
}

// Segments returns the segments of a line through points.
func Segments(points []Point) []Segment {
	var out []Segment
	for i := 1; i < len(points); i++ {
		out = append(out, Segment{points[i-1], points[i]})
	}
	return out
}

// Placed returns points at another scale, their origin moved to at.
func Placed(points []Point, at Point, scale float64) []Point {
	out := make([]Point, len(points))
	for i, q := range points {
		out[i] = at.Add(q.Times(scale))
	}
	return out
}
