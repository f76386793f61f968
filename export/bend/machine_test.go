package bend

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"testing"

	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// sharpPath is a random path that has bends up to more than a turn, too.
func sharpPath(random *rand.Rand) spring.Path {
	var steps spring.Steps
	for _, s := range randomPath(random).Steps() {
		if s.Kind == spring.Bend && random.IntN(3) == 0 {
			s.AngleRad *= 3.5 // up to 400°
		}
		steps = append(steps, s)
	}
	return spring.PathOf(steps...)
}

// readTable reads a table by the names of its columns; what is left out is NaN.
func readTable(t *testing.T, text []byte) []map[string]float64 {
	t.Helper()
	lines, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []map[string]float64
	for _, cells := range lines[1:] {
		row := map[string]float64{}
		for i, cell := range cells {
			row[lines[0][i]] = math.NaN()
			if cell != "" {
				if row[lines[0][i]], err = strconv.ParseFloat(cell, 64); err != nil {
					t.Fatal(err)
				}
			}
		}
		rows = append(rows, row)
	}
	return rows
}

// line is a centreline as points a hundredth of the wire apart, from one cut end to the other.
type line []r3.Vec

// walk follows pieces of wire from a pose.
func walk(from beam.Pose, curvatures []r3.Vec, lengths []float64) line {
	total := 0.0
	for _, l := range lengths {
		total += l
	}
	var points line
	for k := range 101 {
		left, pose := total*float64(k)/100, from
		for i, l := range lengths {
			part := min(l, left)
			pose = pose.Advance(curvatures[i], part)
			if left -= part; left <= 0 {
				break
			}
		}
		points = append(points, pose.At)
	}
	return points
}

func (l line) farthestFrom(other line) float64 {
	most := 0.0
	for i := range l {
		most = max(most, r3.Norm(r3.Sub(l[i], other[i])))
	}
	return most
}

// Both tables alone give the centreline back that the spring has.
func TestMachineTablesReturnTheSpring(t *testing.T) {
	random := rand.New(rand.NewPCG(15, 5))
	for range 200 {
		s := spring.Spring{Path: sharpPath(random), AnchorSlotLengthMM: 4, ActiveSlotLengthMM: 3.5}
		curvatures, lengths := []r3.Vec{{}}, []float64{4 + HoldMM}
		bends := 0
		for i, piece := range s.Path.Pieces() {
			curvatures, lengths = append(curvatures, piece.Curvature), append(lengths, piece.LengthMM)
			if s.Path.Steps()[i].Kind == spring.Bend {
				bends++
			}
		}
		start := beam.Origin().Along(-4 - HoldMM)
		want := walk(start, append(curvatures, r3.Vec{}), append(lengths, 3.5+HoldMM))

		// Four decimals of mm and of degrees: some ten bends and lengths put 60 mm of wire off by
		// 10·60·0.00005·π/180 + 20·0.00005 mm at most, and vertices turn a short straight by a ten-thousandth
		// of a millimetre on its length.
		const within = 0.005
		rows := readTable(t, LRACSV(Motions(s)))
		if len(rows) != bends+1 {
			t.Errorf("%d rows of lengths, rotations and angles for %d bends, want one a bend and the last length", len(rows), bends)
		}
		if off := want.farthestFrom(fromLRA(start, rows)); !(off <= within) {
			t.Errorf("rebuilt from lengths, rotations and angles it is off by %v mm", off)
		}
		if off := want.farthestFrom(fromXYZ(readTable(t, XYZCSV(Vertices(s))))); !(off <= within) {
			t.Errorf("rebuilt from points it is off by %v mm: %v", off, s.Path.Steps())
		}
	}
}

// fromLRA feeds, turns and bends.
func fromLRA(start beam.Pose, rows []map[string]float64) line {
	var curvatures []r3.Vec
	var lengths []float64
	side := 0.0 // of the bend, about the running direction from the wire's third axis
	for _, row := range rows {
		curvatures, lengths = append(curvatures, r3.Vec{}), append(lengths, row["length_mm"])
		angle := row["angle_deg"] * degree
		if math.IsNaN(angle) {
			continue
		}
		side += row["rotation_deg"] * degree
		sin, cos := math.Sincos(side)
		// The side that the bend goes to is cos·d3 − sin·d2; it turns about d1 × side = −cos·d2 − sin·d3.
		curvatures = append(curvatures, r3.Scale(1/row["radius_mm"], r3.Vec{Y: -cos, Z: -sin}))
		lengths = append(lengths, row["radius_mm"]*angle)
	}
	return walk(start, curvatures, lengths)
}

