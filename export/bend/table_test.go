package bend

import (
	"math"
	"math/rand/v2"
	"testing"

	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

var lowerLeft = tooth.Pair{Anchor: 36, Active: 37}

// randomPath mixes bends of both orders and twists.
func randomPath(random *rand.Rand) spring.Path {
	between := func(low, high float64) float64 { return low + (high-low)*random.Float64() }
	var steps spring.Steps
	for range 1 + random.IntN(10) {
		switch random.IntN(5) {
		case 0:
			steps = append(steps, spring.Step{Kind: spring.Twist, AngleRad: between(-1, 1), LengthMM: between(0.5, 3)})
		case 1:
			steps = append(steps, spring.Step{Kind: spring.Bend, AngleRad: between(-2, 2), RadiusMM: between(0.5, 3), Order: 1})
		case 2:
			steps = append(steps, spring.BendStep(between(-2, 2), between(0.5, 3)))
		default:
			steps = append(steps, spring.StraightStep(between(0.5, 10)))
		}
	}
	return spring.PathOf(steps...)
}

// farthest is the largest distance between the corners of two paths.
func farthest(a, b spring.Path) float64 {
	if len(a.Steps()) != len(b.Steps()) {
		return math.Inf(1)
	}
	p, q := beam.Origin(), beam.Origin()
	var most float64
	pieces := b.Pieces()
	for i, piece := range a.Pieces() {
		p = p.Advance(piece.Curvature, piece.LengthMM)
		q = q.Advance(pieces[i].Curvature, pieces[i].LengthMM)
		most = math.Max(most, r3.Norm(r3.Sub(p.At, q.At)))
	}
	return most
}

func TestCSVReturnsTheSpring(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 5))
	for range 100 {
		path := randomPath(random)
		table := TableOf(spring.Spring{Path: path, AnchorSlotLengthMM: 4, ActiveSlotLengthMM: 3.5}, lowerLeft)
		back := readCSV(t, table.CSV())
		// Ten decimals of mm and of degrees; ten steps of ten mm add up to some 1e-10 mm.
		if d := farthest(path, pathOf(back)); d > 1e-9 {
			t.Errorf("%v comes back %v mm away", path, d)
		}
		if again := TableOf(spring.Spring{Path: pathOf(back), AnchorSlotLengthMM: back.AnchorSlotMM, ActiveSlotLengthMM: back.ActiveSlotMM}, lowerLeft); math.Abs(again.CutMM()-table.CutMM()) > 1e-9 || len(again.Rows) != len(table.Rows) {
			t.Errorf("%v: cut length %v and %d rows, want %v and %d", path, again.CutMM(), len(again.Rows), table.CutMM(), len(table.Rows))
		}
	}
}

// The table as printed, to 0.01 mm and 0.1°, still bends the spring: for the sizes of a
// loop within 0.05 mm, the width of a pencil's line.
func TestRoundedTableBendsTheSpring(t *testing.T) {
	var steps spring.Steps
	for _, leg := range [...]struct{ mm, deg float64 }{
		{1.5, -14.03}, {1.52, 104.04}, {6.013, -83.02}, {10.004, -98.03}, {6.004, -76.02}, {3.003, -15.04}, {3, 0},
	} {
		steps = append(steps, spring.StraightStep(leg.mm), spring.BendStep(leg.deg*degree, 0.966))
	}
	path := spring.PathOf(steps[:len(steps)-1]...)
	table := TableOf(spring.Spring{Path: path}, lowerLeft)
	round := func(v, step float64) float64 { return math.Round(v/step) * step }
	for i := range table.Rows {
		r := &table.Rows[i]
		r.FeedMM, r.RadiusMM, r.BendRad = round(r.FeedMM, 0.01), round(r.RadiusMM, 0.01), round(r.BendRad/degree, 0.1)*degree
	}
	table.EndFeedMM = round(table.EndFeedMM, 0.01)
	if d := farthest(path, pathOf(table)); d > 0.05 {
		t.Errorf("the rounded table bends a spring %v mm away, want within 0.05", d)
	}
}

