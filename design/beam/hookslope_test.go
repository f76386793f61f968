package beam_test

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"springwright/design/beam"
)

// The slopes of a wire whose end is held at a point and turns as it likes: its couple stays
// zero, and the rest follows differences. With a slide its force stays zero, too.
func TestSlopesOfAHookedEnd(t *testing.T) {
	rod := twistedLoop()
	for _, slides := range []bool{false, true} {
		hold := twistedHold(beam.Origin())
		hold.FreeTurn = [3]bool{true, true, true}
		hold.FreeMove[0] = slides
		options := beam.Options{StepMM: 1.53, StepRad: 0.41, Tolerance: 1e-13}
		parameters := []beam.Parameter{
			{Piece: 0, LengthMM: 1},
			{Piece: 4, LengthMM: 1},
			{Piece: 3, Curvature: r3.Vec{Y: 1}},
			{Piece: 4, Curvature: r3.Vec{X: 1}},
			{Piece: 7, LengthMM: 0.3, Curvature: r3.Vec{Z: -0.7}},
		}
		s := beam.NewSolver(rod, beam.Origin(), options)
		mustFollow(t, s, hold)
		slopes := make([]beam.Slope, len(parameters))
		if !s.Slopes(hold, parameters, slopes) {
			t.Fatal("no slopes at a stable solution")
		}
		const step = 1e-5 // second-order error and rounding are both near 1e-8 of the slopes
		for i, p := range parameters {
			var ends [2]beam.Wrench
			var nodes [2][]beam.Node
			for k, amount := range []float64{-step, step} {
				d := beam.NewSolver(changed(rod, p, amount), beam.Origin(), options)
				mustFollow(t, d, hold)
				ends[k], nodes[k] = d.EndLoad(), d.AppendNodes(nil)
			}
			difference := func(low, high r3.Vec) r3.Vec { return r3.Scale(1/(2*step), r3.Sub(high, low)) }
			tolerance := 1e-6 * (1 + r3.Norm(slopes[i].Base.MomentNMM))
			nearVec(t, "end force", slopes[i].End.ForceN, difference(ends[0].ForceN, ends[1].ForceN), tolerance)
			nearVec(t, "end moment", slopes[i].End.MomentNMM, r3.Vec{}, 1e-9)
			for n := range s.Nodes() {
				low, high := &nodes[0][n], &nodes[1][n]
				got := s.NodeSlope(n, i, &slopes[i])
				nearVec(t, "node shift", got.ShiftMM, difference(low.Pose.At, high.Pose.At), tolerance)
				nearVec(t, "node moment", got.MomentNMM, difference(low.MomentNMM, high.MomentNMM), tolerance)
			}
		}
	}
}
