package main

import (
	"math"
	"slices"
	"testing"

	"springwright/design/beam"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/optimize"
	"springwright/presets"
)

// TestRoomIsMesialAndDistalOfTheActiveSlot: what the measuring sheet calls J and K is what keeps
// the loop in, for a tooth behind its anchor and for one in front of it. There J lies beyond the
// tooth, away from the anchor, and K on the anchor's side.
func TestRoomIsMesialAndDistalOfTheActiveSlot(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("four searches")
	}
	const (
		tightMM, wideMM = 4.0, 9.0
		loopAboveMM     = 2.0  // legs lie lower
		roundingMM      = 1e-3 // of the search's own limit
	)
	for _, teeth := range []tooth.Pair{{Anchor: 36, Active: 37}, {Anchor: 37, Active: 36}} {
		for _, tightMesially := range []bool{true, false} {
			_, c, err := presets.Case(presets.Demo)
			if err != nil {
				t.Fatal(err)
			}
			c.Teeth, c.Bender.Springs = teeth, 0
			c.Limits.RoomMesialMM, c.Limits.RoomDistalMM = wideMM, tightMM
			if tightMesially {
				c.Limits.RoomMesialMM, c.Limits.RoomDistalMM = tightMM, wideMM
			}
			r, err := optimize.Search(t.Context(), c, optimize.Options{}) // kept in, met or not
			if err != nil {
				t.Fatal(err)
			}
			mesial := teeth.MesialSign()
			reached := map[bool]float64{true: math.Inf(-1), false: math.Inf(-1)} // mesially, distally
			for _, n := range beam.NewSolver(r.Spring.Rod(), beam.Origin(), beam.Options{}).AppendNodes(nil) {
				if at := n.Pose.At; at.Z > loopAboveMM {
					x := mesial * (at.X + c.AnchorSlot.LengthMM/2 - c.Goal.CentreMM.X)
					reached[true], reached[false] = max(reached[true], x), max(reached[false], -x)
				}
			}
			half := c.Wire.HeightMM() / 2
			if got := reached[tightMesially]; got > tightMM-half+roundingMM {
				t.Errorf("%v, tight mesially %v: the loop reaches %.2f mm there, room is %.2f mm", teeth, tightMesially, got, tightMM)
			}
			if got := reached[!tightMesially]; got <= tightMM {
				t.Errorf("%v, tight mesially %v: the loop reaches %.2f mm the other way, where it has %v mm: nothing tells the sides apart", teeth, tightMesially, got, wideMM)
			}
		}
	}
}

// TestRoomOnTheAnchorsSideIsKept: a loop that stands between the slots has the room that was measured
// on the anchor's side, where that is less than the way to the anchor.
func TestRoomOnTheAnchorsSideIsKept(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("a search")
	}
	_, c, err := presets.Case("open-vertical-loop")
	if err != nil {
		t.Fatal(err)
	}
	const roomMM, loopAboveMM, roundingMM = 5.0, 2.0, 1e-3
	c.Bender.Springs, c.Limits.RoomDistalMM = 0, roomMM
	c.Now.CentreMM.X, c.Goal.CentreMM.X = 11, 10 // short legs, which no pre-activation lifts as far as the loop
	r, err := optimize.Search(t.Context(), c, optimize.Options{})
	if err != nil {
		t.Fatal(err)
	}
	reachedMM := math.Inf(-1)
	for _, n := range beam.NewSolver(r.Spring.Rod(), beam.Origin(), beam.Options{}).AppendNodes(nil) {
		if at := n.Pose.At; at.Z > loopAboveMM {
			reachedMM = max(reachedMM, -c.Teeth.MesialSign()*(at.X+c.AnchorSlot.LengthMM/2-c.Goal.CentreMM.X))
		}
	}
	said := slices.ContainsFunc(r.Exceeded, func(e target.Excess) bool { return e.Limit == target.RoomDistalLimit })
	if reachedMM > roomMM-c.Wire.HeightMM()/2+roundingMM && !said {
		t.Errorf("the loop reaches %.2f mm distally, room is %.2f mm, and nothing says so", reachedMM, roomMM)
	}
}