func TestTurnAndView(t *testing.T) {
	bend := func(deg float64, order int) spring.Step {
		return spring.Step{Kind: spring.Bend, AngleRad: deg * degree, RadiusMM: 1, Order: order}
	}
	path := spring.PathOf(bend(90, 2), bend(-90, 2), bend(30, 1), bend(-30, 1), bend(45, 2), bend(-45, 1), bend(30, 1), bend(-20, 2))
	for _, c := range [...]struct {
		pair tooth.Pair
		left float64 // +1 where a bend towards apical is to the left
	}{
		{tooth.Pair{Anchor: 36, Active: 37}, -1}, // x right, apical down
		{tooth.Pair{Anchor: 46, Active: 47}, 1},  // x left, apical down
		{tooth.Pair{Anchor: 26, Active: 27}, 1},  // x right, apical up
		{tooth.Pair{Anchor: 16, Active: 17}, -1}, // x left, apical up
	} {
		rows := TableOf(spring.Spring{Path: path}, c.pair).Rows
		// Round the wire, right-handed: apical 0°, −y 90°, occlusal 180°, +y 270°.
		wantTurn := [...]float64{0, 180, 90, 180, -90, 90, 180, -90}
		for i, r := range rows {
			if math.Abs(r.TurnRad/degree-wantTurn[i]) > 1e-9 {
				t.Errorf("bend %d: turn %v°, want %v°", i+1, r.TurnRad/degree, wantTurn[i])
			}
		}
		if !rows[0].InView || math.Abs(rows[0].SeenRad-c.left*math.Pi/2) > 1e-12 {
			t.Errorf("%v: first bend seen as %v rad, want %v", c.pair, rows[0].SeenRad, c.left*math.Pi/2)
		}
		if rows[2].InView {
			t.Errorf("%v: a first-order bend is not seen from the cheek", c.pair)
		}
	}
}

// Seen from the biting side, right × up points at the viewer, who looks apically; and the
// cheek is up for upper and down for lower teeth, as for somebody who tilts the jaw.
func TestPlanIsNotMirrored(t *testing.T) {
	for _, pair := range [...]tooth.Pair{{Anchor: 36, Active: 37}, {Anchor: 46, Active: 47}, {Anchor: 26, Active: 27}, {Anchor: 16, Active: 15}} {
		v := ViewOf(pair)
		var right, up r3.Vec
		for _, axis := range [...]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
			x, y := v.Plan(axis)
			right, up = r3.Add(right, r3.Scale(x, axis)), r3.Add(up, r3.Scale(y, axis))
		}
		if got := r3.Cross(right, up); got != (r3.Vec{Z: -1}) {
			t.Errorf("%v: the viewer stands at %v, want occlusally", pair, got)
		}
		if _, cheek := v.Plan(r3.Vec{Y: pair.BuccalSign()}); (cheek > 0) != pair.Active.Upper() {
			t.Errorf("%v: the cheek is at %v on the page", pair, cheek)
		}
	}
}

// From the cheek: up is up in the mouth, and mesial is on the viewer's right on the
// patient's right. A point 2 mm distal and 3 mm apical:
func TestPage(t *testing.T) {
	for _, c := range [...]struct {
		pair      tooth.Pair
		right, up float64
	}{
		{tooth.Pair{Anchor: 16, Active: 17}, -2, 3},
		{tooth.Pair{Anchor: 26, Active: 27}, 2, 3},
		{tooth.Pair{Anchor: 36, Active: 37}, 2, -3},
		{tooth.Pair{Anchor: 46, Active: 47}, -2, -3},
		{tooth.Pair{Anchor: 46, Active: 43}, 2, -3}, // x runs mesially: the point is 2 mm mesial
	} {
		if right, up := ViewOf(c.pair).Page(r3.Vec{X: 2, Y: 9, Z: 3}); right != c.right || up != c.up {
			t.Errorf("%v: seen at %v, %v, want %v, %v", c.pair, right, up, c.right, c.up)
		}
	}
}

func TestShallowIsBelowFiveDegrees(t *testing.T) {
	for deg, want := range map[float64]bool{4.9: true, 5: false, 5.1: false} {
		if got := (Row{BendRad: deg * degree}).Shallow(); got != want {
			t.Errorf("%v° is shallow: %v, want %v", deg, got, want)
		}
	}
	if (Row{Twist: true}).Shallow() {
		t.Error("a twist is no shallow bend")
	}
}

func TestDirection(t *testing.T) {
	for _, c := range [...]struct {
		pair tooth.Pair
		d    r3.Vec
		want string
	}{
		{tooth.Pair{Anchor: 36, Active: 37}, r3.Vec{X: 1}, "distal"},
		{tooth.Pair{Anchor: 36, Active: 35}, r3.Vec{X: 1}, "mesial"},
		{tooth.Pair{Anchor: 36, Active: 37}, r3.Vec{X: math.Cos(14 * degree), Z: -math.Sin(14 * degree)}, "distal, 14° occlusal"},
		{tooth.Pair{Anchor: 16, Active: 11}, r3.Vec{Z: -1}, "incisal"},
		{tooth.Pair{Anchor: 36, Active: 37}, r3.Vec{X: 1, Z: 1}, "distal, 45° apical"}, // the first of equal parts
	} {
		if got := ViewOf(c.pair).Direction(c.d).String(); got != c.want {
			t.Errorf("%v seen for %v is %q, want %q", c.d, c.pair, got, c.want)
		}
	}
}
