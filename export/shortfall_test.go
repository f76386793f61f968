package export

import (
	"math"
	"slices"
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/export/sheet"
	"springwright/export/words"
)

// missing is a spring that misses a load at the start, one of the other sense on the way, and
// room.
func missing() *target.Shortfall {
	return &target.Shortfall{
		Misses: []target.Miss{
			{Quantity: target.OfActive(tooth.ForceZ), Value: 0.24, Window: target.Window{Min: 0.3, Max: 0.6}, AtStart: true, TravelLeftMM: 2},
			{Quantity: target.OfAnchor(tooth.ForceZ), Value: 0.2996, Window: target.Window{Min: math.Inf(-1), Max: -0.05}, TravelLeftMM: 1.25},
			{Quantity: target.OfActive(tooth.CoupleX), Value: -1.5, Window: target.Window{Min: -0.5, Max: 0.5}, TravelLeftMM: 1, AtResistance: true},
		},
		Exceeded: []target.Excess{{Limit: target.SelfLimit, Beyond: 0.4}, {Limit: target.BendsLimit, Beyond: 2}},
	}
}

func unmetJob(job Job) Job {
	job.Spring.Shortfall = missing()
	job.Evaluation.Record.Verdict = job.Spring.Shortfall
	job.Evaluation.Record.Spread = &spring.Spread{Springs: 1000, Met: 4, Unseated: 30, MostMissed: "intrusive force", Missed: target.OfActive(tooth.ForceZ), MissedShare: 0.996}
	job.Case.Bender = design.SkilledBender()
	return job
}

func pageText(p *sheet.Page) string { return strings.Join(p.Texts(), " ") }

func TestMissesInWords(t *testing.T) {
	job := unmetJob(testJob())
	want := []string{
		"intrusive force at the start: 0.240 N, asked 0.3 to 0.6 N",
		"intrusive force on anchor tooth 36 with 1.25 mm of travel left: 0.300 N, asked extrusive force on anchor tooth 36, at least 0.05 N",
		"buccal crown torque at the centre of resistance with 1.00 mm of travel left: 1.50 N·mm, asked ±0.5 N·mm",
		"the wire passes itself 0.40 mm too closely",
		"bends too many: 2",
	}
	got := words.NewBook(words.English).Shortfall(job.Case.Teeth, job.Spring)
	// −x on the lower left is crown-lingual or -buccal by the words of anatomy, which have
	// tests of their own: here only the rest of the sentence matters.
	got[2] = strings.Replace(got[2], "lingual", "buccal", 1)
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	for _, text := range got {
		if strings.Contains(text, "−") {
			t.Errorf("%q has a minus", text)
		}
	}
	if got := words.NewBook(words.English).Shortfall(tooth.Pair{}, testJob().Spring); got != nil {
		t.Errorf("a spring that misses nothing misses %q", got)
	}
}

// A spring that did not come out looks so: a band on every page of every kind, in every
// language on both papers, and nobody is asked to sign that it conforms.
func TestUnmetSpringsLookSo(t *testing.T) {
	for _, l := range words.Languages() {
		own := words.NewBook(l)
		conforms := own.Say("It is made as this sheet says and meets the prescription and the requirements that local rules put on such a device, except (say what and why, or “none”):")
		conforms = strings.Join(strings.Fields(conforms)[:8], " ")
		denies, _, _ := strings.Cut(own.Say("It does not meet the prescription: %s. Nobody can declare that it does. The prescriber decides in writing whether it is used:", "\x00"), "\x00")
		for name, job := range map[string]Job{"loop": testJob(), "spatial": spatialJob()} {
			for _, paper := range [...]Paper{A4, Letter} {
				for _, unmet := range [...]bool{true, false} {
					job := job
					if unmet {
						job = unmetJob(job)
					}
					job.Paper, job.Language = paper, l
					job.Pages = nil
					for page := range pageKinds {
						if Page(page) != CheckPage || name == "loop" { // the other one does not lie flat
							job.Pages = append(job.Pages, Page(page))
						}
					}
					doc, err := compose(job)
					if err != nil {
						t.Fatalf("%v, %s on %v: %v", l, name, paper, err)
					}
					kinds := map[string]bool{}
					for i, p := range doc.Pages {
						kinds[strings.TrimSuffix(p.Title, own.Say(", continued"))] = true
						page := pageText(p)
						if got := strings.Contains(page, own.Say(unmetTitle)); got != unmet {
							t.Errorf("%v, %s on %v, page %d: the band is there: %t, want %t", l, name, paper, i+1, got, unmet)
						}
						if first, _, _ := strings.Cut(words.Capital(own.Shortfall(job.Case.Teeth, unmetJob(job).Spring)[0]), ":"); strings.Contains(page, first) != unmet {
							t.Errorf("%v, %s on %v, page %d: %q is there: %t, want %t", l, name, paper, i+1, first, !unmet, unmet)
						}
						for _, fault := range p.Faults() {
							t.Errorf("%v, %s on %v, page %d: %s", l, name, paper, i+1, fault)
						}
						for _, text := range p.Texts() {
							if strings.HasSuffix(text, "…") {
								t.Errorf("%v, %s on %v, page %d: %q is cut short", l, name, paper, i+1, text)
							}
						}
					}
					if len(kinds) != len(job.Pages) {
						t.Errorf("%v, %s: pages of %d kinds, want all %d", l, name, len(kinds), len(job.Pages))
					}
					if doc.Says(conforms) == unmet || doc.Says(strings.TrimSpace(denies)) != unmet {
						t.Errorf("%v, %s on %v: the slip declares that the spring conforms: %t, that it does not: %t; it is met: %t",
							l, name, paper, doc.Says(conforms), doc.Says(strings.TrimSpace(denies)), !unmet)
					}
				}
			}
		}
	}
}

