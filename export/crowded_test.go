package export

import (
	"math/rand/v2"
	"slices"
	"testing"

	"springwright/design"
	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/export/label"
	"springwright/export/plane"
	"springwright/export/words"

	"gonum.org/v1/gonum/spatial/r3"
)

// crowdedJob is a T-loop for a turned premolar: four bends and a twist stand within 5 mm at
// each slot, so that labels placed in the order of the bends wall one of them in.
func crowdedJob() Job {
	const radius = 0.9659
	second := func(deg float64) spring.Step {
		return spring.Step{Kind: spring.Bend, AngleRad: deg * degree, RadiusMM: radius, Order: 2}
	}
	first := func(deg float64) spring.Step {
		return spring.Step{Kind: spring.Bend, AngleRad: deg * degree, RadiusMM: radius, Order: 1}
	}
	twist := func(deg float64) spring.Step {
		return spring.Step{Kind: spring.Twist, AngleRad: deg * degree, LengthMM: 2}
	}
	straight := spring.StraightStep
	path := spring.PathOf(
		straight(1), second(50), first(-29), twist(53), straight(1), second(15), straight(3.5), second(90), straight(2.5),
		second(-180), straight(9.5), second(-180), straight(2.5), second(90), straight(8), second(165), straight(1),
		twist(-36), first(-7), second(-41), straight(1),
	)
	job := jobFor(path, tooth.Pair{Anchor: 36, Active: 35}, spring.On)
	job.Case.ActiveSlot.LengthMM = 3
	job.Case.Now = design.Placement{CentreMM: r3.Vec{X: 10}, Rotation: r3.Vec{Z: 15 * degree}}
	job.Case.Goal = design.Placement{CentreMM: r3.Vec{X: 10}}
	job.Spring = job.Case.SpringFor(path)
	// The seated shape ends in the slot, as in jobFor.
	shift := r3.Sub(job.Spring.Start.AtMM, job.Spring.Rod().UnloadedEnd(beam.Origin()).At)
	e := &job.Evaluation
	for i, p := range e.Passive {
		share := e.Samples[i].ArcMM / path.WireLengthMM()
		p.At = r3.Add(p.At, r3.Scale(share*share*(3-2*share), shift))
		e.Seated[i] = p
	}
	return job
}

func TestCrowdedSpringsAreDrawn(t *testing.T) {
	for _, paper := range [...]Paper{A4, Letter} {
		for _, language := range words.Languages() {
			job := crowdedJob()
			job.Paper, job.Language, job.Stages = paper, language, true
			doc, err := compose(job)
			if err != nil {
				t.Errorf("%v, language %v: %v", paper, language, err)
				continue
			}
			for k, p := range doc.Pages {
				for _, fault := range p.Faults() {
					t.Errorf("%v, language %v, page %d: %s", paper, language, k+1, fault)
				}
			}
		}
	}
}

// densePath is a wire whose bends stand as close as a search lets them, half of the time out
// of the plane.
func densePath(random *rand.Rand, spatial bool) spring.Path {
	between := func(low, high float64) float64 { return low + (high-low)*random.Float64() }
	steps := spring.Steps{spring.StraightStep(1)}
	for range 6 + random.IntN(9) {
		switch kind := random.IntN(4); {
		case spatial && kind == 0:
			steps = append(steps, spring.Step{Kind: spring.Twist, AngleRad: between(-60, 60) * degree, LengthMM: 2})
		case spatial && kind == 1:
			steps = append(steps, spring.Step{Kind: spring.Bend, AngleRad: between(-40, 40) * degree, RadiusMM: testRadiusMM, Order: 1})
		default:
			steps = append(steps, spring.BendStep(between(-180, 180)*degree, between(0.6, 1.2)))
		}
		if random.IntN(3) > 0 {
			steps = append(steps, spring.StraightStep(between(1, 6)))
		}
	}
	return spring.PathOf(append(steps, spring.StraightStep(1))...)
}

func TestNoSpringIsRefusedForItsLabels(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 3))
	pairs := [...]tooth.Pair{{Anchor: 36, Active: 35}, {Anchor: 46, Active: 47}, {Anchor: 16, Active: 15}, {Anchor: 26, Active: 23}}
	count := 60
	if testing.Short() {
		count = 12
	}
	for i := range count {
		job := jobFor(densePath(random, i%2 == 0), pairs[i%len(pairs)], spring.Heading(i/4%2))
		job.Paper = Paper(i / 2 % 2)
		job.Pages = []Page{TemplatePage, StagesPage}
		doc, err := compose(job)
		if err != nil {
			t.Errorf("spring %d: %v", i, err)
			continue
		}
		for k, p := range doc.Pages {
			for _, fault := range p.Faults() {
				t.Errorf("spring %d, page %d: %s", i, k+1, fault)
			}
		}
	}
}

// A label that can have no place is told of by a note, and no other is lost for it.
func TestANoteStandsForALabelWithoutPlace(t *testing.T) {
	_, f, err := begin(testJob())
	if err != nil {
		t.Fatal(err)
	}
	f.addPage("test")
	room := plane.Box{Min: plane.Point{X: 40, Y: 40}, Max: plane.Point{X: 100, Y: 80}}
	const tooWide = 70 // wider than the room
	at := plane.Point{X: 60, Y: 60}
	l := labels{board: &label.Board{Bounds: plane.Box{Min: room.Min, Max: room.Min.Add(plane.Point{X: 5, Y: 2})}, ClearMM: 0.3}}
	if l.put("3", []label.Anchor{{At: at}}, nil, 1, tooWide, 30, func(plane.Box) {}); l.settle(f, noted) {
		t.Error("a label that is too wide has a place, or its note has one where there is none")
	}
	l = labels{board: &label.Board{Bounds: room, ClearMM: 0.3}}
	drawn := map[string]bool{}
	for name, width := range map[string]float64{"3": tooWide, "4": 3} {
		l.put(name, []label.Anchor{{At: at}}, nil, 1, width, 2, func(plane.Box) { drawn[name] = true })
	}
	if l.settle(f, reordered) {
		t.Error("a label has found a place outside the bounds")
	}
	if !l.settle(f, noted) {
		t.Fatal("there is no note")
	}
	l.draw(f.page)
	if drawn["3"] || !drawn["4"] {
		t.Errorf("drawn: %v, want 4 alone", drawn)
	}
	if !slices.Contains(f.page.Texts(), "3: see the bend steps") {
		t.Error("no note tells of label 3")
	}
}
