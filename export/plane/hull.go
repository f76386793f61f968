package plane

import (
	"cmp"
	"slices"
)

// Hull returns the corners of the smallest convex shape that holds all points,
// anticlockwise (monotone chains; Andrew, Information Processing Letters 9 (1979) 216).
func Hull(points []Point) []Point {
	sorted := slices.SortedFunc(slices.Values(points), func(a, b Point) int {
		return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y))
	})
	if len(sorted) < 3 {
		return sorted
	}
	var hull []Point
	chain := func(points []Point) {
		first := len(hull)
		for _, p := range points {
			for n := len(hull); n >= first+2 && !leftOf(hull[n-2], hull[n-1], p); n = len(hull) {
				hull = hull[:n-1]
			}
			hull = append(hull, p)
		}
		hull = hull[:len(hull)-1] // it begins the other chain
	}
	chain(sorted)
	slices.Reverse(sorted)
	chain(sorted)
	return hull
}

// leftOf tells whether c lies to the left of somebody who goes from a to b.
func leftOf(a, b, c Point) bool { return (b.X-a.X)*(c.Y-a.Y)-(b.Y-a.Y)*(c.X-a.X) > 0 }
