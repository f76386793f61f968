package export

import (
	"math"
	"strings"
	"testing"

	"springwright/design/target"
	"springwright/design/tooth"
)

// A canine has a labial side and the molar that holds it a buccal one, on the same page.
func TestEachToothHasItsOwnWords(t *testing.T) {
	job := askingJob(false)
	job.Case.Teeth = tooth.Pair{Anchor: 16, Active: 13} // +y is palatal
	job.Case.Target.Travel.ForceN[1].Max = -0.05
	job.Case.Target.Travel.CoupleNMM[0] = target.Window{Min: math.Inf(-1), Max: -1}
	for i := range job.Evaluation.Record.Positions {
		p := &job.Evaluation.Record.Positions[i]
		p.Active.ForceN.Y, p.Active.CoupleNMM.X = -0.14, -2.5
		p.Anchor.ForceN.Y, p.Anchor.CoupleNMM.X = -0.16, -3.5
	}
	text := loadsText(t, job)
	for _, want := range [...]string{
		"0.14 labial", "0.16 buccal", // in the tables
		"0.14 N labial", "0.16 N buccal", "2.50 N·mm labial crown torque", "3.50 N·mm buccal crown torque", // in the sketch and below the tables
		"Force, outward +", "Torque, outward crown +", // of charts that show both
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the page of loads does not say %q", want)
		}
	}
}
