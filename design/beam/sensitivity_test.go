package beam_test

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"springwright/design/beam"
)

// changed adds an amount of a parameter to a rod.
func changed(rod beam.Rod, p beam.Parameter, amount float64) beam.Rod {
	pieces := append([]beam.Piece(nil), rod.Pieces...)
	pieces[p.Piece].LengthMM += amount * p.LengthMM
	pieces[p.Piece].Curvature = r3.Add(pieces[p.Piece].Curvature, r3.Scale(amount, p.Curvature))
	return beam.Rod{Section: rod.Section, Pieces: pieces}
}

// The slopes are those of the discrete solution: central differences find the same as
// long as the number of steps stays. No length or angle here lies at a whole number of
// the largest steps.
func TestSlopesAgainstDifferences(t *testing.T) {
	base := beam.Origin().Turned(r3.Vec{X: 0.4, Y: -0.2, Z: 0.9})
	base.At = r3.Vec{X: 3, Y: -2, Z: 7}
	rod := twistedLoop()
	hold := twistedHold(base)
	options := beam.Options{StepMM: 1.53, StepRad: 0.41, Tolerance: 1e-13}
	parameters := []beam.Parameter{
		{Piece: 0, LengthMM: 1},
		{Piece: 1, LengthMM: 1},
		{Piece: 4, LengthMM: 1},
		{Piece: 8, LengthMM: 1},
		{Piece: 1, Curvature: r3.Vec{Z: 1}},
		{Piece: 3, Curvature: r3.Vec{Y: 1}},
		{Piece: 4, Curvature: r3.Vec{X: 1}},
		{Piece: 6, Curvature: r3.Vec{X: 0.2, Y: -0.4, Z: 0.3}},
		{Piece: 7, LengthMM: 0.3, Curvature: r3.Vec{Z: -0.7}},
	}
	s := beam.NewSolver(rod, base, options)
	mustFollow(t, s, hold)
	slopes := make([]beam.Slope, len(parameters))
	if !s.Slopes(hold, parameters, slopes) {
		t.Fatal("no slopes at a stable solution")
	}

	const step = 1e-5 // second-order error and rounding are both near 1e-8 of the slopes
	for i, p := range parameters {
		var ends, bases [2]beam.Wrench
		var nodes [2][]beam.Node
		for k, amount := range []float64{-step, step} {
			d := beam.NewSolver(changed(rod, p, amount), base, options)
			mustFollow(t, d, hold)
			ends[k], bases[k] = d.EndLoad(), d.BaseLoad()
			nodes[k] = d.AppendNodes(nil)
		}
		if len(nodes[0]) != s.Nodes() || len(nodes[1]) != s.Nodes() {
			t.Fatalf("parameter %d changes the number of steps", i)
		}
		difference := func(low, high r3.Vec) r3.Vec { return r3.Scale(1/(2*step), r3.Sub(high, low)) }
		tolerance := 1e-6 * (1 + r3.Norm(slopes[i].End.MomentNMM) + r3.Norm(slopes[i].Base.MomentNMM))
		nearVec(t, "end force", slopes[i].End.ForceN, difference(ends[0].ForceN, ends[1].ForceN), tolerance)
		nearVec(t, "end moment", slopes[i].End.MomentNMM, difference(ends[0].MomentNMM, ends[1].MomentNMM), tolerance)
		nearVec(t, "base force", slopes[i].Base.ForceN, difference(bases[0].ForceN, bases[1].ForceN), tolerance)
		nearVec(t, "base moment", slopes[i].Base.MomentNMM, difference(bases[0].MomentNMM, bases[1].MomentNMM), tolerance)
		for n := range s.Nodes() {
			low, high := &nodes[0][n], &nodes[1][n]
			got := s.NodeSlope(n, i, &slopes[i])
			nearVec(t, "node shift", got.ShiftMM, difference(low.Pose.At, high.Pose.At), tolerance)
			nearVec(t, "node turn", got.TurnRad, difference(r3.Vec{}, beam.RotationBetween(low.Pose, high.Pose)), tolerance)
			nearVec(t, "node moment", got.MomentNMM, difference(low.MomentNMM, high.MomentNMM), tolerance)
		}
	}
}

// A planar wire whose end can slide has slopes too; the sliding force stays zero.
func TestSlopesOfASlidingEnd(t *testing.T) {
	rod := verticalLoop(titaniumWire())
	end := rod.UnloadedEnd(beam.Origin())
	end.At.Y += 0.8
	hold := beam.Hold{Pose: end, FreeMove: [3]bool{true, false, false}}
	options := beam.Options{StepMM: 1.7, StepRad: 0.41, Tolerance: 1e-13}
	s := beam.NewSolver(rod, beam.Origin(), options)
	mustFollow(t, s, hold)
	parameters := []beam.Parameter{{Piece: 2, LengthMM: 1}, {Piece: 5, Curvature: r3.Vec{Z: 1}}}
	slopes := make([]beam.Slope, 2)
	if !s.Slopes(hold, parameters, slopes) {
		t.Fatal("no slopes at a stable solution")
	}
	const step = 1e-5
	for i, p := range parameters {
		var loads [2]beam.Wrench
		for k, amount := range []float64{-step, step} {
			d := beam.NewSolver(changed(rod, p, amount), beam.Origin(), options)
			mustFollow(t, d, hold)
			loads[k] = d.EndLoad()
		}
		nearWrench(t, "end load", slopes[i].End, beam.Wrench{
			ForceN:    r3.Scale(1/(2*step), r3.Sub(loads[1].ForceN, loads[0].ForceN)),
			MomentNMM: r3.Scale(1/(2*step), r3.Sub(loads[1].MomentNMM, loads[0].MomentNMM)),
		}, 1e-4)
		near(t, "sliding force", slopes[i].End.ForceN.X, 0, 1e-9)
	}
}
