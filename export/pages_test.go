package export

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"springwright/design/photo"
)

func titles(t *testing.T, job Job) []string {
	t.Helper()
	doc, err := compose(job)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, p := range doc.Pages {
		names = append(names, p.Title)
	}
	return names
}

func TestPagesAreThoseAskedFor(t *testing.T) {
	for text, want := range map[string]string{
		"":                      "Template,Bend steps,Loads,Teeth,Laboratory",
		"loads":                 "Loads",
		"steps, TEMPLATE,steps": "Template,Bend steps",
		"stages,teeth":          "Stages,Teeth",
		"check,template":        "Template,Check by picture",
	} {
		job := testJob()
		if text != "" {
			pages, err := ParsePages(text)
			if err != nil {
				t.Fatal(err)
			}
			job.Pages = pages
		}
		got := slices.DeleteFunc(titles(t, job), func(title string) bool {
			return title == "Cautions" || strings.HasSuffix(title, ", continued")
		})
		if strings.Join(got, ",") != want {
			t.Errorf("pages %q: got %q, want %s", text, got, want)
		}
	}
	job := testJob()
	job.Stages, job.Twin = true, true
	if got := strings.Join(titles(t, job), ","); !strings.Contains(got, "Stages") || !strings.Contains(got, "Twin") {
		t.Errorf("pages %s, want those with a switch of their own among them", got)
	}
}

func TestUnknownPagesAreRefused(t *testing.T) {
	for _, text := range [...]string{"lods", "", "template,", "1"} {
		if _, err := ParsePages(text); err == nil || !strings.Contains(err.Error(), "template, stages, steps, loads, teeth, twin, laboratory, check") {
			t.Errorf("pages %q: error %v, want one with the list", text, err)
		}
	}
	job := testJob()
	job.Teeth, job.Pages = nil, []Page{TeethPage, Page(99)}
	if _, _, err := Sheets(job); !errors.Is(err, ErrJob) || !strings.Contains(err.Error(), `"teeth"`) || !strings.Contains(err.Error(), "99") {
		t.Errorf("error %v, want both faults", err)
	}
}

// A card for a spring that cannot lie on it would be measured wrongly; the error says which bends.
func TestCheckPageIsForFlatSprings(t *testing.T) {
	job := spatialJob()
	job.Pages = []Page{CheckPage}
	_, _, err := Sheets(job)
	var picture *photo.PictureError
	if !errors.Is(err, ErrJob) || !errors.As(err, &picture) || picture.Reason != photo.OutOfPlane || len(picture.Bends) == 0 {
		t.Errorf("error %v, want one that names the bends out of the plane", err)
	}
}

// The cautions stand in full on some page, whichever pages there are.
func TestCautionsAreNeverLeftOut(t *testing.T) {
	for page := range pageKinds {
		job := testJob()
		job.Pages = []Page{Page(page)}
		_, files, err := Sheets(job)
		if err != nil {
			t.Fatal(err)
		}
		doc, err := compose(job)
		if err != nil {
			t.Fatal(err)
		}
		if !doc.Says(string(cautions[len(cautions)-1])) {
			t.Errorf("%v: %d pages without the last caution", Page(page), len(files))
		}
	}
}
