package export

import (
	"math"
	"testing"

	"springwright/design/beam"
	"springwright/export/plane"
)

// The edges of a wire seen from the biting side are as far apart on paper as the wire is
// wide, and its two ends as far apart as it is long.
func TestSilhouetteIsTrueToScale(t *testing.T) {
	for _, program := range [...]string{"pdftoppm", "rsvg-convert"} {
		t.Run(program, func(t *testing.T) {
			job := testJob()
			of, f, err := begin(job)
			if err != nil {
				t.Fatal(err)
			}
			f.newPage("Template")
			const lengthMM = 40.0
			at := f.area.Centre()
			poses := []beam.Pose{beam.Origin(), beam.Origin().Along(lengthMM)}
			drawSilhouette(f.page, f.scale, poses, job.Spring.Wire, of.bitingSide(), at, 1)
			r := rasterise(t, f.doc, program, fineDPI)[0]

			// 36 to 37 on the lower left: x to the right.
			middle := at.Add(plane.Point{X: 13})
			measure := func(a, b, direction plane.Point, want float64) {
				t.Helper()
				p, err := r.middle(a, direction, 0.2)
				if err != nil {
					t.Fatal(err)
				}
				q, err := r.middle(b, direction, 0.2)
				if err != nil {
					t.Fatal(err)
				}
				// A dot is 0.042 mm; a level line may be moved by a quarter of one at each edge.
				if got := q.Sub(p).Norm(); math.Abs(got-want) > 0.03 {
					t.Errorf("edges are %.3f mm apart, want %.3f", got, want)
				}
			}
			half := job.Spring.Wire.WidthMM / 2
			up := plane.Point{Y: half}
			measure(middle.Sub(up), middle.Add(up), plane.Point{Y: 1}, 2*half)
			measure(at, at.Add(plane.Point{X: lengthMM}), plane.Point{X: 1}, lengthMM)
		})
	}
}
