package solve

import (
	"math"
	"testing"

	"springwright/design/beam"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// A spring whose sections have crept by a share of their curvature at the first seat, solved as
// a wire of that new shape: what AfterFirstDay makes of the loads of the old one.
func TestLoadsAfterTheFirstDay(t *testing.T) {
	t.Parallel()
	const loss = 0.08
	s := cornerLoop(1.2)
	s.Wire.Alloy = "beta-titanium"
	s.Start.AtMM.Z -= 0.4
	s.Start.Rotation.Y = 0.1
	s.Positions = 4
	options := beam.Options{StepMM: 0.1, StepRad: 0.1}
	fresh := beam.NewSolver(s.Rod(), beam.Origin(), options)
	if err := fresh.Follow(s.HoldAt(s.SeatAt(0))); err != nil {
		t.Fatal(err)
	}
	crept := beam.Rod{Section: s.Wire.Section()}
	pieces, section := s.Path.Pieces(), s.Wire.Section()
	nodes := fresh.AppendNodes(nil)
	for i := 1; i < len(nodes); i++ {
		m := r3.Scale(0.5, r3.Add(nodes[i-1].MomentNMM, nodes[i].MomentNMM))
		crept.Pieces = append(crept.Pieces, beam.Piece{
			LengthMM:  nodes[i].ArcMM - nodes[i-1].ArcMM,
			Curvature: r3.Add(pieces[nodes[i].Piece].Curvature, r3.Scale(loss, r3.Vec{X: m.X / section.GJ, Y: m.Y / section.EI2, Z: m.Z / section.EI3})),
		})
	}
	day := beam.NewSolver(crept, beam.Origin(), options)
	record := solvedBelowYield(t, s).Record
	if want, _ := wire.LookUp("beta-titanium"); record.FirstDayLoss != want.FirstDayLoss || !record.FirstDayLoss.Known() {
		t.Errorf("loss of the first day: %+v", record.FirstDayLoss)
	}
	first := record.Positions[0].Active
	for i, p := range record.Positions {
		seat := s.SeatAt(i)
		if err := day.Follow(s.HoldAt(seat)); err != nil {
			t.Fatal(err)
		}
		active, anchor := record.AfterFirstDay(i, loss)
		wantActive := s.ActiveLoad(day.EndLoad(), day.End().At, seat.Pose(s.Heading))
		wantAnchor := s.AnchorLoad(day.BaseLoad())
		t.Logf("position %d: fresh %.4f, after a day %.4f, want %.4f", i, p.Active, active, wantActive)
		// A tenth of what is lost, by the loop's change of shape along the travel.
		if d := r3.Norm(r3.Sub(active.ForceN, wantActive.ForceN)); d > 0.1*loss*r3.Norm(first.ForceN) {
			t.Errorf("position %d: force %v, want %v", i, active.ForceN, wantActive.ForceN)
		}
		if d := r3.Norm(r3.Sub(anchor.CoupleNMM, wantAnchor.CoupleNMM)); d > 0.1*loss*r3.Norm(record.Positions[0].Anchor.CoupleNMM) {
			t.Errorf("position %d: couple on the anchor %v, want %v", i, anchor.CoupleNMM, wantAnchor.CoupleNMM)
		}
		if sum := r3.Norm(r3.Add(active.ForceN, anchor.ForceN)); sum > 1e-6 {
			t.Errorf("position %d: forces on the teeth sum to %g N", i, sum)
		}
	}
	ratio := func(f, m float64) float64 { return m / f }
	active, _ := record.AfterFirstDay(0, loss)
	if a, b := ratio(first.ForceN.X, first.CoupleNMM.Y), ratio(active.ForceN.X, active.CoupleNMM.Y); math.Abs(a-b) > 1e-12*math.Abs(a) {
		t.Errorf("moment to force: %g mm, after a day %g mm", a, b)
	}
}
