package export

import (
	"bytes"
	"errors"
	"math"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/export/sheet"
	"springwright/export/words"
)

// spoken are documents that have all kinds of pages in a language, on both papers.
func spoken(t *testing.T, l words.Language) map[string]*sheet.Document {
	t.Helper()
	all := map[string]*sheet.Document{}
	put := func(name string, doc *sheet.Document, err error) {
		if err != nil {
			t.Fatalf("%v, %s: %v", l, name, err)
		}
		all[name] = doc
	}
	for _, paper := range [...]Paper{A4, Letter} {
		for name, job := range map[string]Job{
			"flat": testJob(), "spatial": spatialJob(),
			"upper front": jobFor(loopPath(), tooth.Pair{Anchor: 26, Active: 23}, spring.On),
			"lower right": jobFor(spatialPath(), tooth.Pair{Anchor: 46, Active: 47}, spring.Back),
		} {
			job = judged(job)
			job.Paper, job.Language, job.Twin, job.Stages = paper, l, true, true
			job.Printer = Printer{LevelMM: 99.2, UprightMM: 99.6}
			if name == "spatial" {
				job.Evaluation.Gauge.TravelMM = 3.42
			}
			doc, err := compose(job)
			put(name+" on "+paper.String(), doc, err)
		}
		comparison := testComparison()
		comparison.Candidates[0].Title = "rectangular loop, beta-titanium, 0.432 × 0.635 mm"
		for i := range comparison.Candidates[1:] {
			comparison.Candidates[1+i].Title = "straight wire, superelastic nickel-titanium, round 0.356 mm"
		}
		comparison.Candidates[2].Withheld = errors.New("the wire yields: stress is 3.70 of the yield stress 1400 MPa with 2.00 mm of travel left (allowed: up to 1.00); it stays elastic for no more than 0.52 mm of the travel")
		comparison.Paper, comparison.Language = paper, l
		doc, err := comparison.compose()
		put("comparison on "+paper.String(), doc, err)
		frame := Frame{Version: "0.1.0", Date: "2026-11-24", Paper: paper, Language: l}
		doc, _, err = springSheet(frame).compose()
		put("springs on "+paper.String(), doc, err)
		for name, a := range map[string]AsBent{"flat": testAsBent(testJob()), "spatial": testAsBent(spatialJob())} {
			a.Frame = frame
			doc, err = a.compose()
			put(name+", as bent, on "+paper.String(), doc, err)
		}
		for name, job := range map[string]Job{"flat": testJob(), "spatial": spatialJob()} {
			class := testCourse(job, frame, 5)
			doc, err = class.students()
			put(name+", exercise, on "+paper.String(), doc, err)
			doc, err = class.answers()
			put(name+", answers, on "+paper.String(), doc, err)
			doc, err = class.keys()
			put(name+", keys, on "+paper.String(), doc, err)
			doc, err = testClassMarks(class).compose()
			put(name+", marks, on "+paper.String(), doc, err)
		}
		doc, err = frame.measuring()
		put("measuring on "+paper.String(), doc, err)
	}
	return all
}

// judged is a job whose spring was held against a target with windows of all kinds, some of
// them missed.
func judged(job Job) Job {
	record := &job.Evaluation.Record
	if record.Verdict == nil {
		record.Verdict = &target.Shortfall{}
	}
	inf := math.Inf(1)
	t := &job.Case.Target
	t.Start.ForceN[2] = target.Window{Min: 0.5, Max: 0.6}
	t.Travel.CoupleNMM[1] = target.Window{Min: -0.5, Max: 0.5, Aimed: true}
	t.Travel.ForceN[0] = target.Window{Min: -0.02, Max: 0.06}
	t.Travel.ForceN[1] = target.Window{Min: -inf, Max: 0.1}
	t.Anchor.ForceN[2] = target.Window{Min: -0.4, Max: inf}
	t.Anchor.CoupleNMM[0] = target.Window{Min: -0.4, Max: -0.1}
	*t = t.WithUsualLimits(job.Case.Teeth.Active)
	return job
}

// caseWords finds what a case file calls a thing, which is so in every language: keys of loads, and
// in quotes the kinds of springs and how a wire enters.
func caseWords() *regexp.Regexp {
	quoted := append(design.FamilyNames(), "from the anchor", "from behind")
	return regexp.MustCompile(`\b[a-z_]+_nm?m?\b|"(?:` + strings.Join(quoted, "|") + `)"`)
}

