package export

import (
	"math"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"testing"

	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/export/plane"

	"gonum.org/v1/gonum/spatial/r3"
)

// checkSketch holds the sketch of a job against its loads: the largest force and the largest
// couple of each tooth are drawn, nothing that is drawn is longer than what is larger, and all
// that is planned is on the page.
func checkSketch(t *testing.T, name string, job Job) {
	t.Helper()
	job.Pages, job.Stages, job.Twin = []Page{LoadsPage}, false, false
	of, _, err := begin(job)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := compose(job)
	if err != nil {
		t.Errorf("%s: %v", name, err)
		return
	}
	heads := 0
	for _, p := range doc.Pages {
		heads += len(p.Heads())
		for _, fault := range p.Faults() {
			t.Errorf("%s: %s", name, fault)
		}
	}
	views, planned := freeBodyOf(of).views(), 0
	if len(views) < 1 || len(views) > 2 {
		t.Errorf("%s: %d views", name, len(views))
	}
	for i, l := range freeBodyOf(of).loads {
		drawn := func(k tooth.Component) float64 {
			if !slices.ContainsFunc(views, func(v sketchView) bool { return v.shows(k) }) {
				return 0
			}
			return math.Abs(freeBodyOf(of).length(l, k))
		}
		for _, couple := range [...]bool{false, true} {
			main := largest(l, couple)
			if prints := math.Abs(l.Component(main)) >= 0.005; (drawn(main) > 0) != prints {
				t.Errorf("%s: tooth %d: %v of %.3f is drawn %.2f long", name, i, main, l.Component(main), drawn(main))
			}
		}
		for k := range tooth.Components {
			for _, v := range views {
				if v.shows(k) && freeBodyOf(of).length(l, k) != 0 {
					planned++
				}
			}
			for other := range tooth.Components {
				if k.Couple() != other.Couple() || drawn(k) == 0 || drawn(other) == 0 {
					continue
				}
				a, b := drawn(k)/drawn(other), math.Abs(l.Component(k)/l.Component(other))
				if math.Abs(a-b) > 1e-9*b {
					t.Errorf("%s: tooth %d: lengths %v and %v for %.3f and %.3f", name, i, drawn(k), drawn(other), l.Component(k), l.Component(other))
				}
			}
		}
	}
	if heads != planned {
		t.Errorf("%s: %d arrows are drawn, want %d", name, heads, planned)
	}
}

// loaded is a job whose loads at the start are those given, the anchor's in balance in force.
func loaded(pair tooth.Pair, force, active, anchor r3.Vec) Job {
	job := jobFor(loopPath(), pair, spring.Back)
	p := &job.Evaluation.Record.Positions[0]
	p.Active = tooth.Load{ForceN: force, CoupleNMM: active}
	p.Anchor = tooth.Load{ForceN: r3.Scale(-1, force), CoupleNMM: anchor}
	return job
}

func TestSketchDrawsTheLoadsThatMatter(t *testing.T) {
	random := rand.New(rand.NewPCG(17, 19))
	pairs := [...]tooth.Pair{{Anchor: 36, Active: 37}, {Anchor: 46, Active: 43}, {Anchor: 16, Active: 15}, {Anchor: 26, Active: 23}}
	count := 2 * *labelSprings
	if testing.Short() {
		count = 60
	}
	// Of all sizes from nothing to much, so that now one component and now another is largest.
	part := func(most float64) float64 {
		if random.IntN(5) == 0 {
			return 0
		}
		return most * math.Pow(10, -3*random.Float64()) * float64(1-2*random.IntN(2))
	}
	vector := func(most float64) r3.Vec { return r3.Vec{X: part(most), Y: part(most), Z: part(most)} }
	for i := range count {
		checkSketch(t, "random", loaded(pairs[i%len(pairs)], vector(2), vector(20), vector(20)))
	}
}

func TestSketchOfEveryPreset(t *testing.T) {
	files, err := filepath.Glob("../presets/*.toml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no presets: %v", err)
	}
	for _, file := range files {
		checkSketch(t, file, presetJob(t, file))
	}
}

