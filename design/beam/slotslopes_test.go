package beam_test

import (
	"fmt"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"springwright/design/beam"
)

// seatedTwice is a loop in two tubes, at rest in a first seat, through a slot of which it is slid
// to rest where one slides, and cinched and at rest in a second.
type seatedTwice struct {
	loads  [2][2]beam.Wrench
	slid   [2][2]float64
	nodes  [2][]beam.Node
	ends   [2]beam.Pose
	touch  [2]beam.Touches
	solver *beam.Solver
}

func seatTwice(t *testing.T, rod beam.Rod, base beam.Pose, seats [2]beam.Pose, slideBase, slideEnd, bends bool, between func(*beam.Solver)) (out seatedTwice) {
	t.Helper()
	s := beam.NewSolver(rod, base, beam.Options{StepMM: 1.53, StepRad: 0.41, Tolerance: 1e-13})
	baseSlot, endSlot, room := tubes()
	baseSlot.Slides, endSlot.Slides = slideBase, slideEnd
	if bends {
		baseSlot.BendInside(false, rod.Section)
		endSlot.BendInside(true, rod.Section)
	}
	if err := s.FollowTied(beam.Clamp(seats[0]), baseSlot, endSlot); err != nil {
		t.Fatal(err)
	}
	for k, seat := range seats {
		if err := s.RestInSlots(seat, baseSlot, endSlot, &room, &out.touch); err != nil {
			t.Fatalf("seat %d: %v", k, err)
		}
		out.loads[k] = [2]beam.Wrench{s.BaseLoad(), s.EndLoad()}
		out.slid[k][0], out.slid[k][1] = s.SlidMM()
		out.nodes[k] = s.AppendNodes(nil)
		out.ends[k] = s.End()
		if k == 0 {
			baseSlot.Slides, endSlot.Slides = false, false
			if between != nil {
				between(s)
			}
		}
	}
	out.solver = s
	return out
}

// The slopes of a wire in tubes are those of the discrete solution, by central differences: at
// rest, slid to rest and cinched after that, rigid and bending between the edges, by every kind of parameter and by the seat.
func TestSlotSlopesAgainstDifferences(t *testing.T) {
	t.Parallel()
	base := beam.Origin()
	rod := twistedLoop()
	from := twistedHold(base).Pose
	seats := [2]beam.Pose{from, from}
	seats[1].At = r3.Add(from.At, r3.Vec{X: 0.1, Y: -0.05, Z: 0.2})
	parameters := []beam.Parameter{
		{Piece: 0, LengthMM: 1},
		{Piece: 1, LengthMM: 1},
		{Piece: 4, LengthMM: 1},
		{Piece: len(rod.Pieces) - 1, LengthMM: 1},
		{Piece: 1, Curvature: r3.Vec{Z: 1}},
		{Piece: 3, Curvature: r3.Vec{Y: 1}},
		{Piece: 6, Curvature: r3.Vec{X: 0.2, Y: -0.4, Z: 0.3}},
	}
	const step = 1e-5 // as for clamped ends
	for _, way := range []struct{ base, end, bends bool }{{}, {end: true}, {base: true}, {bends: true}, {base: true, bends: true}, {end: true, bends: true}} {
		t.Run(fmt.Sprintf("%+v", way), func(t *testing.T) {
			slopes := [2][]beam.Slope{make([]beam.Slope, len(parameters)), make([]beam.Slope, len(parameters))}
			var slid [][2]float64
			var seat [6]beam.Slope
			middle := seatTwice(t, rod, base, seats, way.base, way.end, way.bends, func(s *beam.Solver) {
				if !s.SlotSlopes(parameters, nil, slopes[0]) {
					t.Fatal("no slopes")
				}
				for _, slope := range slopes[0] {
					slid = append(slid, slope.SlidMM)
				}
				var ok bool
				if seat, ok = s.SeatSlopes(nil); !ok {
					t.Fatal("no slopes by the seat")
				}
			})
			s := middle.solver
			if !s.SlotSlopes(parameters, slid, slopes[1]) {
				t.Fatal("no slopes")
			}
			compare := func(what string, got beam.Slope, low, high seatedTwice, k int) {
				difference := func(a, b r3.Vec) r3.Vec { return r3.Scale(1/(2*step), r3.Sub(b, a)) }
				if low.touch != middle.touch || high.touch != middle.touch {
					t.Fatalf("%s: contacts change", what)
				}
				tolerance := 2e-6 * (1 + r3.Norm(got.End.MomentNMM) + r3.Norm(got.Base.MomentNMM))
				for n, slope := range []beam.Wrench{got.Base, got.End} {
					nearVec(t, what+", force", slope.ForceN, difference(low.loads[k][n].ForceN, high.loads[k][n].ForceN), tolerance)
					nearVec(t, what+", moment", slope.MomentNMM, difference(low.loads[k][n].MomentNMM, high.loads[k][n].MomentNMM), tolerance)
				}
				nearVec(t, what+", end", got.EndShiftMM, difference(low.ends[k].At, high.ends[k].At), tolerance)
				for n := range 2 {
					if k == 0 {
						near(t, what+", slid", got.SlidMM[n], (high.slid[k][n]-low.slid[k][n])/(2*step), tolerance)
					}
				}
			}
			for i, p := range parameters {
				low := seatTwice(t, changed(rod, p, -step), base, seats, way.base, way.end, way.bends, nil)
				high := seatTwice(t, changed(rod, p, step), base, seats, way.base, way.end, way.bends, nil)
				for k := range seats {
					compare(fmt.Sprintf("parameter %d, seat %d", i, k), slopes[k][i], low, high, k)
				}
				slope := slopes[1][i]
				for n := range middle.nodes[1] {
					got := s.NodeSlope(n, i, &slope)
					a, b := low.nodes[1][n], high.nodes[1][n]
					tolerance := 2e-6 * (1 + r3.Norm(slope.End.MomentNMM) + r3.Norm(slope.Base.MomentNMM))
					nearVec(t, fmt.Sprintf("parameter %d, node %d, shift", i, n), got.ShiftMM, r3.Scale(1/(2*step), r3.Sub(b.Pose.At, a.Pose.At)), tolerance)
					nearVec(t, fmt.Sprintf("parameter %d, node %d, moment", i, n), got.MomentNMM, r3.Scale(1/(2*step), r3.Sub(b.MomentNMM, a.MomentNMM)), tolerance)
				}
			}
			_, endSlot, _ := tubes()
			for i, axis := range []r3.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
				moved := func(amount float64, turns bool) [2]beam.Pose {
					out := seats
					if turns {
						out[0] = from.Turned(r3.Scale(amount, axis))
						out[0].At = from.Along(endSlot.LeverMM).At
						out[0] = out[0].Along(-endSlot.LeverMM)
					} else {
						out[0].At = r3.Add(from.At, r3.Scale(amount, axis))
					}
					return out
				}
				for k, turns := range []bool{false, true} {
					low := seatTwice(t, rod, base, moved(-step, turns), way.base, way.end, way.bends, nil)
					high := seatTwice(t, rod, base, moved(step, turns), way.base, way.end, way.bends, nil)
					compare(fmt.Sprintf("seat, axis %d, turns %v", i, turns), seat[3*k+i], low, high, 0)
				}
			}
		})
	}
}
