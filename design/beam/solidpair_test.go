package beam_test

import (
	"encoding/json"
	"os"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"springwright/design/beam"
)

// What a bend that is off by three degrees changes in the loads, against two solids in one seat:
// testdata/solid3d-pair.py made them.
func TestChangedBendAgainstSolids(t *testing.T) {
	text, err := os.ReadFile("testdata/solid3d-pair.json")
	if err != nil {
		t.Fatal(err)
	}
	var solids []struct {
		ThirdBendDeg   float64    `json:"third_bend_deg"`
		ForceOnTooth   [3]float64 `json:"force_on_tooth_n"`
		CoupleOnTooth  [3]float64 `json:"couple_on_tooth_nmm"`
		ForceOnAnchor  [3]float64 `json:"force_on_anchor_n"`
		CoupleOnAnchor [3]float64 `json:"couple_on_anchor_nmm"`
	}
	if err := json.Unmarshal(text, &solids); err != nil {
		t.Fatal(err)
	}
	if len(solids) != 2 {
		t.Fatalf("%d solids", len(solids))
	}
	base := beam.Origin()
	var seat beam.Pose
	type loads struct{ force, couple, anchorCouple r3.Vec }
	var rods, bricks [2]loads
	for i, solid := range solids {
		made := solidSpring{WidthMM: 0.635, ThicknessMM: 0.4318, EMPa: 65000, Poisson: 0.3, Path: []solidStep{
			{Straight: 4},
			{Bend: 90, Radius: 0.6, Order: 2},
			{Straight: 8},
			{Bend: -90, Radius: 0.6, Order: 2},
			{Straight: 10},
			{Bend: solid.ThirdBendDeg, Radius: 0.6, Order: 2},
			{Straight: 8},
			{Bend: -90, Radius: 0.6, Order: 2},
			{Straight: 5},
		}}
		rod := made.rod(t)
		if i == 0 {
			seat = rod.UnloadedEnd(base)
			seat.At = r3.Add(seat.At, r3.Vec{Z: -3})
		}
		s := beam.NewSolver(rod, base, beam.Options{StepMM: 0.5, StepRad: 0.2})
		mustFollow(t, s, beam.Clamp(seat))
		rods[i] = loads{r3.Scale(-1, s.EndLoad().ForceN), r3.Scale(-1, s.EndLoad().MomentNMM), r3.Scale(-1, s.BaseLoad().MomentNMM)}
		bricks[i] = loads{vec(solid.ForceOnTooth), vec(solid.CoupleOnTooth), vec(solid.CoupleOnAnchor)}
		t.Logf("third bend %v°: rod %.4f, solid %.4f", solid.ThirdBendDeg, rods[i], bricks[i])
	}
	change := func(of [2]loads) loads {
		return loads{r3.Sub(of[1].force, of[0].force), r3.Sub(of[1].couple, of[0].couple), r3.Sub(of[1].anchorCouple, of[0].anchorCouple)}
	}
	rod, solid := change(rods), change(bricks)
	t.Logf("change: rod %.4f, solid %.4f", rod, solid)
	// As the loads themselves: bends as sharp as these are stiffer than a straight bar (TestAgainstSolids).
	const allowed = 0.010
	larger := max(r3.Norm(solid.couple), r3.Norm(solid.anchorCouple))
	near(t, "change of the force", r3.Norm(r3.Sub(rod.force, solid.force))/r3.Norm(solid.force), 0, allowed)
	near(t, "change of the couple", r3.Norm(r3.Sub(rod.couple, solid.couple))/larger, 0, allowed)
	near(t, "change of the anchor's couple", r3.Norm(r3.Sub(rod.anchorCouple, solid.anchorCouple))/larger, 0, allowed)
}