// The views are drawn as somebody sees them, by an account of the mouth that is not the
// program's: for teeth of all quadrants, looked at from the cheek, from the biting side and
// from mesial, which way on the page mesial, buccal and apical are.
func TestSketchViewsAreWhatIsSeen(t *testing.T) {
	// From the cheek of the patient's right side the front of the mouth is to the viewer's
	// right, on the left side to the left. Apical is up in the upper jaw, down in the lower.
	// The view from the biting side keeps mesial where it is from the cheek. Looked at from
	// below, with the patient's right teeth so that mesial is right, the upper teeth have the
	// cheek above them, as their palate lies below on the page; on the patient's left the
	// page is turned about its upright: mesial left, the cheek above still. Lower teeth are
	// looked at from above: mesial right on the patient's right, and the cheek is below.
	// From mesial one looks backwards: the cheek of the patient's right is at the left.
	for _, test := range []struct {
		pair                                 tooth.Pair
		mesialRight, buccalUpBiting, rightIs float64 // +1: so, −1: the other way
		apicalUp                             float64
	}{
		{tooth.Pair{Anchor: 16, Active: 15}, 1, 1, -1, 1},
		{tooth.Pair{Anchor: 15, Active: 16}, 1, 1, -1, 1},
		{tooth.Pair{Anchor: 26, Active: 23}, -1, 1, 1, 1},
		{tooth.Pair{Anchor: 23, Active: 26}, -1, 1, 1, 1},
		{tooth.Pair{Anchor: 36, Active: 37}, -1, -1, 1, -1},
		{tooth.Pair{Anchor: 37, Active: 36}, -1, -1, 1, -1},
		{tooth.Pair{Anchor: 46, Active: 43}, 1, -1, -1, -1},
		{tooth.Pair{Anchor: 43, Active: 46}, 1, -1, -1, -1},
	} {
		of, _, err := begin(loaded(test.pair, r3.Vec{X: 1}, r3.Vec{}, r3.Vec{}))
		if err != nil {
			t.Fatal(err)
		}
		views := freeBodyOf(of).allViews()
		mesial, buccal, apical := r3.Vec{X: test.pair.MesialSign()}, r3.Vec{Y: test.pair.BuccalSign()}, r3.Vec{Z: 1}
		for i, want := range [3][3]plane.Point{ // mesial, buccal, apical
			{{X: test.mesialRight}, {}, {Y: test.apicalUp}},
			{{X: test.mesialRight}, {Y: test.buccalUpBiting}, {}},
			{{}, {X: test.rightIs}, {Y: test.apicalUp}},
		} {
			for k, direction := range [...]r3.Vec{mesial, buccal, apical} {
				if got := views[i].on(direction); got != want[k] {
					t.Errorf("%v, view %d: direction %d is at %v on the page, want %v", test.pair, i, k, got, want[k])
				}
			}
		}
		// A couple that carries the crown mesially turns the tooth about its slot so that what
		// lies on the biting side goes mesially: seen from the cheek, from there to mesial.
		crownMesial := r3.Vec{Y: test.pair.ClinicalSign(tooth.CoupleY)}
		if got, want := views[0].turn(crownMesial), test.mesialRight*test.apicalUp; got != want {
			t.Errorf("%v: a crown-mesial couple turns %v from the cheek, want %v (above 0: anticlockwise)", test.pair, got, want)
		}
		// Buccal crown torque likewise, seen from mesial.
		torque := r3.Vec{X: test.pair.ClinicalSign(tooth.CoupleX)}
		if got, want := views[2].turn(torque), test.rightIs*test.apicalUp; got != want {
			t.Errorf("%v: buccal crown torque turns %v from mesial, want %v", test.pair, got, want)
		}
		// Mesial-in carries the mesial side away from the cheek, seen from the biting side.
		in := r3.Vec{Z: test.pair.ClinicalSign(tooth.CoupleZ)}
		if got, want := views[1].turn(in), -test.mesialRight*test.buccalUpBiting; got != want {
			t.Errorf("%v: mesial-in turns %v from the biting side, want %v", test.pair, got, want)
		}
	}
}

// The page had the small force along the arch at full length and the main one, across the arch,
// nowhere.
func TestMainForceAcrossTheArchIsDrawn(t *testing.T) {
	job := loaded(tooth.Pair{Anchor: 36, Active: 37}, r3.Vec{X: 0.05, Y: 0.62, Z: 0.1}, r3.Vec{X: 4, Y: 0.1, Z: 0.2}, r3.Vec{X: -4, Y: 0.1, Z: 0.2})
	job.Pages = []Page{LoadsPage}
	doc, err := compose(job)
	if err != nil {
		t.Fatal(err)
	}
	// The largest of all is the force across the arch, on both teeth, and with it the torque.
	// The force up or down is too short to be drawn beside it.
	heads := doc.Pages[0].Heads()
	if len(heads) != 4 {
		t.Fatalf("%d arrows are drawn, want a force and a couple on each tooth", len(heads))
	}
	level := 0
	for _, h := range heads {
		if d := h.B.Sub(h.A); math.Abs(d.X) > 0.99*d.Norm() {
			level++
		}
	}
	if level < 2 {
		t.Errorf("%d arrows lie level, want the main force on each tooth as seen from mesial: %v", level, heads)
	}
}
