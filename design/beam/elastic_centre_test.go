package beam_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"springwright/design/beam"
)

// A plane wire that only bends, clamped at both ends, answers a small movement about its
// elastic centre, the centroid of the wire's line: EI over its second moments
// (Colonnetti's theorem; the column analogy of Cross, 1930). The sums are taken piece by
// piece over the vertical loop.
func TestElasticCentre(t *testing.T) {
	rod := verticalLoop(unshearable(titaniumWire()))
	ei := rod.Section.EI3
	length, centre := 0.0, r3.Vec{}
	moments := func(about r3.Vec) (xx, yy float64) {
		p := beam.Origin()
		for _, piece := range rod.Pieces {
			const cells = 2000 // midpoint rule: error below 1e-7
			h := piece.LengthMM / cells
			for range cells {
				at := r3.Sub(p.Advance(piece.Curvature, h/2).At, about)
				length += h
				centre = r3.Add(centre, r3.Scale(h, at))
				xx += h * at.Y * at.Y
				yy += h * at.X * at.X
				p = p.Advance(piece.Curvature, h)
			}
		}
		return xx, yy
	}
	moments(r3.Vec{})
	centre = r3.Scale(1/length, centre)
	wire := length
	xx, yy := moments(centre)
	near(t, "kx", ei/xx, 1.83925746, 1e-6)
	near(t, "ky", ei/yy, 4.92580883, 1e-6)
	near(t, "kθ", ei/wire, 12.753992, 1e-5)

	// Central differences: what is left is of third order.
	stiffness := func(shift, rotation r3.Vec) beam.Wrench {
		var sum beam.Wrench
		for _, share := range []float64{-1e-3, 1e-3} {
			s := beam.NewSolver(rod, beam.Origin(), fine())
			mustFollow(t, s, moved(rod, beam.Origin(), r3.Scale(share, shift), r3.Scale(share, rotation)))
			load := s.EndLoad()
			sum.ForceN = r3.Add(sum.ForceN, r3.Scale(1/(2*share), load.ForceN))
			sum.MomentNMM = r3.Add(sum.MomentNMM, r3.Scale(1/(2*share), load.MomentNMM))
		}
		return sum
	}
	end := rod.UnloadedEnd(beam.Origin()).At
	atEnd := func(force r3.Vec, couple float64) beam.Wrench {
		return beam.Wrench{ForceN: force, MomentNMM: r3.Vec{Z: couple}}.About(centre, end)
	}
	nearWrench(t, "pull", stiffness(r3.Vec{X: 1}, r3.Vec{}), atEnd(r3.Vec{X: ei / xx}, 0), 1e-5)
	nearWrench(t, "lift", stiffness(r3.Vec{Y: 1}, r3.Vec{}), atEnd(r3.Vec{Y: ei / yy}, 0), 1e-5)
	turn := r3.Vec{Z: 1}
	nearWrench(t, "turn about the centre",
		stiffness(r3.Cross(turn, r3.Sub(end, centre)), turn), atEnd(r3.Vec{}, ei/wire), 1e-4)
}

// Textbook beam: both ends clamped, one moved sideways or turned (any handbook of
// structures, from memory).
func TestClampedBeamStiffness(t *testing.T) {
	const lengthMM, small = 8.0, 1e-5
	rod := beam.Rod{Section: titaniumWire(), Pieces: []beam.Piece{line(lengthMM)}}
	rod.Section = unshearable(rod.Section)
	rod.Section.EA = 1e6 // without stretch, no clamped straight wire could move sideways
	ei := rod.Section.EI3
	s := beam.NewSolver(rod, beam.Origin(), fine())
	mustFollow(t, s, moved(rod, beam.Origin(), r3.Vec{Y: small}, r3.Vec{}))
	near(t, "12 EI/L³", s.EndLoad().ForceN.Y/small, 12*ei/math.Pow(lengthMM, 3), 1e-6)
	near(t, "6 EI/L²", s.EndLoad().MomentNMM.Z/small, -6*ei/math.Pow(lengthMM, 2), 1e-5)
	mustFollow(t, s, moved(rod, beam.Origin(), r3.Vec{}, r3.Vec{Z: small}))
	near(t, "4 EI/L", s.EndLoad().MomentNMM.Z/small, 4*ei/lengthMM, 1e-4)
	near(t, "2 EI/L", s.BaseLoad().MomentNMM.Z/small, 2*ei/lengthMM, 1e-4)
}
