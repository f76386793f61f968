package solve

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// A plane loop in two slots with clearance in height against the same loop solved as a solid by
// CalculiX, the edges of the slots as gaps and the wire as elastic between them as outside
// (testdata/loopinslots.py): forces, couples and which edges the wire touches. Rigid inside, the solid's
// forces were larger by a sixth.
func TestClearanceAgainstASolid(t *testing.T) {
	t.Parallel()
	data, err := os.ReadFile("testdata/loopinslots.json")
	if err != nil {
		t.Fatal(err)
	}
	var solid struct {
		Positions []struct {
			AtMM   [3]float64            `json:"at_mm"`
			TipRad float64               `json:"tip_rad"`
			OnWire map[string][2]float64 `json:"on_wire_n"`
		} `json:"positions"`
	}
	if err := json.Unmarshal(data, &solid); err != nil {
		t.Fatal(err)
	}
	if len(solid.Positions) < 3 {
		t.Fatal("positions are missing")
	}
	slot := spring.SlotHold{Play: true, Shifts: true, HeightMM: 0.5588}
	for i, want := range solid.Positions {
		s := spring.Spring{
			Path: spring.PathOf(
				spring.StraightStep(4), spring.BendStep(math.Pi/2, 0.97), spring.StraightStep(5), spring.BendStep(-math.Pi/2, 0.97), spring.StraightStep(3),
				spring.BendStep(-math.Pi/2+0.1, 0.97), spring.StraightStep(5), spring.BendStep(math.Pi/2, 0.97), spring.StraightStep(4),
			),
			Wire: betaTitanium(), AnchorSlotLengthMM: 4, ActiveSlotLengthMM: 3.5, AnchorHold: slot, ActiveHold: slot,
			Start: spring.Seat{AtMM: r3.Vec{X: want.AtMM[0], Z: want.AtMM[2]}, Rotation: r3.Vec{Y: want.TipRad}}, Positions: 1,
		}
		p := evaluated(t, s).Record.Positions[0]
		if roll := math.Abs(p.Play.Anchor.TurnRad.X) + math.Abs(p.Play.Active.TurnRad.X); roll > 1e-6 {
			t.Fatalf("position %d: the wire leaves its plane by %g rad", i+1, roll)
		}
		for _, side := range []struct {
			name   string
			load   tooth.Load
			state  spring.SlotState
			halfMM float64
			front  float64 // where the mouth with the free wire lies from the centre
		}{{"anchor", p.Anchor, p.Play.Anchor, 2, 1}, {"active", p.Active, p.Play.Active, 1.75, -1}} {
			front, back, centre := want.OnWire[side.name+" front"], want.OnWire[side.name+" back"], want.OnWire[side.name+" centre"]
			force := r3.Vec{X: -(front[0] + back[0] + centre[0]), Z: -(front[1] + back[1])}
			couple := side.front * side.halfMM * (front[1] - back[1]) // about y, on the tooth: r × F has −x·Fz
			// The rod itself is within half a percent of solids (see package beam); what the walls give
			// and the places of the edges, which the play puts 0.004 mm farther out, stay below that. To
			// bending between the edges, a sixth of the forces, beam theory adds what a solid of a
			// length of eight times its height does otherwise.
			const share = 0.008
			size := share * r3.Norm(force)
			within(t, side.name+", force along", side.load.ForceN.X, force.X, size)
			within(t, side.name+", force across", side.load.ForceN.Z, force.Z, size)
			// The couples of the two slots balance with the force over the distance between them, some
			// 17 mm: a share of that force changes them by so much.
			within(t, side.name+", couple", side.load.CoupleNMM.Y, couple, 17*size)
			touching := 0
			for _, edge := range [][2]float64{front, back} {
				if edge[1] != 0 {
					touching++
				}
			}
			switch {
			case touching < 2 && side.state.SecondOrder != spring.OneEdge,
				touching == 2 && front[1]*back[1] > 0 && side.state.SecondOrder != spring.AlongWall,
				touching == 2 && front[1]*back[1] < 0 && side.state.SecondOrder != spring.PlusWall && side.state.SecondOrder != spring.MinusWall:
				t.Errorf("position %d, %s: lies %v, as a solid on %d edges: %v, %v N", i+1, side.name, side.state.SecondOrder, touching, front, back)
			}
		}
	}
}