// However much is missed, the band stays a band.
func TestLongBandsAreCut(t *testing.T) {
	job := testJob()
	job.Spring.Shortfall = &target.Shortfall{}
	for q := range target.Quantities {
		for i := range 3 {
			job.Spring.Shortfall.Misses = append(job.Spring.Shortfall.Misses, target.Miss{Quantity: q, Value: float64(2 + i), Window: target.Window{Max: 1, Min: -2}, TravelLeftMM: 1})
		}
	}
	doc, err := compose(job)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(pageText(doc.Pages[0]), "; and ") || !strings.Contains(pageText(doc.Pages[0]), " more.") {
		t.Errorf("the band does not say that there is more: %q", doc.Pages[0].Texts())
	}
	job.Spring.Shortfall.Misses[0].Value = math.NaN()
	if _, err := compose(job); err == nil {
		t.Error("NaN is printed")
	}
}

func TestSheetsOfSeveralSpringsMarkThoseThatMiss(t *testing.T) {
	for _, l := range words.Languages() {
		own := words.NewBook(l)
		s := springSheet(Frame{Version: "0.1.0", Date: "2026-11-24", Language: l})
		mark := own.Say("NOT MET: misses its target")
		for unmet := range min(3, len(s.Springs)) {
			s.Springs[unmet].Spring.Shortfall = missing()
			for _, twins := range [...]bool{false, true} {
				s.Twins = twins
				doc, _, err := s.compose()
				if err != nil {
					t.Fatal(err)
				}
				title := own.Say("Springs on this sheet that do not meet the target they were designed for: %d of %d.", unmet+1, len(s.Springs))
				marks := 0
				for i, p := range doc.Pages {
					if !strings.Contains(pageText(p), title) || !strings.Contains(pageText(p), s.Springs[0].Code+": ") {
						t.Errorf("%v, page %d has no band: %q", l, i+1, p.Texts())
					}
					for _, fault := range p.Faults() {
						t.Errorf("%v, page %d: %s", l, i+1, fault)
					}
					marks += strings.Count(pageText(p), mark)
				}
				want := unmet + 1
				if twins {
					want *= 2
				}
				if marks != want {
					t.Errorf("%v: %d springs are marked, want %d", l, marks, want)
				}
			}
		}
	}
	one := SpringSheet{Springs: []SheetSpring{{Code: "one", Teeth: testJob().Case.Teeth, Spring: unmetJob(testJob()).Spring}}}
	doc, _, err := one.compose()
	if err != nil {
		t.Fatal(err)
	}
	if !doc.Says(unmetTitle) || !doc.Says("Intrusive force at the start: 0.240 N") {
		t.Errorf("the sheet of one spring has no band: %q", doc.Pages[0].Texts())
	}
	list, err := one.BendLists()
	if err != nil || !strings.Contains(strings.Join(strings.Fields(list), " "), unmetTitle+" Intrusive force at the start: 0.240 N") {
		t.Errorf("the list does not say that the spring misses its target (%v):\n%s", err, list)
	}
}

func TestComparisonsMarkASpringThatMisses(t *testing.T) {
	for _, l := range words.Languages() {
		c := testComparison()
		c.Language = l
		c.Candidates[0].Spring.Shortfall = missing()
		doc, err := c.compose()
		if err != nil {
			t.Fatal(err)
		}
		_, tail, _ := strings.Cut(words.NewBook(l).Say("%s: does not meet the target it was designed for.", "\x00"), "\x00")
		for i, p := range doc.Pages {
			if !strings.Contains(pageText(p), tail) {
				t.Errorf("%v, page %d has no band", l, i+1)
			}
		}
	}
}

// What a hand makes of the drawing stands on the first page and on the slip.
func TestShareOfHandBentSpringsIsPrinted(t *testing.T) {
	met := unmetJob(testJob())
	met.Spring.Shortfall, met.Evaluation.Record.Verdict = nil, &target.Shortfall{}
	const hand = "Of 1000 springs bent in trial by a hand that keeps bends to ±2.5° and straights to ±0.4 mm, and put right on the template, < 1 in 100 meet the target. " +
		"Most often missed: intrusive force (in > 99 of 100). Not to be seated at all: 3 in 100."
	freehand := met
	freehand.Case.Bender.Checks = false
	untried := met
	untried.Evaluation.Record.Spread = nil
	for _, test := range []struct {
		name string
		job  Job
		want string
	}{
		{"met", met, "Met as drawn. " + hand},
		{"not met", unmetJob(testJob()), "Not met, not even as drawn. " + hand},
		{"freehand", freehand, "straights to ±0.4 mm, < 1 in 100 meet"},
		{"not tried", untried, "Met as drawn."},
	} {
		for _, first := range [...]Page{TemplatePage, StepsPage, LoadsPage, TeethPage, StagesPage, TwinPage} {
			job := test.job
			job.Pages = []Page{first, LaboratoryPage}
			doc, err := compose(job)
			if err != nil {
				t.Fatal(err)
			}
			var on []string
			for _, p := range doc.Pages {
				if strings.Contains(pageText(p), test.want) {
					on = append(on, p.Title)
				}
			}
			if len(on) != 2 || on[0] != doc.Pages[0].Title || on[1] != "Laboratory" {
				t.Errorf("%s: it stands on %q, want on the first page and on the slip", test.name, on)
			}
		}
	}
}
