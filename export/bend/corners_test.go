package bend

import (
	"encoding/csv"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

// Corners and radii give the spring back: what lies between two corners beside both
// bends' tangents R·tan(A/2) is the feed, and the polyline turns by each bend's angle.
func TestCornersGiveTheBendsBack(t *testing.T) {
	random := rand.New(rand.NewPCG(8, 4))
	for range 200 {
		path := randomPath(random)
		table := TableOf(spring.Spring{Path: path}, lowerLeft)
		corners := Corners(path)
		var bends []Row
		feed := 0.0
		for _, r := range table.Rows {
			feed += r.FeedMM
			if r.Twist { // no corner: its length is straight centreline
				feed += r.ArcMM
				continue
			}
			r.FeedMM, feed = feed, 0
			bends = append(bends, r)
		}
		if len(corners) != len(bends)+2 { // no bend here is above 115°
			t.Fatalf("%d corners for %d bends", len(corners), len(bends))
		}
		tangent := 0.0
		for i, b := range bends {
			own := b.RadiusMM * math.Tan(b.BendRad/2)
			before := r3.Sub(corners[i+1].AtMM, corners[i].AtMM)
			if got, want := r3.Norm(before), tangent+b.FeedMM+own; !(math.Abs(got-want) <= 1e-9) {
				t.Errorf("corners %d and %d are %v mm apart, want %v", i, i+1, got, want)
			}
			after := r3.Sub(corners[i+2].AtMM, corners[i+1].AtMM)
			if got := math.Atan2(r3.Norm(r3.Cross(before, after)), r3.Dot(before, after)); r3.Norm(before) > 1e-6 && r3.Norm(after) > 1e-6 && !(math.Abs(got-b.BendRad) <= 1e-7) {
				t.Errorf("corner %d turns by %v rad, want %v", i+1, got, b.BendRad)
			}
			if corners[i+1].Step != b.Step {
				t.Errorf("corner %d is of step %d, want %d", i+1, corners[i+1].Step, b.Step)
			}
			tangent = own
		}
		if first, last := corners[0], corners[len(corners)-1]; first.Step != 0 || last.Step != len(table.Rows)+1 {
			t.Errorf("the ends are of steps %d and %d, want 0 and %d", first.Step, last.Step, len(table.Rows)+1)
		}
	}
}

// A hairpin of 180° has two corners, each a quarter turn: a square of two radii.
func TestHairpinHasTwoCorners(t *testing.T) {
	corners := Corners(spring.PathOf(spring.StraightStep(5), spring.BendStep(math.Pi, 1), spring.StraightStep(5)))
	want := []r3.Vec{{}, {X: 6}, {X: 6, Z: 2}, {Z: 2}}
	if len(corners) != len(want) {
		t.Fatalf("%d corners, want %d", len(corners), len(want))
	}
	for i, w := range want {
		if !(r3.Norm(r3.Sub(corners[i].AtMM, w)) <= 1e-9) {
			t.Errorf("corner %d at %v, want %v", i, corners[i].AtMM, w)
		}
	}
}

func TestCornersCSV(t *testing.T) {
	corners := Corners(spring.PathOf(spring.StraightStep(2.5), spring.BendStep(-0.7, 0.966), spring.StraightStep(4)))
	rows, err := csv.NewReader(strings.NewReader(string(CornersCSV(corners)))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if got, want := strings.Join(rows[0], " "), "step x_mm y_mm z_mm"; got != want {
		t.Errorf("header %q, want %q", got, want)
	}
	for i, c := range corners {
		for k, want := range [...]float64{c.AtMM.X, c.AtMM.Y, c.AtMM.Z} {
			if got, err := strconv.ParseFloat(rows[i+1][k+1], 64); err != nil || math.Abs(got-want) > 1e-10 {
				t.Errorf("corner %d reads %v (%v), want %v", i, got, err, want)
			}
		}
	}
}
