package export

import (
	"math"
	"math/rand/v2"
	"testing"

	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/design/wire"
	"springwright/export/plane"

	"gonum.org/v1/gonum/spatial/r3"
)

// Both views stand under each other: every place is as far right in the one as in the other.
func TestViewsAreAligned(t *testing.T) {
	of, f, err := begin(spatialJob())
	if err != nil {
		t.Fatal(err)
	}
	side, plan := of.scene(), of.plan()
	for i := range side.passive.centre {
		if a, b := side.passive.centre[i].X, plan.passive.centre[i].X; math.Abs(a-b) > 1e-12 {
			t.Fatalf("point %d at x %v from the cheek and %v from the biting side", i, a, b)
		}
	}
	for _, p := range panelsFor([]scene{side, plan}, f.area.Width(), f.area.Height()) {
		for _, column := range [...][]plane.Box{p.template, p.reading} {
			for i := range column {
				if column[i].Min.X != column[0].Min.X || column[i].Max.X != column[0].Max.X {
					t.Errorf("panels of a column from %v and %v to %v and %v", column[0].Min.X, column[i].Min.X, column[0].Max.X, column[i].Max.X)
				}
				for k := range i {
					if column[i].Overlaps(column[k]) {
						t.Errorf("panels %d and %d overlap", k, i)
					}
				}
			}
		}
	}
}

func TestFlatSpringsHaveOneView(t *testing.T) {
	for name, c := range map[string]struct {
		job  Job
		want bool
	}{"loop": {testJob(), false}, "spatial": {spatialJob(), true}} {
		of, _, err := begin(c.job)
		if err != nil {
			t.Fatal(err)
		}
		if got := of.spatial(); got != c.want {
			t.Errorf("%s: spatial %v, want %v", name, got, c.want)
		}
	}
}

// A section is seen as wide as the wire is: its width along y, its thickness along z, and
// both ways round where it is seen end on.
func TestSectionIsAsWideAsTheWire(t *testing.T) {
	w := wire.Wire{ThicknessMM: 0.4, WidthMM: 0.6}
	box := func(p beam.Pose, w wire.Wire) plane.Box {
		b := plane.Empty()
		for _, q := range sectionSeen(p, w, 0, func(v r3.Vec) plane.Point { return plane.Point{X: v.X, Y: v.Y} }) {
			b = b.Cover(q)
		}
		return b
	}
	up := beam.Origin().Turned(r3.Vec{Y: -math.Pi / 2}) // runs along +z, so at the viewer
	for name, c := range map[string]struct {
		pose          beam.Pose
		wire          wire.Wire
		width, height float64
	}{
		"level":  {beam.Origin(), w, 0, 0.6},
		"turned": {beam.Origin().Turned(r3.Vec{X: math.Pi / 2}), w, 0, 0.4},
		"end on": {up, w, 0.4, 0.6},
		"round":  {up, wire.Wire{DiameterMM: 0.5}, 0.5, 0.5},
	} {
		if got := box(c.pose, c.wire); math.Abs(got.Width()-c.width) > 1e-9 || math.Abs(got.Height()-c.height) > 1e-9 {
			t.Errorf("%s: %v × %v mm, want %v × %v", name, got.Width(), got.Height(), c.width, c.height)
		}
	}
}

// The wire after its last bend is the spring; after the first ones it is the spring up to
// there. For a flat spring bends are done in order, and so every stage begins as the
// finished spring does.
func TestStagesGrowIntoTheSpring(t *testing.T) {
	of, _, err := begin(testJob())
	if err != nil {
		t.Fatal(err)
	}
	whole := of.passiveScene()
	stages := stagesPage{bendTexts{of}}.all()
	if got, want := len(stages), len(of.bends.Rows); got != want {
		t.Fatalf("%d stages, want %d", got, want)
	}
	for k, s := range stages {
		if len(s.views) != 1 {
			t.Errorf("stage %d has %d views, want one", k+1, len(s.views))
		}
		centre := s.views[0].scene.passive.centre
		last := len(centre) - 2 // the end of the bend; then comes the rest
		for i := 1; i <= last; i++ {
			if d := centre[i].Sub(whole.passive.centre[i]).Norm(); d > 1e-9 {
				t.Fatalf("stage %d is %v mm off the spring at point %d", k+1, d, i)
			}
		}
	}
}

// Out of order, the last stage is still the spring.
func TestLastStageIsTheSpring(t *testing.T) {
	random := rand.New(rand.NewPCG(4, 6))
	for range 40 {
		of, _, err := begin(jobFor(randomPath(random), tooth.Pair{Anchor: 36, Active: 37}, spring.On))
		if err != nil {
			t.Fatal(err)
		}
		stages := stagesPage{bendTexts{of}}.all()
		last := stages[len(stages)-1].views[0].scene
		whole := of.passiveScene()
		for i := 1; i < len(last.passive.centre)-1; i++ {
			if d := last.passive.centre[i].Sub(whole.passive.centre[i]).Norm(); d > 1e-9 {
				t.Fatalf("the last stage is %v mm off the spring at point %d", d, i)
			}
		}
	}
}

func TestBendingOrder(t *testing.T) {
	of, _, err := begin(spatialJob())
	if err != nil {
		t.Fatal(err)
	}
	var got []int
	for _, r := range of.bendingOrder() {
		got = append(got, r.Step)
	}
	// Second order 1 and 4, first order 2 and 3, twist 5.
	for i, want := range [...]int{1, 4, 2, 3, 5} {
		if got[i] != want {
			t.Fatalf("order %v, want 1, 4, 2, 3, 5", got)
		}
	}
}

// For a flat spring the turn of the free end is the angle between two directions on the page.
func TestFreeEndTurnsAsSeen(t *testing.T) {
	for _, pair := range [...]tooth.Pair{{Anchor: 36, Active: 37}, {Anchor: 46, Active: 47}, {Anchor: 16, Active: 15}, {Anchor: 26, Active: 23}} {
		for _, heading := range [...]spring.Heading{spring.On, spring.Back} {
			of, _, err := begin(jobFor(loopPath(), pair, heading))
			if err != nil {
				t.Fatal(err)
			}
			end, slot := of.job.Spring.Rod().UnloadedEnd(beam.Origin()), of.job.Spring.Start.Pose(heading)
			a, b := of.cheek()(slot.D1), of.cheek()(end.D1)
			want := math.Atan2(a.X*b.Y-a.Y*b.X, a.X*b.X+a.Y*b.Y)
			free := of.freeEnd()
			if math.Abs(free.cheekRad-want) > 1e-9 || math.Abs(free.bitingRad)+math.Abs(free.archRad) > 1e-9 {
				t.Errorf("%v %v: turned %v, %v and %v rad, want %v and nothing else", pair, heading, free.cheekRad, free.bitingRad, free.archRad, want)
			}
		}
	}
}
