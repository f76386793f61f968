package beam_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"springwright/design/beam"
)

// invariantOptions solve so closely that what the laws of this file leave is rounding. The
// laws themselves hold for the discrete solution at any step length.
func invariantOptions() beam.Options { return beam.Options{Tolerance: 1e-13} }

// twistedLoop is a box loop out of its plane, with a twisted piece and no symmetry.
func twistedLoop() beam.Rod {
	rod := boxLoop(titaniumWire())
	rod.Pieces[4].Curvature = r3.Vec{X: 0.1}
	rod.Pieces[6].Curvature = r3.Vec{Y: 0.03, Z: -0.02}
	return rod
}

// twistedHold moves and turns its end.
func twistedHold(base beam.Pose) beam.Hold {
	return moved(twistedLoop(), base,
		base.ToGlobal(r3.Vec{X: 0.7, Y: -0.4, Z: 0.9}), base.ToGlobal(r3.Vec{X: 0.1, Y: -0.08, Z: 0.12}))
}

func solved(t *testing.T, rod beam.Rod, base beam.Pose, hold beam.Hold) *beam.Solver {
	t.Helper()
	s := beam.NewSolver(rod, base, invariantOptions())
	mustFollow(t, s, hold)
	return s
}

// Forces and moments on the whole wire balance, and so they do at every node.
func TestEquilibrium(t *testing.T) {
	base := beam.Origin()
	s := solved(t, twistedLoop(), base, twistedHold(base))
	end, from := s.EndLoad(), s.BaseLoad()
	about := end.About(s.End().At, base.At)
	nearVec(t, "sum of forces", r3.Add(end.ForceN, from.ForceN), r3.Vec{}, 1e-12)
	nearVec(t, "sum of moments", r3.Add(about.MomentNMM, from.MomentNMM), r3.Vec{}, 1e-11)
	for _, node := range s.AppendNodes(nil) {
		behind := beam.Wrench{
			ForceN:    node.Pose.ToGlobal(node.ForceN),
			MomentNMM: node.Pose.ToGlobal(node.MomentNMM),
		}
		nearWrench(t, "internal load", behind.About(node.Pose.At, s.End().At), end, 1e-11)
	}
}

// The end is where the hold puts it.
func TestEndIsHeld(t *testing.T) {
	base := beam.Origin()
	hold := twistedHold(base)
	s := solved(t, twistedLoop(), base, hold)
	nearVec(t, "place", s.End().At, hold.Pose.At, 1e-10)
	nearVec(t, "turn", beam.RotationBetween(hold.Pose, s.End()), r3.Vec{}, 1e-10)
}

// Moving and turning the whole problem moves and turns the answer.
func TestObjectivity(t *testing.T) {
	want := solved(t, twistedLoop(), beam.Origin(), twistedHold(beam.Origin()))
	for _, rotation := range []r3.Vec{{X: 0.3, Y: -1.1, Z: 0.7}, {X: -2, Y: 1, Z: 2}, {Z: math.Pi}} {
		base := beam.Origin().Turned(rotation)
		base.At = r3.Vec{X: 40, Y: -25, Z: 13}
		got := solved(t, twistedLoop(), base, twistedHold(base))
		for _, load := range []struct{ got, want beam.Wrench }{
			{got.EndLoad(), want.EndLoad()},
			{got.BaseLoad(), want.BaseLoad()},
		} {
			nearWrench(t, "load", load.got, beam.Wrench{
				ForceN:    beam.Rotate(rotation, load.want.ForceN),
				MomentNMM: beam.Rotate(rotation, load.want.MomentNMM),
			}, 1e-9)
		}
	}
}

// The same for an end that is free in some components, which belong to the hold's own axes.
func TestObjectivityOfAFreeEnd(t *testing.T) {
	answer := func(base beam.Pose) *beam.Solver {
		hold := twistedHold(base)
		hold.FreeMove = [3]bool{true, false, false}
		hold.FreeTurn = [3]bool{false, true, false}
		hold.Load = beam.Wrench{ForceN: r3.Vec{X: 0.3}, MomentNMM: r3.Vec{Y: -0.5}}
		return solved(t, twistedLoop(), base, hold)
	}
	want := answer(beam.Origin())
	axes := twistedHold(beam.Origin()).Pose
	near(t, "force along the free axis", r3.Dot(axes.D1, want.EndLoad().ForceN), 0.3, 1e-10)
	near(t, "moment about the free axis", r3.Dot(axes.D2, want.EndLoad().MomentNMM), -0.5, 1e-10)
	shift := r3.Sub(want.End().At, axes.At)
	near(t, "shift along a held axis", math.Hypot(r3.Dot(axes.D2, shift), r3.Dot(axes.D3, shift)), 0, 1e-10)

	rotation := r3.Vec{X: 0.3, Y: -1.1, Z: 0.7}
	base := beam.Origin().Turned(rotation)
	base.At = r3.Vec{X: -4, Y: 25, Z: 13}
	got := answer(base)
	nearVec(t, "force", got.EndLoad().ForceN, beam.Rotate(rotation, want.EndLoad().ForceN), 1e-9)
	nearVec(t, "base moment", got.BaseLoad().MomentNMM, beam.Rotate(rotation, want.BaseLoad().MomentNMM), 1e-9)
}

