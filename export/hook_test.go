package export

import (
	"strings"
	"testing"

	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/export/phrase"
)

// A hook that slides is told where it hangs, about which point its couples are, and what is
// wrong where it hangs off its tooth, in every language.
func TestHookIsToldInEveryLanguage(t *testing.T) {
	for l := phrase.English; l.Valid(); l++ {
		job := jobFor(loopPath(), tooth.Pair{Anchor: 36, Active: 37}, spring.On)
		job.Language = l
		job = judged(job)
		job.Evaluation.Record.Verdict = &target.Shortfall{Exceeded: []target.Excess{{Limit: target.HookLimit, Beyond: 0.4}}}
		job.Case.ActiveSlot.Hook, job.Case.Slide = true, spring.SlideActive
		job.Spring.ActiveHold.Hook, job.Spring.Slide = true, spring.SlideActive
		job.Spring.ActiveSlotLengthMM, job.Case.ActiveSlot.LengthMM = 0, 0
		seated := job.Evaluation.Seated
		seated[len(seated)-1].At.X = job.Spring.Start.AtMM.X + 1.4
		job.Evaluation.Warnings = []solve.Warning{{
			Text: "the hook does not stay on its tooth: it slides to 1.4 mm from the point where it is hooked, with 2.00 mm of travel left (allowed: 1.0 mm)",
			Hint: "make the arm longer or shorter by that much, so that it ends at the tooth",
		}}
		doc, err := compose(job)
		if err != nil {
			t.Fatal(err)
		}
		if len(doc.Untranslated) > 0 {
			t.Errorf("%v: in English: %q", l, doc.Untranslated)
		}
		if text := strings.Join(doc.Pages[0].Texts(), " "); l == phrase.English && !strings.Contains(text, "it slides along to 1.4 mm distal of that centre, about which couples are stated.") {
			t.Errorf("page 1 does not say where the hook hangs:\n%s", text)
		}
	}
}
