package export

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/effect"
	"springwright/design/target"
)

// textOfPages is what the pages of a job say, each in one line.
func textOfPages(t *testing.T, job Job) []string {
	t.Helper()
	doc, err := compose(job)
	if err != nil {
		t.Fatal(err)
	}
	var pages []string
	for i, p := range doc.Pages {
		for _, fault := range p.Faults() {
			t.Errorf("page %d: %s", i+1, fault)
		}
		pages = append(pages, strings.Join(p.Texts(), " "))
	}
	return pages
}

const givenOutcome = "36 alone: 37 comes 0.46 of 2.00 mm before the spring is spent; 36 tips 5.6°, crown-mesial, and its slot moves 0.7 mm."

// Whoever reads page 1 alone learns how far the tooth gets and what that costs, and what a better
// hold would do; nobody is told twice.
func TestFirstPageSaysWhatTheAnchorLoses(t *testing.T) {
	for _, pages := range [][]Page{nil, {StepsPage, LoadsPage}, {TemplatePage, TwinPage}} {
		job := testJob()
		job.Pages = pages
		texts := textOfPages(t, job)
		for _, want := range []string{givenOutcome, "35–36 joined: 37 comes 0.51 of 2.00 mm before the spring is spent; 36 tips 3.3°, crown-mesial, and its slot moves 0.6 mm."} {
			if !strings.Contains(texts[0], want) {
				t.Errorf("%v: page 1 does not say %q:\n%s", pages, want, texts[0])
			}
			if n := strings.Count(strings.Join(texts, " "), want); n != 1 {
				t.Errorf("%v: %q is said %d times", pages, want, n)
			}
		}
	}
}

// The twin has other teeth than those that the prediction speaks of.
func TestTwinAloneSaysNothingOfTheFirstTeeth(t *testing.T) {
	job := testJob()
	job.Pages, job.Twin = []Page{TwinPage}, true
	if text := strings.Join(textOfPages(t, job), " "); strings.Contains(text, "36 alone") || strings.Contains(text, "46 alone") {
		t.Errorf("the twin's sheet says:\n%s", text)
	}
}

// The page of the teeth holds both outcomes against each other, and says whose drift is drawn.
func TestTeethPageHoldsAnchorsAgainstEachOther(t *testing.T) {
	job := testJob()
	job.Pages = []Page{TeethPage}
	text := strings.Join(textOfPages(t, job), " ")
	for _, want := range []string{
		"What becomes of both teeth", "37 comes, mm of 2.00", "36 alone 0.46 0.73 mesial 5.6° crown-mesial 0.7° lingual crown torque",
		"35–36 joined 0.51 0.59 mesial 3.3° crown-mesial", "Predicted drift of tooth 37 if its anchor stayed", "from memory",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the page lacks %q:\n%s", want, text)
		}
	}
	if strings.Contains(text, "the anchor tooth stays.") {
		t.Errorf("the page says that the anchor stays:\n%s", text)
	}
}

// What becomes of a tooth that is to stay, or whose anchor moves unpredictably, is no number.
func TestNoOutcomeIsNoNumber(t *testing.T) {
	job := testJob()
	report := *job.Teeth
	report.Anchors = []effect.AnchorOutcome{{Fault: effect.ErrNoDrift}}
	job.Teeth = &report
	if text := strings.Join(textOfPages(t, job), " "); strings.Contains(text, "36 alone") {
		t.Errorf("a tooth that is to stay has an outcome:\n%s", text)
	}
	report.Anchors = []effect.AnchorOutcome{{Anchorage: design.Anchorage{Held: design.BarHeld}, Fault: errors.New("anything")}}
	if text := strings.Join(textOfPages(t, job), " "); !strings.Contains(text, "36 with a bar: no prediction: ") || strings.Contains(text, "NaN") {
		t.Errorf("an anchor without a prediction is told as:\n%s", text)
	}
}

// Limits that a target sets to what the anchor loses stand among the checks, with value and limit.
func TestAnchorLimitsAreAmongTheChecks(t *testing.T) {
	job := testJob()
	job.Evaluation.Record.Verdict = &target.Shortfall{}
	job.Case.Target.AnchorLossMM, job.Case.Target.AnchorTipRad = 1, 5*degree
	of, _, err := begin(job)
	if err != nil {
		t.Fatal(err)
	}
	got := checkList{of}.checkTexts()
	for _, want := range []checkText{
		{"Anchorage loss at most 0.73 mm (limit at most 1.00 mm).", true},
		{"NOT MET: tipping of the anchor at most 5.6° (limit at most 5.0°).", false},
	} {
		if !slices.Contains(got, want) {
			t.Errorf("no check %+v among %+v", want, got)
		}
	}
}

func TestLoadsPageSaysWhatTheFirstDayTakes(t *testing.T) {
	job := testJob()
	job.Pages = []Page{LoadsPage}
	job.Evaluation.Record.Positions[0].Active.ForceN.Z = 0.44 // beta-titanium: 5 to 10 % of it
	const want = "After the first day the force is 0.40 to 0.42 N at the start, and 0.02 to 0.04 N lower all the way, as the wire relaxes (from memory)."
	if text := strings.Join(textOfPages(t, job), " "); !strings.Contains(text, want) {
		t.Errorf("the page does not say %q:\n%s", want, text)
	}
}