// reversed runs a rod from its last end to its first: d1 and d3 turn round.
func reversed(rod beam.Rod) beam.Rod {
	out := beam.Rod{Section: rod.Section}
	for i := len(rod.Pieces) - 1; i >= 0; i-- {
		p := rod.Pieces[i]
		// −κ on the axes (−d1, d2, −d3).
		p.Curvature = r3.Vec{X: p.Curvature.X, Y: -p.Curvature.Y, Z: p.Curvature.Z}
		out.Pieces = append(out.Pieces, p)
	}
	return out
}

func aboutFace(p beam.Pose) beam.Pose {
	p.D1, p.D3 = r3.Scale(-1, p.D1), r3.Scale(-1, p.D3)
	return p
}

// The same wire solved from its other end swaps the loads. The steps start at their other
// ends, so the two differ by the integration error.
func TestReversal(t *testing.T) {
	base := beam.Origin()
	hold := twistedHold(base)
	forward := beam.NewSolver(twistedLoop(), base, fine())
	mustFollow(t, forward, hold)

	// The reversed wire is clamped where the first one lies unloaded; its far end then takes
	// the inverse of the movement, seen from the held end.
	rod := reversed(twistedLoop())
	start := aboutFace(hold.Pose)
	backward := beam.NewSolver(rod, start, fine())
	mustFollow(t, backward, beam.Clamp(aboutFace(base)))
	nearWrench(t, "end of the one", forward.EndLoad(), backward.BaseLoad(), 1e-6)
	nearWrench(t, "base of the one", forward.BaseLoad(), backward.EndLoad(), 1e-6)
}

// mirrorZ reflects a vector in the x–y plane; an axial vector also changes its sign.
func mirrorZ(v r3.Vec) r3.Vec { return r3.Vec{X: v.X, Y: v.Y, Z: -v.Z} }

func mirrorAxialZ(v r3.Vec) r3.Vec { return r3.Vec{X: -v.X, Y: -v.Y, Z: v.Z} }

// A mirrored wire under a mirrored movement carries mirrored loads.
func TestMirror(t *testing.T) {
	base := beam.Origin()
	rod := twistedLoop()
	shift, rotation := r3.Vec{X: 0.7, Y: -0.4, Z: 0.9}, r3.Vec{X: 0.1, Y: -0.08, Z: 0.12}
	want := solved(t, rod, base, moved(rod, base, shift, rotation))

	mirrored := beam.Rod{Section: rod.Section}
	for _, p := range rod.Pieces {
		p.Curvature = mirrorAxialZ(p.Curvature)
		mirrored.Pieces = append(mirrored.Pieces, p)
	}
	got := solved(t, mirrored, base, moved(mirrored, base, mirrorZ(shift), mirrorAxialZ(rotation)))
	nearVec(t, "force", got.EndLoad().ForceN, mirrorZ(want.EndLoad().ForceN), 1e-9)
	nearVec(t, "end moment", got.EndLoad().MomentNMM, mirrorAxialZ(want.EndLoad().MomentNMM), 1e-9)
	nearVec(t, "base moment", got.BaseLoad().MomentNMM, mirrorAxialZ(want.BaseLoad().MomentNMM), 1e-9)
}

// Clamped loads do not depend on the way there.
func TestPathIndependence(t *testing.T) {
	base := beam.Origin()
	rod := twistedLoop()
	direct := solved(t, rod, base, twistedHold(base))
	detour := solved(t, rod, base, moved(rod, base, r3.Vec{X: -0.8, Y: 1.5, Z: -1}, r3.Vec{Y: 0.3}))
	mustFollow(t, detour, moved(rod, base, r3.Vec{X: 2, Y: 0.3, Z: 2}, r3.Vec{X: -0.3, Z: -0.2}))
	mustFollow(t, detour, twistedHold(base))
	nearWrench(t, "end load", detour.EndLoad(), direct.EndLoad(), 1e-9)
	nearWrench(t, "base load", detour.BaseLoad(), direct.BaseLoad(), 1e-9)
}

// A rough tangent changes the way to the solution, not the solution, nor the slopes.
func TestRoughTangent(t *testing.T) {
	base := beam.Origin()
	rod, hold := twistedLoop(), twistedHold(base)
	exact := solved(t, rod, base, hold)
	options := invariantOptions()
	options.RoughTangent = true
	rough := beam.NewSolver(rod, base, options)
	mustFollow(t, rough, hold)
	nearWrench(t, "end load", rough.EndLoad(), exact.EndLoad(), 1e-9)

	parameters := []beam.Parameter{{Piece: 1, Curvature: r3.Vec{Z: 1}}}
	var want, got [1]beam.Slope
	if !exact.Slopes(hold, parameters, want[:]) || !rough.Slopes(hold, parameters, got[:]) {
		t.Fatal("no slopes at a stable solution")
	}
	nearWrench(t, "slope", got[0].End, want[0].End, 1e-9)
}

// The wire comes back to rest where it lay unloaded.
func TestReturnToRest(t *testing.T) {
	base := beam.Origin()
	rod := twistedLoop()
	s := solved(t, rod, base, twistedHold(base))
	mustFollow(t, s, beam.Clamp(rod.UnloadedEnd(base)))
	nearWrench(t, "end load", s.EndLoad(), beam.Wrench{}, 1e-9)
}
