package plane

import (
	"math/rand/v2"
	"testing"
)

func TestHullHoldsAllPoints(t *testing.T) {
	random := rand.New(rand.NewPCG(2, 9))
	for range 100 {
		points := make([]Point, 3+random.IntN(20))
		for i := range points {
			// On a grid, so that some lie in line and some on each other.
			points[i] = Point{float64(random.IntN(9)), float64(random.IntN(9))}
		}
		hull := Hull(points)
		for i := range hull {
			a, b := hull[i], hull[(i+1)%len(hull)]
			for _, p := range points {
				if len(hull) > 2 && leftOf(b, a, p) {
					t.Fatalf("%v lies outside the hull %v", p, hull)
				}
			}
		}
	}
}

func TestHullOfASquare(t *testing.T) {
	got := Hull([]Point{{1, 1}, {0, 0}, {2, 2}, {0, 2}, {1, 0}, {2, 0}})
	want := []Point{{0, 0}, {2, 0}, {2, 2}, {0, 2}}
	if len(got) != len(want) {
		t.Fatalf("hull %v, want %v", got, want)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("hull %v, want %v", got, want)
		}
	}
}
