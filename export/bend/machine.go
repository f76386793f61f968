package bend

import (
	"bytes"
	"encoding/csv"
	"math"
	"strconv"
	"strings"

	"springwright/design/beam"
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

// Motion is a row of the table of lengths, rotations and angles, which wire and tube benders read: feed the wire,
// turn it about itself, bend. The last one of a wire only feeds.
type Motion struct {
	Step        int     // of the bend table; 0 of the last motion
	LengthMM    float64 // straight between the bends, at the ends what is held and what lies in the slots, too
	RotationRad float64 // between the planes of the bends, right-handed about the running direction; of the first bend from the wire's apical side
	AngleRad    float64 // 0 or more, as it stays
	SetRad      float64 // as it is bent, before it springs back; 0 where the wire would spring back straight
	RadiusMM    float64 // to the wire's centreline
	TwistRad    float64 // by how much of the rotation the wire itself is twisted in this length
}

// Motions are the motions from one cut end of a spring's wire to the other.
func Motions(s spring.Spring) []Motion {
	t, steps := TableOf(s, s.Teeth), s.Path.Steps()
	var motions []Motion
	lengthMM, twistRad := t.AnchorSlotMM+HoldMM, 0.0
	for _, r := range t.Rows {
		lengthMM += r.FeedMM
		if r.Twist { // its length is straight centreline
			lengthMM, twistRad = lengthMM+r.ArcMM, twistRad+r.TwistRad
			continue
		}
		m := Motion{
			Step: r.Step, LengthMM: lengthMM, RotationRad: wrap(r.TurnRad + twistRad), AngleRad: r.BendRad,
			RadiusMM: r.RadiusMM, TwistRad: twistRad,
		}
		if set, err := s.Wire.OverbendRad(r.BendRad, r.RadiusMM, steps[r.PathStep].Order); err == nil {
			m.SetRad = set
		}
		motions = append(motions, m)
		lengthMM, twistRad = 0, 0
	}
	return append(motions, Motion{LengthMM: lengthMM + t.EndFeedMM + t.ActiveSlotMM + HoldMM, TwistRad: twistRad})
}

// Vertex is a point of the table of points, which wire and tube benders read, too: an end of the wire, or where the
// straights on both sides of a bend would meet.
type Vertex struct {
	Step     int    // of the bend table; 0 at the ends
	AtMM     r3.Vec // axes of the mechanics, from the exit of the anchor slot
	RadiusMM float64
}

// sharpestVertexRad is the largest bend that one vertex stands for: at 170° it lies 11 radii off the wire, and at
// 180° nowhere (choice).
const sharpestVertexRad = 170 * math.Pi / 180

// Vertices are the points from one cut end of a spring's wire to the other, one a bend; only a bend of more than
// 170° has several of equal parts.
func Vertices(s spring.Spring) []Vertex {
	pose := beam.Origin()
	vertices := []Vertex{{AtMM: pose.Along(-s.AnchorSlotLengthMM - HoldMM).At}}
	steps, numbers := s.Path.Steps(), s.Path.BendNumbers()
	for i, piece := range s.Path.Pieces() {
		if steps[i].Kind == spring.Bend {
			angle := math.Abs(steps[i].AngleRad)
			parts := max(1, math.Ceil(angle/sharpestVertexRad))
			toVertexMM := steps[i].RadiusMM * math.Tan(angle/parts/2)
			for k := range int(parts) {
				before := pose.Advance(piece.Curvature, piece.LengthMM*float64(k)/parts)
				vertices = append(vertices, Vertex{numbers[i], before.Along(toVertexMM).At, steps[i].RadiusMM})
			}
		}
		pose = pose.Advance(piece.Curvature, piece.LengthMM)
	}
	return append(vertices, Vertex{AtMM: pose.Along(s.ActiveSlotLengthMM + HoldMM).At})
}

// LRACSV writes motions as RFC 4180 text, a row a bend and the last length.
func LRACSV(motions []Motion) []byte {
	rows := [][]string{{"bend", "length_mm", "rotation_deg", "angle_deg", "set_deg", "radius_mm", "twist_deg"}}
	for _, m := range motions {
		row := []string{"", short(m.LengthMM), "", "", "", "", short(m.TwistRad / degree)}
		if m.Step > 0 {
			row[0], row[2], row[3], row[5] = strconv.Itoa(m.Step), short(m.RotationRad/degree), short(m.AngleRad/degree), short(m.RadiusMM)
		}
		if m.SetRad > 0 {
			row[4] = short(m.SetRad / degree)
		}
		rows = append(rows, row)
	}
	return rfc4180(rows)
}

// XYZCSV writes vertices as RFC 4180 text; the ends have no radius.
func XYZCSV(vertices []Vertex) []byte {
	rows := [][]string{{"bend", "x_mm", "y_mm", "z_mm", "radius_mm"}}
	for _, v := range vertices {
		row := []string{"", short(v.AtMM.X), short(v.AtMM.Y), short(v.AtMM.Z), ""}
		if v.Step > 0 {
			row[0], row[4] = strconv.Itoa(v.Step), short(v.RadiusMM)
		}
		rows = append(rows, row)
	}
	return rfc4180(rows)
}

// short writes four decimals at most: a spring built from them ends within some micrometres.
func short(v float64) string {
	text := strings.TrimRight(strings.TrimRight(strconv.FormatFloat(v, 'f', 4, 64), "0"), ".")
	if text == "-0" {
		return "0"
	}
	return text
}

func rfc4180(rows [][]string) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	_ = w.WriteAll(rows) // a buffer takes everything
	return b.Bytes()
}
