package export

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"springwright/design/beam"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/export/plane"
	"springwright/export/words"

	"gonum.org/v1/gonum/spatial/r3"
)

func TestSpringsNeverOverlap(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 5))
	pairs := [...]tooth.Pair{{Anchor: 36, Active: 37}, {Anchor: 46, Active: 47}, {Anchor: 16, Active: 15}, {Anchor: 26, Active: 23}}
	for trial := range 12 {
		s := SpringSheet{Frame: Frame{Paper: Paper(trial % 2)}, Twins: trial%3 == 0, PerSheet: []int{0, 0, 3, 1}[trial%4]}
		for i := range 1 + trial {
			spring := jobFor(randomPath(random), pairs[i%len(pairs)], spring.Heading(i%2)).Spring
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
	s := SheetSpring{Code: "c", Teeth: tooth.Pair{Anchor: 36, Active: 37}, Spring: testJob().Spring}
	long := s
	long.Spring.Path = spring.PathOf(spring.StraightStep(176))
	for _, test := range []struct {
		name  string
		sheet SpringSheet
		words string
	}{
		{"nothing", SpringSheet{}, "there is no spring"},
		{"crowd", SpringSheet{Springs: []SheetSpring{s}, PerSheet: 90}, "holds at most"},
		{"negative", SpringSheet{Springs: []SheetSpring{s}, PerSheet: -1}, "-1 springs a sheet"},
		{"long", SpringSheet{Springs: []SheetSpring{long}}, "A4 has room for"},
		{"teeth", SpringSheet{Springs: []SheetSpring{{Code: "c", Spring: s.Spring}}}, "not a tooth"},
		{"printer", SpringSheet{Springs: []SheetSpring{s}, Frame: Frame{Printer: Printer{LevelMM: 89}}}, "level bar measures 89 mm (allowed: 90 to 110)"},
	} {
		_, _, err := Springs(test.sheet)
		if !errors.Is(err, ErrJob) || !strings.Contains(err.Error(), test.words) {
			t.Errorf("%s: error %v, want ErrJob that says %q", test.name, err, test.words)
		}
	}
}

// Letter is wider than A4: a spring that needs that is told so.
func TestOtherPaperIsNamed(t *testing.T) {
	s := SheetSpring{Code: "c", Teeth: tooth.Pair{Anchor: 36, Active: 37}, Spring: testJob().Spring}
	s.Spring.AnchorSlotLengthMM, s.Spring.ActiveSlotLengthMM = 0, 0
	s.Spring.Path = spring.PathOf(spring.StraightStep(166))
	_, _, err := Springs(SpringSheet{Springs: []SheetSpring{s}})
	if err == nil || !strings.Contains(err.Error(), "it fits on Letter") {
		t.Errorf("error %v, want one that says that it fits on Letter", err)
	}
}

func TestTwinIsTheMirrorImage(t *testing.T) {
	for _, job := range [...]Job{testJob(), spatialJob()} {
		of, _, err := begin(job)
		if err != nil {
			t.Fatal(err)
		}
		other, _, err := begin(job.twin())
		if err != nil {
			t.Fatal(err)
		}
		s, twin := of.scene(), other.scene()
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

// Each spring of a sheet has beside its drawing what the bench needs: where its end lies,
// what a gauge reads, and its warnings. One that is not flat is not to be laid on the paper,
// and is seen from the biting side, too.
func TestSpringsCarryTheirChecks(t *testing.T) {
	said := func(s SpringSheet) string {
		doc, _, err := s.compose()
		if err != nil {
			t.Fatal(err)
		}
		text := ""
		for _, p := range doc.Pages {
			text += strings.Join(p.Texts(), " ") + " "
		}
		return text
	}
	count := func(text, part string, want int) {
		t.Helper()
		if got := strings.Count(text, part); got != want {
			t.Errorf("%q stands %d times, want %d:\n%s", part, got, want, text)
		}
	}
	s := springSheet(Frame{})
	s.Twins = false
	text := said(s)
	count(text, "Neutral position: with only the anchor end seated, E lies", 2)
	count(text, "0.43 N (44 gf); 0.32 to 0.54 N", 2)
	count(text, "Warning: stress comes to 0.93 of the yield stress", 2)
	count(text, "Lay the wire on the drawing", 0)
	count(text, "Only flat ones are laid on the drawing", 1)
	count(text, "palatal", 2) // where the end lies, and an arrow of the view from the biting side

	flat := s
	flat.Springs = s.Springs[:1]
	text = said(flat)
	count(text, "Lay the wire on the drawing after every bend.", 1)
	count(text, "Only flat ones", 0)

	for words, err := range map[string]error{
		"No gauge value: the wire yields":                              fmt.Errorf("here: %w", solve.ErrYield),
		"No gauge value and no warnings: no equilibrium was found for": errors.New("no convergence"),
	} {
		s.Springs[0].Unsolved, s.Springs[1].Unsolved = err, err
		text = said(s)
		count(text, words, 2)
		count(text, "0.43 N", 0)
		count(text, "Neutral position", 2) // it follows from the shape alone
	}
}

// Where the side matters and no file names it, the sheet says so; teeth other than those that
// a spring is made for are refused.
func TestSpringsWithoutTeethSaySo(t *testing.T) {
	said := func(s SpringSheet) string {
		doc, _, err := s.compose()
		if err != nil {
			t.Fatal(err)
		}
		text := ""
		for _, p := range doc.Pages {
			text += strings.Join(p.Texts(), " ") + " "
		}
		return text
	}
	s := springSheet(Frame{})
	s.Twins = false
	own := s.Springs[1]
	flat := own
	flat.Spring.Path = spring.PathOf(flat.Spring.Path.Steps()[0])
	flat.Spring.Start, flat.Spring.End = spring.Seat{AtMM: r3.Vec{X: 8}}, spring.Seat{AtMM: r3.Vec{X: 8, Z: 1}}
	for _, tt := range []struct {
		name   string
		spring SheetSpring
		known  bool
		want   int
	}{{"known", own, true, 0}, {"not known", own, false, 1}, {"flat", flat, false, 0}} {
		tt.spring.Spring.Teeth = tooth.Pair{}
		if tt.known {
			tt.spring.Spring.Teeth = tt.spring.Teeth
		}
		s.Springs = []SheetSpring{tt.spring}
		if got := strings.Count(said(s), "The spring's file does not name its teeth"); got != tt.want {
			t.Errorf("%s: said %d times, want %d", tt.name, got, tt.want)
		}
	}
	s.Springs[0].Spring.Teeth = s.Springs[0].Teeth.Mirrored()
	if _, _, err := s.compose(); !errors.Is(err, ErrJob) || !strings.Contains(err.Error(), "it is made for tooth ") {
		t.Errorf("another side: %v", err)
	}
}

// A twin goes by a code of its own wherever it is named, with its own teeth.
func TestTwinHasItsOwnCode(t *testing.T) {
	for l := words.English; l.Valid(); l++ {
		job := testJob()
		job.Twin, job.Language, job.Pages = true, l, []Page{TemplatePage}
		doc, err := compose(job)
		if err != nil {
			t.Fatal(err)
		}
		first, twin := strings.Join(doc.Pages[0].Texts(), "|"), strings.Join(doc.Pages[1].Texts(), "|")
		code := job.twin().Case.Code
		if code == job.Case.Code || !strings.HasPrefix(code, job.Case.Code) || !strings.HasSuffix(code, "47") {
			t.Errorf("%v: the twin's code is %q", l, code)
		}
		if !strings.Contains(twin, code) || strings.Contains(first, code) || !strings.Contains(twin, " 47, ") || strings.Contains(twin, " 37, ") {
			t.Errorf("%v: the twin's page says\n%s\nand the first\n%s", l, twin, first)
		}
		s := springSheet(Frame{Language: l})
		_, _, err = s.compose()
		if err != nil {
			t.Fatal(err)
		}
		list, err := s.BendLists()
		if err != nil || !strings.Contains(list, code+": ") {
			t.Errorf("%v: no list is headed %s (%v)", l, code, err)
		}
	}
	job := testJob()
	job.Case.Code = ""
	if code := job.twin().Case.Code; code != "" {
		t.Errorf("without a code the twin has %q", code)
	}
}

// The hand words of a twin are those of its spring but for the hands.
func TestTwinIsBentWithTheHandsExchanged(t *testing.T) {
	random := rand.New(rand.NewPCG(8, 8))
	for _, s := range sitting {
		job := jobFor(spatialRandomPath(random), s.pair, spring.On)
		of, _, err := begin(job)
		if err != nil {
			t.Fatal(err)
		}
		twin, _, err := begin(job.twin())
		if err != nil {
			t.Fatal(err)
		}
		if of.bends.AnchorLeft == twin.bends.AnchorLeft {
			t.Errorf("%v: the twin's anchor end is in the same hand", s.pair)
		}
		for i, r := range of.bends.Rows {
			if b := twin.bends.Rows[i]; b.Line != r.Line || b.TopToYou != r.TopToYou {
				t.Errorf("%v: row %+v, of the twin %+v", s.pair, r, b)
			}
		}
	}
}

// The mark E is drawn where the wire between the slots ends, and the neutral position is
// that of this point.
func TestEndMarkIsWhereTheWireEntersTheSlot(t *testing.T) {
	for _, job := range [...]Job{testJob(), spatialJob()} {
		of, _, err := begin(job)
		if err != nil {
			t.Fatal(err)
		}
		s := of.scene()
		end := job.Spring.Rod().UnloadedEnd(beam.Origin()).At
		x, y := of.view.Page(end)
		if got := s.passive.centre[s.start[len(s.start)-1]]; got.Sub(plane.Point{X: x, Y: y}).Norm() > 1e-9 {
			t.Errorf("E is drawn at %v, want %v, %v", got, x, y)
		}
		e := of.freeEnd()
		off := r3.Sub(end, job.Spring.Start.AtMM)
		if math.Abs(e.upMM-math.Abs(off.Z)) > 1e-9 || math.Abs(e.alongMM-math.Abs(off.X)) > 1e-9 || math.Abs(e.acrossMM-math.Abs(off.Y)) > 1e-9 {
			t.Errorf("E lies %+v off the slot's entry, want %v", e, off)
		}
		doc, err := compose(job)
		if err != nil {
			t.Fatal(err)
		}
		marks := 0
		for _, text := range doc.Pages[0].Texts() {
			if text == "E" {
				marks++
			}
		}
		if views := map[bool]int{false: 2, true: 4}[of.spatial()]; marks != views {
			t.Errorf("E is marked %d times on the template, want %d", marks, views)
		}
		want := fmt.Sprintf("mark at %.2f mm", job.Spring.Path.WireLengthMM())
		if text := (freeEndCheck{of}).endMarkText(); !strings.Contains(text, want) {
			t.Errorf("%q, want the %s", text, want)
		}
	}
}

func TestMeasuringSheetReadsCleanly(t *testing.T) {
	for _, paper := range [...]Paper{A4, Letter} {
		for _, printer := range [...]Printer{{}, {LevelMM: 90, UprightMM: 90}, {LevelMM: 110, UprightMM: 110}} {
			doc, err := Frame{Paper: paper, Printer: printer}.measuring()
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
