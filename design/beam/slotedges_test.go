package beam_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"springwright/design/beam"
)

// A straight wire out of a slot with play, its far end free to turn and pressed across: it is tipped until
// opposite edges stop it and bends between them. By beam theory the end goes by
//
//	F L³/(3EI) + F L/GA + F L² (2a/(3EI) + 1/(2a GA)) + play (L + a)
//
// for a length L outside and edges 2a apart. Without bending inside the third term, a fourth of it
// all, is missing.
func TestWireBendsBetweenTheEdges(t *testing.T) {
	const lengthMM, halfMM, playRad, acrossMM = 10.0, 2.0, 0.02, 0.4
	section := beam.Section{EA: 1e5, GA2: 5e3, GA3: 6e3, GJ: 200, EI2: 280, EI3: 500}
	for _, row := range []struct {
		name   string
		across r3.Vec
		ei, ga float64
	}{{"in height", r3.Vec{Z: 1}, section.EI2, section.GA3}, {"in depth", r3.Vec{Y: 1}, section.EI3, section.GA2}} {
		base := beam.Slot{LeverMM: halfMM, HeightArmMM: halfMM, DepthArmMM: halfMM}
		base.BendInside(false, section)
		// A far slot of no length in which the wire may turn as it likes.
		end := beam.Slot{}
		room := [2]beam.SlotCoordinates{{0, playRad, playRad, playRad, playRad}, {0, math.Inf(1), math.Inf(1)}}
		var touch [2]beam.Touches
		s := beam.NewSolver(beam.Rod{Section: section, Pieces: []beam.Piece{{LengthMM: lengthMM}}}, beam.Origin(), beam.Options{StepMM: 1, Tolerance: 1e-11})
		seat := s.End()
		if err := s.FollowTied(beam.Clamp(seat), base, end); err != nil {
			t.Fatal(err)
		}
		end.Slides = true // no force along the wire
		seat.At = r3.Add(seat.At, r3.Scale(acrossMM, row.across))
		if err := s.RestInSlots(seat, base, end, &room, &touch); err != nil {
			t.Fatal(err)
		}
		got := r3.Dot(s.EndLoad().ForceN, row.across)
		mouth := 2*halfMM/(3*row.ei) + 1/(2*halfMM*row.ga)
		give := lengthMM*lengthMM*lengthMM/(3*row.ei) + lengthMM/row.ga + lengthMM*lengthMM*mouth
		want := (acrossMM - playRad*(lengthMM+halfMM)) / give
		near(t, row.name+", force", got, want, 0.005*want) // the square of the angle at the tip, 0.06
	}
}
