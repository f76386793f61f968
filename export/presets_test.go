package export

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"springwright/design/casefile"
	"springwright/design/family"
	"springwright/design/report"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/export/words"
)

// presetJobs are those made already: several tests draw every preset.
var presetJobs = map[string]Job{}

// presetJob is a preset's case with its spring before any search: the loads are not those
// wanted, but everything that a page has to say and to draw is there.
func presetJob(t *testing.T, file string) Job {
	t.Helper()
	if job, known := presetJobs[file]; known {
		return job
	}
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	c, err := casefile.ReadCase(file, data)
	if err != nil {
		t.Fatal(err)
	}
	pattern, err := family.PatternFor(c)
	if err != nil {
		t.Fatal(err)
	}
	spring := c.SpringFor(spring.PathOf(pattern.Steps...))
	e, err := solve.Evaluate(t.Context(), spring, solve.Options{AllowYield: true})
	if err != nil { // not every shape can be seated before the search
		t.Logf("%s has invented loads: %v", file, err)
		e = jobFor(spring.Path, c.Teeth, c.Heading).Evaluation
		for i := range e.Record.Positions { // in all directions, of two digits
			p := &e.Record.Positions[i]
			p.Active.ForceN.Y, p.Active.CoupleNMM.X, p.Active.CoupleNMM.Z = 0.14, 18.46, -13.87
			p.Anchor.ForceN.Y, p.Anchor.CoupleNMM.X, p.Anchor.CoupleNMM.Z = -0.14, -18.46, 13.87
		}
	}
	made, err := report.Of(t.Context(), c, spring, report.Options{Evaluation: &e})
	if err != nil {
		t.Fatal(err)
	}
	presetJobs[file] = Job{
		Report: made,
		Frame:  Frame{Version: "0.1.0", Date: "2026-11-24", Fingerprint: "0123456789"},
		Stages: true, Twin: true,
	}
	return presetJobs[file]
}

// Every preset must come out on both papers in every language: nothing outside the area
// that printers reach (else there is no document), nothing cut short, nothing that touches
// anything else, nothing in English.
func TestPresetsInEveryLanguageOnBothPapers(t *testing.T) {
	if testing.Short() {
		t.Skip("lays out sixty designs")
	}
	files, err := filepath.Glob("../presets/*.toml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no presets: %v", err)
	}
	for _, file := range files {
		job := presetJob(t, file)
		for _, l := range words.Languages() {
			for _, paper := range [...]Paper{A4, Letter} {
				job.Language, job.Paper = l, paper
				doc, err := compose(job)
				if err != nil {
					t.Errorf("%s, %v, %v: %v", file, l, paper, err)
					continue
				}
				for i, p := range doc.Pages {
					for _, fault := range p.Faults() {
						t.Errorf("%s, %v, %v, page %d: %s", file, l, paper, i+1, fault)
					}
					if cut := slices.IndexFunc(p.Texts(), func(text string) bool { return strings.HasSuffix(text, "…") }); cut >= 0 {
						t.Errorf("%s, %v, %v, page %d: %q is cut short", file, l, paper, i+1, p.Texts()[cut])
					}
				}
			}
		}
	}
}
