package beam_test

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"springwright/design/beam"
)

// Slopes by a move of the hold are those of central differences, for a clamped end, a
// hooked one, and such that slide.
func TestHoldSlopesAgainstDifferences(t *testing.T) {
	base := beam.Origin().Turned(r3.Vec{X: 0.4, Y: -0.2, Z: 0.9})
	base.At = r3.Vec{X: 3, Y: -2, Z: 7}
	rod := twistedLoop()
	options := beam.Options{StepMM: 1.53, StepRad: 0.41, Tolerance: 1e-13}
	axes := [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}
	for _, free := range []struct{ move, turn [3]bool }{
		{},
		{turn: [3]bool{true, true, true}},
		{move: [3]bool{true}, turn: [3]bool{true, true, true}},
		{move: [3]bool{false, true}},
	} {
		hold := twistedHold(base)
		hold.FreeMove, hold.FreeTurn = free.move, free.turn
		for _, rough := range []bool{false, true} {
			options := options
			options.RoughTangent = rough
			s := beam.NewSolver(rod, base, options)
			mustFollow(t, s, hold)
			slopes, ok := s.HoldSlopes(hold)
			if !ok {
				t.Fatal("no slopes at a stable solution")
			}
			const step = 1e-5 // second-order error and rounding are both near 1e-8 of the slopes
			for i, got := range slopes {
				var ends, bases [2]beam.Wrench
				for k, amount := range []float64{-step, step} {
					moved := hold
					if i < 3 {
						moved.Pose.At = r3.Add(hold.Pose.At, r3.Scale(amount, axes[i]))
					} else {
						moved.Pose = hold.Pose.Turned(r3.Scale(amount, axes[i-3]))
					}
					d := beam.NewSolver(rod, base, options)
					mustFollow(t, d, hold)
					mustFollow(t, d, moved)
					ends[k], bases[k] = d.EndLoad(), d.BaseLoad()
				}
				difference := func(low, high r3.Vec) r3.Vec { return r3.Scale(1/(2*step), r3.Sub(high, low)) }
				tolerance := 1e-6 * (1 + r3.Norm(got.End.MomentNMM) + r3.Norm(got.Base.MomentNMM))
				for _, pair := range []struct{ got, want r3.Vec }{
					{got.End.ForceN, difference(ends[0].ForceN, ends[1].ForceN)},
					{got.End.MomentNMM, difference(ends[0].MomentNMM, ends[1].MomentNMM)},
					{got.Base.ForceN, difference(bases[0].ForceN, bases[1].ForceN)},
					{got.Base.MomentNMM, difference(bases[0].MomentNMM, bases[1].MomentNMM)},
				} {
					if d := r3.Norm(r3.Sub(pair.got, pair.want)); d > tolerance {
						t.Errorf("free %v, rough %v, move %d: got %v, want %v", free, rough, i, pair.got, pair.want)
					}
				}
			}
		}
	}
}