func TestEveryLanguageReadsCleanly(t *testing.T) {
	point := regexp.MustCompile(`\d\.\d`)
	// Longer than words that languages share or that are parts of others.
	const telling = 9
	for _, l := range words.Languages()[1:] {
		own := words.NewBook(l)
		for name, doc := range spoken(t, l) {
			for i, p := range doc.Pages {
				for _, fault := range p.Faults() {
					t.Errorf("%v, %s, page %d: %s", l, name, i+1, fault)
				}
				for _, text := range p.Texts() {
					if strings.HasSuffix(text, "…") {
						t.Errorf("%v, %s, page %d: %q is cut short", l, name, i+1, text)
					}
					if point.MatchString(strings.ReplaceAll(text, "springwright 0.1.0", "")) {
						t.Errorf("%v, %s, page %d: %q has a decimal point", l, name, i+1, text)
					}
				}
				page := caseWords().ReplaceAllString(strings.Join(p.Texts(), " "), "")
				for _, english := range words.Phrases() {
					for piece := range strings.SplitSeq(regexp.MustCompile(`%[-.\d]*[sdgf]|\n`).ReplaceAllString(english, "\x00"), "\x00") {
						piece = strings.TrimSpace(piece)
						if len(piece) >= telling && strings.Contains(page, piece) && !strings.Contains(own.Name(english), piece) {
							t.Errorf("%v, %s, page %d: it says %q", l, name, i+1, piece)
						}
					}
				}
			}
		}
	}
}

func TestFilesNameTheirLanguage(t *testing.T) {
	for l, want := range map[words.Language][3]string{
		words.English:    {"/Lang<FEFF0065006E002D00470042>", `lang="en-GB"`, "<title>Bending template demo-37"},
		words.Portuguese: {"/Lang<FEFF00700074002D00420052>", `lang="pt-BR"`, "<title>Gabarito de dobra demo-37"},
		words.Spanish:    {"/Lang<FEFF00650073>", `lang="es"`, "<title>Plantilla de doblado demo-37"},
	} {
		job := testJob()
		job.Language = l
		file, pages, err := Sheets(job)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Contains(file, []byte(want[0])) {
			t.Errorf("%v: the PDF file lacks %s", l, want[0])
		}
		for i, page := range pages {
			if !bytes.Contains(page, []byte(want[1])) || !bytes.Contains(page, []byte(want[2])) {
				t.Errorf("%v: page %d lacks %s or %s", l, i+1, want[1], want[2])
			}
		}
	}
}

func TestCodesKeepTheirPoints(t *testing.T) {
	job := testJob()
	job.Language = words.Portuguese
	job.Case.Code = "1.25"
	job.Pages = []Page{LaboratoryPage}
	doc, err := compose(job)
	if err != nil {
		t.Fatal(err)
	}
	count := 0
	for _, text := range doc.Pages[0].Texts() {
		if text == "1.25" {
			count++
		}
	}
	if count != 2 {
		t.Errorf("the code stands %d times on the page as it was given, want 2: head and order", count)
	}
}

// Longer words must find their places, too.
func TestLabelsNeverTouchInAnyLanguage(t *testing.T) {
	random := rand.New(rand.NewPCG(13, 17))
	pairs := [...]tooth.Pair{{Anchor: 36, Active: 37}, {Anchor: 46, Active: 47}, {Anchor: 16, Active: 15}, {Anchor: 26, Active: 23}}
	for i := range 24 {
		job := jobFor(randomPath(random), pairs[i%len(pairs)], spring.Heading(i/4%2))
		job.Language = words.Languages()[1+i%(len(words.Languages())-1)]
		job.Paper = Paper(i / 2 % 2)
		job.Pages = []Page{TemplatePage, StagesPage, StepsPage}
		doc, err := compose(job)
		if errors.Is(err, ErrJob) && strings.Contains(err.Error(), "has room for") {
			continue // too long for the paper, and said so
		}
		if err != nil {
			t.Errorf("spring %d: %v", i, err)
			continue
		}
		for k, p := range doc.Pages {
			for _, fault := range p.Faults() {
				t.Errorf("spring %d, page %d: %s", i, k+1, fault)
			}
			for _, text := range p.Texts() {
				if strings.HasSuffix(text, "…") {
					t.Errorf("spring %d, page %d: %q is cut short", i, k+1, text)
				}
			}
		}
	}
}