// fromXYZ rounds every vertex off with its radius.
func fromXYZ(rows []map[string]float64) line {
	type arc struct {
		from, along, inward r3.Vec
		radiusMM, angleRad  float64
	}
	at := func(i int) r3.Vec { return r3.Vec{X: rows[i]["x_mm"], Y: rows[i]["y_mm"], Z: rows[i]["z_mm"]} }
	var arcs []arc
	var lengths []float64 // straight, arc, straight, …
	from := at(0)
	for i := 1; i < len(rows)-1; i++ {
		before, after := r3.Unit(r3.Sub(at(i), at(i-1))), r3.Unit(r3.Sub(at(i+1), at(i)))
		angle := math.Atan2(r3.Norm(r3.Cross(before, after)), r3.Dot(before, after))
		radius := rows[i]["radius_mm"]
		begin := r3.Sub(at(i), r3.Scale(radius*math.Tan(angle/2), before))
		inward := r3.Unit(r3.Sub(after, r3.Scale(r3.Dot(after, before), before)))
		lengths = append(lengths, r3.Dot(r3.Sub(begin, from), before), radius*angle)
		arcs = append(arcs, arc{begin, before, inward, radius, angle})
		from = r3.Add(at(i), r3.Scale(radius*math.Tan(angle/2), after))
	}
	last := at(len(rows) - 1)
	lengths = append(lengths, r3.Norm(r3.Sub(last, from)))
	total := 0.0
	for _, l := range lengths {
		total += l
	}
	var points line
	for k := range 101 {
		left := total * float64(k) / 100
		point, begun := last, at(0)
		for i, l := range lengths {
			if left > l && i < len(lengths)-1 {
				left -= l
				if i%2 == 1 {
					a := arcs[i/2]
					begun = r3.Add(a.from, r3.Add(r3.Scale(a.radiusMM*math.Sin(a.angleRad), a.along), r3.Scale(a.radiusMM*(1-math.Cos(a.angleRad)), a.inward)))
				}
				continue
			}
			if i%2 == 1 {
				a := arcs[i/2]
				sin, cos := math.Sincos(left / a.radiusMM)
				point = r3.Add(a.from, r3.Add(r3.Scale(a.radiusMM*sin, a.along), r3.Scale(a.radiusMM*(1-cos), a.inward)))
				break
			}
			towards := last
			if i/2 < len(arcs) {
				towards = arcs[i/2].from
			}
			point = begun
			if l > 0 {
				point = r3.Add(begun, r3.Scale(left/l, r3.Sub(towards, begun)))
			}
			break
		}
		points = append(points, point)
	}
	return points
}

// A bend of 126° is one vertex with its radius, one of 180° two of a quarter turn.
func TestOneVertexABend(t *testing.T) {
	for _, trial := range [...]struct {
		angleDeg float64
		want     int
	}{{126, 1}, {-126, 1}, {169, 1}, {180, 2}, {-360, 3}} {
		s := spring.Spring{Path: spring.PathOf(spring.StraightStep(5), spring.BendStep(trial.angleDeg*degree, 1), spring.StraightStep(5))}
		vertices := Vertices(s)
		if got := len(vertices) - 2; got != trial.want {
			t.Errorf("a bend of %v° has %d vertices, want %d", trial.angleDeg, got, trial.want)
		}
		for i, v := range vertices {
			if ends := i == 0 || i == len(vertices)-1; ends != (v.RadiusMM == 0) || ends != (v.Step == 0) {
				t.Errorf("vertex %d is %+v", i, v)
			}
		}
	}
}

// The angle to set is the one that leaves the bend's angle when the wire is let go.
func TestSetAngleSpringsBack(t *testing.T) {
	alloy := wire.Wire{EMPa: 65_000, Poisson: 0.3, YieldMPa: 900, ThicknessMM: 0.4064, WidthMM: 0.5588}
	s := spring.Spring{Wire: alloy, Path: spring.PathOf(spring.StraightStep(5), spring.BendStep(1, 0.9532), spring.StraightStep(5), spring.BendStep(0.5, 40), spring.StraightStep(1))}
	rows := readTable(t, LRACSV(Motions(s)))
	kept, err := alloy.KeptCurvature(0.9532, 2)
	if err != nil {
		t.Fatal(err)
	}
	if got := rows[0]["set_deg"] * kept; math.Abs(got-rows[0]["angle_deg"]) > 1e-3 || kept > 0.99 {
		t.Errorf("%v° of %v° is left", got, rows[0]["angle_deg"])
	}
	if got := fmt.Sprint(rows[1]["set_deg"]); got != "NaN" {
		t.Errorf("a bend that springs back straight is set to %v", got)
	}
}
