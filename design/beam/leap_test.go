package beam_test

import (
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"springwright/design/beam"
)

// One long way and many short ones lead to the same branch of equilibria: Follow cuts the
// way itself where the wire needs it.
func TestLeapStaysOnItsBranch(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	vector := func(size float64) r3.Vec {
		return r3.Scale(size, r3.Vec{X: random.NormFloat64(), Y: random.NormFloat64(), Z: random.NormFloat64()})
	}
	base := beam.Origin()
	compared := 0
	for range 40 {
		rod := twistedLoop()
		shift, rotation := vector(2.5), vector(0.4)
		leap := beam.NewSolver(rod, base, coarse())
		leapErr := leap.Follow(moved(rod, base, shift, rotation))

		const parts = 32
		walk := beam.NewSolver(rod, base, coarse())
		var walkErr error
		for i := 1; i <= parts && walkErr == nil; i++ {
			share := float64(i) / parts
			walkErr = walk.Follow(moved(rod, base, r3.Scale(share, shift), r3.Scale(share, rotation)))
		}
		if (leapErr == nil) != (walkErr == nil) {
			t.Errorf("moved %v, turned %v: leap %v, walk %v", shift, rotation, leapErr, walkErr)
			continue
		}
		if leapErr == nil {
			nearWrench(t, "end load", leap.EndLoad(), walk.EndLoad(), 1e-4) // the solver's tolerance
			compared++
		}
	}
	if compared < 20 {
		t.Errorf("only %d of 40 ways could be followed", compared)
	}
	t.Logf("%d of 40 ways could be followed", compared)
}
