package export

import (
	"math"
	"strings"
	"testing"

	"springwright/design/notice"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/export/sheet"
	"springwright/export/words"
)

// bodyMM is how much of a page's height its text takes, mm, without head and foot.
func bodyMM(p *sheet.Page, f *flow) float64 {
	low := f.area.Max.Y
	for _, text := range p.Texts() {
		for _, box := range p.Places(text) {
			if box.Min.Y > f.area.Min.Y && box.Max.X > f.area.Min.X { // not the bars'
				low = math.Min(low, box.Min.Y)
			}
		}
	}
	return f.area.Max.Y - low
}

// targetOf has so many windows less the two checks that there always are.
func targetOf(checks int) target.Target {
	var t target.Target
	windows := checks - 2
	for _, l := range [...]*target.LoadWindow{&t.Travel, &t.Start, &t.Anchor} {
		for i := range 3 {
			for _, w := range [...]*target.Window{&l.ForceN[i], &l.CoupleNMM[i]} {
				if windows > 0 {
					*w = target.Window{Min: -20, Max: 20}
				}
				windows--
			}
		}
	}
	return t
}

// A page of loads that is a little too full spilled its last lines, a quarter of a page or less,
// onto a page of their own.
func TestPageOfLoadsSpillsNoFewLines(t *testing.T) {
	for positions := 5; positions <= 16; positions++ {
		for checks := 2; checks <= 20; checks += 3 {
			job := testJob()
			job.Pages, job.Paper = []Page{StepsPage, LoadsPage}, Paper((positions+checks/2)%2) // the cautions stand below the steps
			record := job.Evaluation.Record.Positions
			for len(record) < positions {
				record = append(record, record[len(record)-1])
			}
			job.Evaluation.Record.Positions = record[:positions]
			job.Case.Target = targetOf(checks)
			job.Evaluation.Record.Verdict = &target.Shortfall{}
			_, f, err := begin(job)
			if err != nil {
				t.Fatal(err)
			}
			doc, err := compose(job)
			if err != nil {
				t.Fatal(err)
			}
			for i, p := range doc.Pages {
				for _, fault := range p.Faults() {
					t.Errorf("%d positions, %d checks, page %d: %s", positions, checks, i+1, fault)
				}
			}
			last := doc.Pages[len(doc.Pages)-1]
			if taken := bodyMM(last, f); len(doc.Pages) > 2 && taken < f.area.Height()/4 {
				t.Errorf("%d positions, %d checks on %v: page %d holds no more than %.0f mm", positions, checks, job.Paper, len(doc.Pages), taken)
			}
		}
	}
}

// What to mind at a kind of work stands where it is done, once, as what to do: not as a warning
// on every sheet. Where no page is laid out for that work it is a warning.
func TestInstructionsStandWhereTheWorkIsDone(t *testing.T) {
	job := testJob()
	job.Evaluation.Warnings = notice.List{
		notice.OpposedBends{Bends: []int{1}, Worst: 1, StressRatio: 0.48, LimitRatio: 0.5},
		notice.Play{Teeth: job.Case.Teeth, Component: tooth.ForceZ, Tied: 0.4, Played: 0.3},
		notice.ElasticYield{StressRatio: 1.2, TravelLeftMM: 2},
	}
	var texts [3]struct{ do, warn string }
	for i, w := range job.Evaluation.Warnings {
		text, hint := words.NewBook(words.English).Notice(w)
		texts[i].warn = "Warning: " + text + ". " + words.Capital(hint) + "."
		if notice.WorkOf(w) != notice.Anybody {
			texts[i].do = words.Capital(hint) + ". " + words.Capital(text) + "."
		}
	}
	for _, test := range []struct {
		pages []Page
		on    [3]string // the page with the instruction; empty: a warning anywhere
	}{
		{nil, [3]string{"Bend steps", "Loads", ""}},
		{[]Page{StepsPage, TemplatePage}, [3]string{"Bend steps", "", ""}},
		{[]Page{LoadsPage}, [3]string{"", "Loads", ""}},
		{[]Page{TemplatePage, LaboratoryPage}, [3]string{"", "", ""}},
	} {
		job.Pages = test.pages
		doc, err := compose(job)
		if err != nil {
			t.Fatal(err)
		}
		for i, text := range texts {
			var do, warn []string
			for _, p := range doc.Pages {
				page := pageText(p)
				for range strings.Count(page, text.warn) {
					warn = append(warn, p.Title)
				}
				for range strings.Count(page, text.do) {
					if text.do != "" {
						do = append(do, p.Title)
					}
				}
			}
			switch {
			case test.on[i] == "" && (len(warn) != 1 || len(do) != 0):
				t.Errorf("pages %v: %q stands on %q, and as what to do on %q, want one warning", test.pages, text.warn, warn, do)
			case test.on[i] != "" && (len(warn) != 0 || len(do) != 1 || do[0] != test.on[i]):
				t.Errorf("pages %v: %q stands on %q, and as a warning on %q, want once on %q", test.pages, text.do, do, warn, test.on[i])
			}
		}
	}
}

// The travel runs one way everywhere: to the right, from what is left at the start to nothing.
func TestTravelRunsOneWay(t *testing.T) {
	job := testJob()
	job.Pages = []Page{LoadsPage}
	loads, err := compose(job)
	if err != nil {
		t.Fatal(err)
	}
	comparison, err := testComparison().compose()
	if err != nil {
		t.Fatal(err)
	}
	for name, p := range map[string]*sheet.Page{"loads": loads.Pages[0], "comparison": comparison.Pages[0]} {
		// The numbers below the axis of the first chart, of which 2.0 and 0.5 mm are two: those
		// on a line with the title of the axis close below.
		title := p.Places("travel left, mm")
		if len(title) == 0 {
			t.Errorf("%s: no axis of the travel: %q", name, p.Texts())
			continue
		}
		at := func(number string) float64 {
			for _, box := range p.Places(number) {
				if above := box.Min.Y - title[0].Max.Y; above > 0 && above < 4 && math.Abs(box.Centre().X-title[0].Centre().X) < 60 {
					return box.Centre().X
				}
			}
			t.Errorf("%s: no %s on the axis of the travel", name, number)
			return math.NaN()
		}
		if start, end := at("2.0"), at("0.5"); !(start < end) {
			t.Errorf("%s: 2.0 mm of travel left lie at %.1f mm, 0.5 mm at %.1f mm: want the travel to run to the right", name, start, end)
		}
	}
}
