package export

import (
	"strings"
	"testing"

	"springwright/export/sheet"
	"springwright/export/words"
)

// Couples that matter to no tooth are left out under the tables of loads, others are not.
func TestSmallCouplesAreLeftOut(t *testing.T) {
	for _, c := range []struct {
		coupleNMM float64
		said      bool
	}{{0.01, false}, {0.09, false}, {0.11, true}} {
		job := testJob()
		for i := range job.Evaluation.Record.Positions {
			p := &job.Evaluation.Record.Positions[i]
			p.Active.CoupleNMM.X, p.Active.CoupleNMM.Z = 0, c.coupleNMM
			p.Anchor.CoupleNMM.X, p.Anchor.CoupleNMM.Z = 0, 0
		}
		job.Pages = []Page{LoadsPage}
		doc, err := compose(job)
		if err != nil {
			t.Fatal(err)
		}
		var texts []string
		for _, p := range doc.Pages {
			texts = append(texts, p.Texts()...)
		}
		if said := strings.Contains(strings.Join(texts, "\n"), "Largest rotating couple"); said != c.said {
			t.Errorf("%g N·mm: said %t, want %t", c.coupleNMM, said, c.said)
		}
	}
}

// How a tooth begins to move has room in its column, with some before the next one.
func TestMovementsKeepToTheirColumn(t *testing.T) {
	for _, language := range words.Languages() {
		job := testJob()
		job.Language = language
		of, f, err := begin(job)
		if err != nil {
			t.Fatal(err)
		}
		columns := teethPage{of}.movementTable(job.Teeth.Active).Columns
		total := 0.0
		for _, c := range columns {
			total += c.WidthMM
		}
		if total > f.area.Width() {
			t.Errorf("%v: the table is %.1f mm wide, the page %.1f", language, total, f.area.Width())
		}
		const apartMM = 2
		for _, kind := range [...]words.Phrase{"bodily", "nearly bodily", "tipping", "turning on the spot"} {
			if w := f.doc.WidthOf(f.say(kind), sheet.Style{SizePt: sheet.BodyPt}); w+apartMM > columns[6].WidthMM {
				t.Errorf("%v: %q takes %.1f mm of %.1f", language, f.say(kind), w, columns[6].WidthMM)
			}
		}
	}
}
