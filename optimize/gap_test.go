package optimize

import (
	"math"
	"math/rand/v2"
	"testing"

	"springwright/design/beam"
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

func randomVec(source *rand.Rand) r3.Vec {
	return r3.Vec{X: source.NormFloat64(), Y: source.NormFloat64(), Z: source.NormFloat64()}
}

func mix(a, b r3.Vec, share float64) r3.Vec {
	return r3.Add(r3.Scale(1-share, a), r3.Scale(share, b))
}

// scannedGapMM is the distance of two segments by golden-section search. The distance of a
// point of one from the other segment is convex along it, so that the search cannot miss.
func scannedGapMM(a, b, c, d r3.Vec) float64 {
	fromPoint := func(p r3.Vec) float64 {
		lower, upper := 0.0, 1.0
		for range 80 {
			s, t := lower+0.382*(upper-lower), lower+0.618*(upper-lower)
			if r3.Norm(r3.Sub(p, mix(a, b, s))) < r3.Norm(r3.Sub(p, mix(a, b, t))) {
				upper = t
			} else {
				lower = s
			}
		}
		return r3.Norm(r3.Sub(p, mix(a, b, (lower+upper)/2)))
	}
	lower, upper := 0.0, 1.0
	for range 80 {
		s, t := lower+0.382*(upper-lower), lower+0.618*(upper-lower)
		if fromPoint(mix(c, d, s)) < fromPoint(mix(c, d, t)) {
			upper = t
		} else {
			lower = s
		}
	}
	return fromPoint(mix(c, d, (lower+upper)/2))
}

func TestSegmentGapMatchesScan(t *testing.T) {
	t.Parallel()
	source := rand.New(rand.NewPCG(1, 0))
	for i := range 600 {
		a, b, c, d := randomVec(source), randomVec(source), randomVec(source), randomVec(source)
		kind := "skew"
		switch i % 6 {
		case 1:
			kind, d = "parallel", r3.Add(c, r3.Scale(source.NormFloat64(), r3.Sub(b, a)))
		case 2:
			kind = "planar"
			a.Y, b.Y, c.Y, d.Y = 0, 0, 0, 0
		case 3:
			kind, b = "point and segment", a
		case 4:
			kind, d = "segment and point", c
		case 5:
			kind, c, d = "in one line", mix(a, b, source.NormFloat64()), mix(a, b, source.NormFloat64())
		}
		s, share, gap := segmentGap(a, b, c, d)
		if s < 0 || s > 1 || share < 0 || share > 1 {
			t.Errorf("%s: shares %v and %v", kind, s, share)
		}
		if off := r3.Norm(r3.Sub(gap, r3.Sub(mix(a, b, s), mix(c, d, share)))); off > 1e-12 {
			t.Errorf("%s: the gap is off its own points by %v", kind, off)
		}
		// Golden section stops where rounding hides a difference, some 1e-8 off the place.
		if got, want := r3.Norm(gap), scannedGapMM(a, b, c, d); math.Abs(got-want) > 1e-6 {
			t.Errorf("%s: %v apart, %v by scanning", kind, got, want)
		}
	}
	if s, share, gap := segmentGap(r3.Vec{X: 1}, r3.Vec{X: 1}, r3.Vec{Y: 2}, r3.Vec{Y: 2}); s != 0 || share != 0 || gap != (r3.Vec{X: 1, Y: -2}) {
		t.Errorf("two points: %v, %v, %v", s, share, gap)
	}
}

func TestNearestLeavesOutNeighboursAndBends(t *testing.T) {
	t.Parallel()
	// A hairpin: legs of 8 mm, 1.2 mm apart across the bend, and a third leg that comes
	// back 2.4 mm from the first.
	path := spring.PathOf(
		spring.StraightStep(8), spring.BendStep(math.Pi, 0.6),
		spring.StraightStep(8), spring.BendStep(-math.Pi, 0.6),
		spring.StraightStep(8),
	)
	c := studyCase()
	solver := beam.NewSolver(c.SpringFor(path).Rod(), beam.Origin(), beam.Options{})
	gap := newSelfGap(c, spring.Pattern{Steps: path.Steps()})
	closest := gap.closest(solver.AppendNodes(nil))
	if len(closest) != 1 {
		t.Fatalf("%d pairs of steps are watched, want only the first and the third straight", len(closest))
	}
	near := closest[0]
	if math.Abs(near.distanceMM-2.4) > 1e-9 {
		t.Errorf("nearest is %v mm, want 2.4: between the first and the third straight", near.distanceMM)
	}
	if math.Abs(math.Abs(near.apart.Z)-1) > 1e-9 {
		t.Errorf("apart along %v, want z", near.apart)
	}
}
