package export

import (
	"slices"
	"strings"
	"testing"

	"springwright/design/spring"
	"springwright/design/tooth"
)

// Warnings stand once, on the first page that has room for all of them, and on the page of
// loads where that is the only one.
func TestWarningsStandOnceAndEarly(t *testing.T) {
	const warning = "Warning: stress comes to 0.93"
	job := jobFor(loopPath(), tooth.Pair{Anchor: 36, Active: 37}, spring.Back)
	for _, pages := range [...][]Page{nil, {LoadsPage}, {StepsPage, LoadsPage}, {TemplatePage, LaboratoryPage}} {
		job.Pages = pages
		doc, err := compose(job)
		if err != nil {
			t.Fatal(err)
		}
		var on []int
		for i, p := range doc.Pages {
			if slices.ContainsFunc(p.Texts(), func(text string) bool { return strings.HasPrefix(text, warning) }) {
				on = append(on, i+1)
			}
		}
		if !slices.Equal(on, []int{1}) {
			t.Errorf("pages %v: the warning stands on pages %v, want page 1 alone", pages, on)
		}
	}
}
