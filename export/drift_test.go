package export

import (
	"regexp"
	"strings"
	"testing"

	"springwright/design/effect"
	"springwright/export/words"

	"gonum.org/v1/gonum/spatial/r3"
)

// How far a drift comes is told of a turn in degrees and of a shift in per cent, never as a
// share below nothing, and in every language.
func TestDriftIsToldInTheUnitOfItsGoal(t *testing.T) {
	const planned = 15 * degree
	turn := effect.Drift{Turns: true, Planned: r3.Vec{Y: planned}, ReachedRad: 11.2 * degree, SlotMM: r3.Vec{X: 0.3, Z: -1.2}, End: effect.DriftDied}
	set := func(d effect.Drift, change func(*effect.Drift)) effect.Drift {
		change(&d)
		return d
	}
	shift := effect.Drift{PlannedMM: 2, ReachedMM: 1.54, SlackMM: 0.46, End: effect.DriftCentreGone}
	for name, test := range map[string]struct {
		drift effect.Drift
		want  []string
	}{
		// +y carries the crown towards −x: mesially, as +x is distal here.
		"turn": {turn, []string{"The spring turns the tooth by 11 of the planned 15°, crown-mesial.", "There its couple has died out.", "The slot meanwhile goes 1.2 mm occlusal."}},
		"turn to the end": {
			set(turn, func(d *effect.Drift) { d.ReachedRad, d.End = planned, effect.DriftArrived }),
			[]string{"by 15 of the planned 15°, crown-mesial."},
		},
		"the other way": {
			set(turn, func(d *effect.Drift) { d.ReachedRad, d.End = -1.25*planned, effect.DriftCentreGone }),
			[]string{"The tooth turns by 19° the other way, away from its planned 15°, crown-mesial.", "There the centre of resistance has gone as far as planned."},
		},
		"small turn": {
			set(turn, func(d *effect.Drift) { d.Planned.Y, d.ReachedRad, d.End = 3*degree, 1.26*degree, effect.DriftAside }),
			[]string{"by 1.3 of the planned 3.0°", "It is followed no farther"},
		},
		"shift": {shift, []string{"the slot has come 77 % of its travel: 0.46 mm are left undone, because the tooth turns."}},
		"shift the other way": {
			set(shift, func(d *effect.Drift) { d.ReachedMM, d.SlackMM = -2.5, 4.5 }),
			[]string{"The slot goes 2.50 mm against its planned travel of 2.00 mm."},
		},
		"shift with a turn": {
			set(shift, func(d *effect.Drift) {
				d.Planned, d.ReachedRad, d.End = r3.Vec{X: -20 * degree}, 5*degree, effect.DriftDied
			}),
			[]string{"brings the tooth 77 % of its planned travel; 0.46 mm are left undone, where its force has died out.", "The spring turns the tooth by 5 of the planned 20°, lingual crown torque."},
		},
		"shift that is followed no farther": {
			set(shift, func(d *effect.Drift) { d.End = effect.DriftAside }), []string{"0.46 mm are left undone, as it hardly comes nearer."},
		},
	} {
		for l := words.English; l.Valid(); l++ {
			job := testJob()
			job.Language = l
			job = judged(job)
			job.Pages = []Page{TeethPage}
			report := *job.Teeth
			steps := report.Drift.Steps
			report.Drift = test.drift
			report.Drift.Steps = steps
			job.Teeth = &report
			doc, err := compose(job)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			var all []string
			for _, p := range doc.Pages {
				all = append(all, p.Texts()...)
				for _, fault := range p.Faults() {
					t.Errorf("%s, %v: %s", name, l, fault)
				}
			}
			text := strings.Join(all, " ")
			if regexp.MustCompile(`[−-]\d+ %`).MatchString(text) {
				t.Errorf("%s, %v: a share below nothing is printed", name, l)
			}
			if l != words.English {
				continue
			}
			for _, want := range test.want {
				if !strings.Contains(text, want) {
					t.Errorf("%s: the page does not say %q:\n%s", name, want, text)
				}
			}
			if test.drift.Turns && strings.Contains(text, " % of its") {
				t.Errorf("%s: a turn is told in per cent", name)
			}
		}
	}
}

// The table shows the largest turn of the way, wherever it comes.
func TestDriftShowsTheLargestTurn(t *testing.T) {
	job := testJob()
	job.Pages = []Page{TeethPage}
	report := *job.Teeth
	steps := append([]effect.DriftStep(nil), report.Drift.Steps...)
	steps[7].Rotation = r3.Vec{X: 5.7 * degree, Y: 3.1 * degree}
	report.Drift.Steps = steps
	job.Teeth = &report
	text := strings.Join(textOfPages(t, job), " ")
	for _, want := range []string{"largest", "5.7° buccal crown torque", "3.1° crown-mesial"} {
		if !strings.Contains(text, want) {
			t.Errorf("the table lacks %q:\n%s", want, text)
		}
	}
}
