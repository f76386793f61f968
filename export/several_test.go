package export

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/tooth"
	"springwright/export/plane"
)

func TestSpringsNeverOverlap(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 5))
	pairs := [...]tooth.Pair{{Anchor: 36, Active: 37}, {Anchor: 46, Active: 47}, {Anchor: 16, Active: 15}, {Anchor: 26, Active: 23}}
	for trial := range 12 {
		s := SpringSheet{Imprint: Imprint{Paper: Paper(trial % 2)}, Twins: trial%3 == 0, PerSheet: []int{0, 0, 3, 1}[trial%4]}
		for i := range 1 + trial {
			spring := jobFor(randomPath(random), pairs[i%len(pairs)], design.Heading(i%2)).Spring
			s.Springs = append(s.Springs, SheetSpring{Code: fmt.Sprintf("c-%d", i), Teeth: pairs[i%len(pairs)], Spring: spring})
		}
		doc, places, err := s.compose()
		if errors.Is(err, ErrJob) && strings.Contains(err.Error(), "mm") {
			continue // too large, and said so
		}
		if err != nil {
			t.Errorf("trial %d: %v", trial, err)
			continue
		}
		want := len(s.Springs)
		if s.Twins {
			want *= 2
		}
		if len(places) != want {
			t.Errorf("trial %d: %d springs drawn, want %d", trial, len(places), want)
		}
		onPage := map[int]int{}
		for i, p := range places {
			onPage[p.page]++
			if !p.cell.Holds(p.template) {
				t.Errorf("trial %d: spring %d leaves its cell", trial, i)
			}
			for _, other := range places[:i] {
				if other.page == p.page && other.cell.Overlaps(p.cell) {
					t.Errorf("trial %d: springs share a place", trial)
				}
			}
		}
		for page, n := range onPage {
			if s.PerSheet > 0 && n > s.PerSheet {
				t.Errorf("trial %d: %d springs on page %d, want at most %d", trial, n, page, s.PerSheet)
			}
		}
		for i, p := range doc.Pages {
			for _, fault := range p.Faults() {
				t.Errorf("trial %d, page %d: %s", trial, i+1, fault)
			}
		}
	}
}

func TestSpringSheetRefusals(t *testing.T) {
	spring := SheetSpring{Code: "c", Teeth: tooth.Pair{Anchor: 36, Active: 37}, Spring: testJob().Spring}
	long := spring
	long.Spring.Path = design.Path{design.StraightStep(176)}
	for _, test := range []struct {
		name  string
		sheet SpringSheet
		words string
	}{
		{"nothing", SpringSheet{}, "there is no spring"},
		{"crowd", SpringSheet{Springs: []SheetSpring{spring}, PerSheet: 90}, "holds at most"},
		{"negative", SpringSheet{Springs: []SheetSpring{spring}, PerSheet: -1}, "-1 springs a sheet"},
		{"long", SpringSheet{Springs: []SheetSpring{long}}, "A4 has room for"},
		{"teeth", SpringSheet{Springs: []SheetSpring{{Code: "c", Spring: spring.Spring}}}, "not a tooth"},
		{"printer", SpringSheet{Springs: []SheetSpring{spring}, Imprint: Imprint{Printer: Printer{LevelMM: 89}}}, "level bar measures 89 mm (allowed: 90 to 110)"},
	} {
		_, _, err := Springs(test.sheet)
		if !errors.Is(err, ErrJob) || !strings.Contains(err.Error(), test.words) {
			t.Errorf("%s: error %v, want ErrJob that says %q", test.name, err, test.words)
		}
	}
}

// Letter is wider than A4: a spring that needs that is told so.
func TestOtherPaperIsNamed(t *testing.T) {
	spring := SheetSpring{Code: "c", Teeth: tooth.Pair{Anchor: 36, Active: 37}, Spring: testJob().Spring}
	spring.Spring.AnchorSlotLengthMM, spring.Spring.ActiveSlotLengthMM = 0, 0
	spring.Spring.Path = design.Path{design.StraightStep(166)}
	_, _, err := Springs(SpringSheet{Springs: []SheetSpring{spring}})
	if err == nil || !strings.Contains(err.Error(), "it fits on Letter") {
		t.Errorf("error %v, want one that says that it fits on Letter", err)
	}
}

func TestTwinIsTheMirrorImage(t *testing.T) {
	for _, job := range [...]Job{testJob(), spatialJob()} {
		f, err := newFlow(job)
		if err != nil {
			t.Fatal(err)
		}
		g, err := newFlow(job.twin())
		if err != nil {
			t.Fatal(err)
		}
		s, twin := f.scene(), g.scene()
		same := func(what string, a, b []plane.Point) {
			if len(a) != len(b) {
				t.Fatalf("%s has %d points, the twin's %d", what, len(a), len(b))
			}
			for i := range a {
				if d := b[i].Sub(plane.Point{X: -a[i].X, Y: a[i].Y}).Norm(); d > 1e-9 {
					t.Fatalf("%s: point %d of the twin is %v, of the spring %v", what, i, b[i], a[i])
				}
			}
		}
		same("the passive wire", s.passive.centre, twin.passive.centre)
		same("the seated wire", s.seated.centre, twin.seated.centre)
		for i := range s.slots {
			same(s.slots[i].name, s.slots[i].outline, twin.slots[i].outline)
		}
	}
}

func TestMeasuringSheetReadsCleanly(t *testing.T) {
	for _, paper := range [...]Paper{A4, Letter} {
		for _, printer := range [...]Printer{{}, {LevelMM: 90, UprightMM: 90}, {LevelMM: 110, UprightMM: 110}} {
			doc, err := Imprint{Paper: paper, Printer: printer}.measuring()
			if err != nil {
				t.Fatal(err)
			}
			for _, fault := range doc.Pages[0].Faults() {
				t.Errorf("%v: %s", paper, fault)
			}
		}
	}
}

func TestCorrectedPagesReadCleanly(t *testing.T) {
	for _, paper := range [...]Paper{A4, Letter} {
		for _, printer := range [...]Printer{{LevelMM: 99.2, UprightMM: 99.6}, {LevelMM: 90, UprightMM: 90}, {LevelMM: 110, UprightMM: 110}} {
			for kind, doc := range documents(t, paper, printer) {
				for i, p := range doc.Pages {
					for _, fault := range p.Faults() {
						t.Errorf("%s on %v for %v, page %d: %s", kind, paper, printer, i+1, fault)
					}
				}
			}
		}
	}
}
