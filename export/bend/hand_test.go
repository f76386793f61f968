package bend

import (
	"bytes"
	"encoding/csv"
	"math"
	"math/rand/v2"
	"strconv"
	"testing"

	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// Worked out by hand, as for the axes in package tooth. You sit in front of the patient's
// cheek with the wire as it lies on the teeth. On the patient's right the front of the mouth
// is at your right hand, on the left at your left; roots are up in the upper jaw and down in
// the lower. The anchor end is in the left hand where the active tooth lies to your right.
//
// Apical is up in the upper jaw: the line, on top, stays up to bend there; in the lower jaw
// the wire is turned over. What is towards the cheek faces you: its side comes up when the
// top goes away; what is towards the tongue comes up when the top comes towards you. y is
// the cheek or the tongue as the table of package tooth says. A right-handed turn about
// what points right carries the top towards you, about what points left away from you.
var hands = []struct {
	pair                tooth.Pair
	anchorLeft          bool
	top                 string
	apical, occlusal    Facing
	plusY, minusY       Facing
	rightHandedTopToYou bool
	distally, mesially  float64 // along x
	buccally            float64 // along y
	outward, inward     string
}{
	{tooth.Pair{Anchor: 16, Active: 17}, false, "apical", FacesUp, FacesDown, FacesAway, FacesYou, false, 1, -1, 1, "buccal", "palatal"},
	{tooth.Pair{Anchor: 17, Active: 16}, true, "apical", FacesUp, FacesDown, FacesYou, FacesAway, true, -1, 1, -1, "buccal", "palatal"},
	{tooth.Pair{Anchor: 26, Active: 27}, true, "apical", FacesUp, FacesDown, FacesYou, FacesAway, true, 1, -1, -1, "buccal", "palatal"},
	{tooth.Pair{Anchor: 26, Active: 23}, false, "apical", FacesUp, FacesDown, FacesAway, FacesYou, false, -1, 1, 1, "labial", "palatal"},
	{tooth.Pair{Anchor: 36, Active: 37}, true, "occlusal", FacesDown, FacesUp, FacesAway, FacesYou, true, 1, -1, 1, "buccal", "lingual"},
	{tooth.Pair{Anchor: 37, Active: 36}, false, "occlusal", FacesDown, FacesUp, FacesYou, FacesAway, false, -1, 1, -1, "buccal", "lingual"},
	{tooth.Pair{Anchor: 46, Active: 47}, false, "occlusal", FacesDown, FacesUp, FacesYou, FacesAway, false, 1, -1, -1, "buccal", "lingual"},
	{tooth.Pair{Anchor: 46, Active: 43}, true, "incisal", FacesDown, FacesUp, FacesAway, FacesYou, true, -1, 1, 1, "labial", "lingual"},
}

func TestHandInAllQuadrants(t *testing.T) {
	bent := func(order int, rad float64) spring.Step {
		return spring.Step{Kind: spring.Bend, AngleRad: rad, RadiusMM: 1, Order: order}
	}
	for _, h := range hands {
		of := func(s spring.Step) (Table, Row) {
			table := TableOf(spring.Spring{Path: spring.PathOf(s)}, h.pair)
			return table, table.Rows[0]
		}
		for _, c := range []struct {
			what string
			step spring.Step
			line Facing
			to   string
		}{
			{"apically", bent(2, 0.4), h.apical, "apical"},
			{"occlusally", bent(2, -0.4), h.occlusal, ViewOf(h.pair).OcclusalWord()},
			{"towards +y", bent(1, 0.4), h.plusY, map[bool]string{true: h.outward, false: h.inward}[h.buccally > 0]},
			{"towards −y", bent(1, -0.4), h.minusY, map[bool]string{true: h.outward, false: h.inward}[h.buccally < 0]},
		} {
			table, row := of(c.step)
			if row.Line != c.line || row.Towards != c.to || table.AnchorLeft != h.anchorLeft {
				t.Errorf("%v, bent %s: line %v, towards %s, anchor left %v; want %v, %s, %v", h.pair, c.what, row.Line, row.Towards, table.AnchorLeft, c.line, c.to, h.anchorLeft)
			}
		}
		for _, rad := range [...]float64{0.3, -0.3} {
			_, row := of(spring.Step{Kind: spring.Twist, AngleRad: rad, LengthMM: 2})
			if want := (rad > 0) == h.rightHandedTopToYou; row.TopToYou != want || row.Line != FacesUp {
				t.Errorf("%v, twisted by %v: top towards you %v, want %v; line %v, want up", h.pair, rad, row.TopToYou, want, row.Line)
			}
		}
		v := ViewOf(h.pair)
		if v.TopWord() != h.top {
			t.Errorf("%v: the top is %s, want %s", h.pair, v.TopWord(), h.top)
		}
		for d, want := range map[r3.Vec]string{
			{X: h.distally}: "distal", {X: h.mesially}: "mesial", {Z: 1}: "apical", {Z: -1}: v.OcclusalWord(),
			{Y: h.buccally}: h.outward, {Y: -h.buccally}: h.inward,
			{X: 0.6 * h.mesially, Y: -0.64 * h.buccally, Z: 0.48}: h.inward + ", 43° mesial, 37° apical",
		} {
			if got := v.Direction(d).String(); got != want {
				t.Errorf("%v: %v is %q, want %q", h.pair, d, got, want)
			}
		}
	}
}

// In the plane seen from the cheek the line is up where the wire, followed to the right,
// goes left, and the same is down where it is followed to the left.
func TestHandAgreesWithLeftAndRight(t *testing.T) {
	random := rand.New(rand.NewPCG(2, 9))
	for _, h := range hands {
		var steps spring.Steps
		for range 12 {
			steps = append(steps, spring.StraightStep(1+random.Float64()), spring.BendStep(4*(random.Float64()-0.5), 1))
		}
		for _, r := range TableOf(spring.Spring{Path: spring.PathOf(steps...)}, h.pair).Rows {
			if left := r.SeenRad > 0; (r.Line == FacesUp) != (left == h.anchorLeft) || r.Line == FacesYou || r.Line == FacesAway {
				t.Errorf("%v: a bend seen as %v rad with the line %v", h.pair, r.SeenRad, r.Line)
			}
		}
	}
}

// The hand's axes: right-handed, the bend goes up, and the line of a straight wire is where
// the row says.
func TestHeld(t *testing.T) {
	for _, h := range hands {
		v := ViewOf(h.pair)
		for order := 1; order <= 2; order++ {
			for _, rad := range [...]float64{0.5, -0.5} {
				s := spring.Step{Kind: spring.Bend, AngleRad: rad, RadiusMM: 1, Order: order}
				right, up, toYou := v.Held(s, beam.Origin())
				if got := r3.Cross(right, up); r3.Norm(r3.Sub(got, toYou)) > 1e-12 {
					t.Errorf("%v: right × up is %v, towards you %v", h.pair, got, toYou)
				}
				if bent := beam.Origin().Advance(spring.PathOf(s).Pieces()[0].Curvature, 0.5); r3.Dot(bent.D1, up) <= 0 {
					t.Errorf("%v, order %d, %v rad: bent down", h.pair, order, rad)
				}
				if (right.X > 0) != h.anchorLeft {
					t.Errorf("%v: x at the right hand is %v, want %v", h.pair, right.X > 0, h.anchorLeft)
				}
				line := r3.Vec{Z: 1} // apical
				if h.top != "apical" {
					line.Z = -1
				}
				faces := map[Facing]r3.Vec{FacesUp: up, FacesYou: toYou, FacesDown: r3.Scale(-1, up), FacesAway: r3.Scale(-1, toYou)}
				if got := faces[TableOf(spring.Spring{Path: spring.PathOf(s)}, h.pair).Rows[0].Line]; r3.Norm(r3.Sub(got, line)) > 1e-12 {
					t.Errorf("%v, order %d, %v rad: the line is at %v, want %v", h.pair, order, rad, got, line)
				}
			}
		}
		twist := spring.Step{Kind: spring.Twist, AngleRad: 0.5, LengthMM: 1}
		if _, up, _ := v.Held(twist, beam.Origin()); (up.Z > 0) != (h.top == "apical") {
			t.Errorf("%v: a twist is held with %v up, want the line", h.pair, up)
		}
	}
}

// All that the CSV file says for the hand comes back.
func TestCSVKeepsTheHand(t *testing.T) {
	random := rand.New(rand.NewPCG(4, 6))
	for i := range 80 {
		table := TableOf(spring.Spring{Path: randomPath(random)}, hands[i%len(hands)].pair)
		back := readCSV(t, table.CSV())
		if len(table.Rows) > 0 && back.AnchorLeft != table.AnchorLeft {
			t.Errorf("anchor end left is %v, want %v", back.AnchorLeft, table.AnchorLeft)
		}
		for k, r := range table.Rows {
			if b := back.Rows[k]; b.Line != r.Line || b.TopToYou != r.TopToYou || b.Towards != r.Towards || b.Step != r.Step || b.Twist != r.Twist || b.InView != r.InView || math.Abs(b.SeenRad-r.SeenRad) > 1e-10 {
				t.Errorf("row %+v, want %+v", b, r)
			}
		}
	}
}

// The wire's ends: the one before the anchor slot has a mark below 0.
func TestCutMarks(t *testing.T) {
	table := TableOf(spring.Spring{Path: spring.PathOf(spring.StraightStep(7), spring.BendStep(0.5, 2), spring.StraightStep(3)), AnchorSlotLengthMM: 4, ActiveSlotLengthMM: 3}, lowerLeft)
	// 7 + 0.5·2 + 3 mm between the slots, 4 and 3 mm in them, 10 mm to hold at each end.
	if got := [...]float64{table.CutStartMM(), table.DevelopedMM, table.CutEndMM(), table.CutMM(), table.EndFeedMM}; got != [...]float64{-14, 11, 24, 38, 3} {
		t.Errorf("cut start, developed length, cut end, cut length and last straight are %v, want -14, 11, 24, 38 and 3", got)
	}
	if r := table.Rows[0]; r.MarkMM != 7 || r.FeedMM != 7 || r.ArcMM != 1 || r.Step != 1 || r.PathStep != 1 {
		t.Errorf("the bend is %+v, want it at mark 7 behind a feed of 7, over 1 mm", r)
	}
	rows, err := csv.NewReader(bytes.NewReader(table.CSV())).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range [...]struct {
		work string
		mark float64
		note string
	}{1: {"cut start", -14, "10 mm to hold, 4 mm in the anchor slot"}, 2: {"bend", 7, "then runs distal, 29° apical"}, 3: {"end", 11, "developed length is the mark"}, 4: {"cut end", 24, "3 mm in the active slot, 10 mm to hold; cut length 38.00 mm"}} {
		if i == 0 {
			continue
		}
		mark, err := strconv.ParseFloat(rows[i][2], 64)
		if err != nil || rows[i][1] != want.work || math.Abs(mark-want.mark) > 1e-9 || rows[i][10] != want.note {
			t.Errorf("line %d is %q, want %+v", i+1, rows[i], want)
		}
	}
	back := readCSV(t, table.CSV())
	if back.CutStartMM() != -14 || back.CutEndMM() != 24 || back.EndFeedMM != 3 {
		t.Errorf("read back: cut from %v to %v, last straight %v, want -14 to 24, 3", back.CutStartMM(), back.CutEndMM(), back.EndFeedMM)
	}
}
