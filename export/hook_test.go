package export

import (
	"strings"
	"testing"

	"springwright/design/notice"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/export/words"
)

// A hook that slides is told where it hangs, about which point its couples are, and what is
// wrong where it hangs off its tooth, in every language.
func TestHookIsToldInEveryLanguage(t *testing.T) {
	for l := words.English; l.Valid(); l++ {
		job := jobFor(loopPath(), tooth.Pair{Anchor: 36, Active: 37}, spring.On)
		job.Language = l
		job = judged(job)
		job.Evaluation.Record.Verdict = &target.Shortfall{Exceeded: []target.Excess{{Limit: target.HookLimit, Beyond: 0.4}}}
		job.Case.ActiveSlot.Hook, job.Case.Slide = true, spring.SlideActive
		job.Spring.ActiveHold.Hook, job.Spring.Slide = true, spring.SlideActive
		job.Spring.ActiveSlotLengthMM, job.Case.ActiveSlot.LengthMM = 0, 0
		seated := job.Evaluation.Seated
		seated[len(seated)-1].At.X = job.Spring.Start.AtMM.X + 1.4
		job.Evaluation.Warnings = notice.List{notice.HookOff{OffMM: 1.4, AllowedMM: 1, TravelLeftMM: 2}}
		doc, err := compose(job)
		if err != nil {
			t.Fatal(err)
		}
		if text := strings.Join(doc.Pages[0].Texts(), " "); l == words.English && !strings.Contains(text, "it slides along to 1.4 mm distal of that centre, about which couples are stated.") {
			t.Errorf("page 1 does not say where the hook hangs:\n%s", text)
		}
	}
}
