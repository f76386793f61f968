package export

import (
	"slices"
	"strings"
	"testing"

	"springwright/design/spring"
	"springwright/export/words"
)

// The blank form has every straight and bend of the wire with its drawn number, in every language on both papers,
// with nothing cut short and nothing that touches anything else.
func TestReadingsPage(t *testing.T) {
	t.Parallel()
	for name, job := range map[string]Job{"loop": testJob(), "spatial": spatialJob()} {
		job.Pages = []Page{ReadingsPage}
		for l := words.English; l.Valid(); l++ {
			for _, paper := range [...]Paper{A4, Letter} {
				job.Language, job.Paper = l, paper
				doc, err := compose(job)
				if err != nil {
					t.Fatal(err)
				}
				var texts []string
				for i, p := range doc.Pages {
					for _, fault := range p.Faults() {
						t.Errorf("%s, %v, %v, page %d: %s", name, l, paper, i+1, fault)
					}
					texts = append(texts, p.Texts()...)
				}
				if cut := slices.IndexFunc(texts, func(text string) bool { return strings.HasSuffix(text, "…") }); cut >= 0 {
					t.Errorf("%s, %v, %v: %q is cut short", name, l, paper, texts[cut])
				}
				w := words.NewBook(l)
				for i, s := range job.Spring.Path.Steps() {
					drawn := w.Number(s.LengthMM, 2)
					if s.Kind != spring.Straight {
						drawn = w.Number(max(s.AngleRad, -s.AngleRad)/degree, 1)
					}
					if !slices.Contains(texts, drawn) {
						t.Errorf("%s, %v, %v: step %d, %s, is not on the page", name, l, paper, i, drawn)
					}
				}
			}
		}
	}
}
