package bend

import (
	"bytes"
	"encoding/csv"
	"math"
	"strconv"

	"springwright/design/beam"
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

// Corner is a place where the straights on both sides of a bend would meet.
type Corner struct {
	Step int    // of the bend table; 0 at the exit of the anchor slot, one past the last at the entry of the active slot
	AtMM r3.Vec // axes of the mechanics
}

// sharpestRad is the bend that one corner stands for: nearer to 180° its corner runs off
// to infinity, and a bend is taken as several in a row.
const sharpestRad = 120 * math.Pi / 180

// Corners returns the corners of a path's centreline, both ends included. A twist has
// none. A bend of more than 120° has two or more, of the same step.
func Corners(path spring.Path) []Corner {
	pose := beam.Origin()
	corners := []Corner{{0, pose.At}}
	steps, numbers := path.Steps(), path.BendNumbers()
	for i, piece := range path.Pieces() {
		if steps[i].Kind == spring.Bend {
			angle := math.Abs(steps[i].AngleRad)
			parts := math.Max(1, math.Ceil(angle/sharpestRad))
			toCornerMM := steps[i].RadiusMM * math.Tan(angle/parts/2)
			for k := range int(parts) {
				before := pose.Advance(piece.Curvature, piece.LengthMM*float64(k)/parts)
				corners = append(corners, Corner{numbers[i], before.Along(toCornerMM).At})
			}
		}
		pose = pose.Advance(piece.Curvature, piece.LengthMM)
	}
	return append(corners, Corner{path.Bends() + 1, pose.At})
}

// CornersCSV writes corners as RFC 4180 text, ten decimals at most.
func CornersCSV(corners []Corner) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	// A buffer takes everything, as in CSV.
	_ = w.Write([]string{"step", "x_mm", "y_mm", "z_mm"})
	for _, c := range corners {
		_ = w.Write([]string{strconv.Itoa(c.Step), number(c.AtMM.X), number(c.AtMM.Y), number(c.AtMM.Z)})
	}
	w.Flush()
	return b.Bytes()
}
