package export

import (
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/export/words"
)

// What the anchor tooth takes beyond what is usual stands on its page, in every language, each
// load by its own sense.
func TestAnchorCautionIsPrinted(t *testing.T) {
	for l := words.English; l.Valid(); l++ {
		job := jobFor(loopPath(), tooth.Pair{Anchor: 36, Active: 37}, spring.On)
		job.Language, job.Pages = l, []Page{TeethPage}
		job.Teeth.AnchorExcesses = []design.AnchorExcess{
			{Component: tooth.ForceZ, Value: -0.72, Limit: 0.6},
			{Component: tooth.CoupleY, Value: 6.2, Limit: 4.8},
		}
		doc, err := compose(job)
		if err != nil {
			t.Fatal(err)
		}
		text := strings.Join(doc.Pages[0].Texts(), " ")
		if want := "extrusive force of 0.72 N, usual are at most 0.60; crown-mesial couple of 6.20 N·mm, usual are at most 4.80"; l == words.English && !strings.Contains(text, want) {
			t.Errorf("the page does not say %q:\n%s", want, text)
		}
	}
}
