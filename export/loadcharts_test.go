package export

import (
	"math"
	"slices"
	"strings"
	"testing"

	"springwright/design/effect"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/export/words"

	"gonum.org/v1/gonum/spatial/r3"
)

// askingJob has a target for all that a chart can show, at the slots or at the centres of
// resistance, and windows with one end.
func askingJob(atResistance bool) Job {
	job := spatialJob()
	inf := math.Inf(1)
	wanted := &job.Case.Target
	wanted.AtResistance = atResistance
	wanted.Start.ForceN[0] = target.Window{Min: 0.02, Max: 0.06}
	wanted.Travel.ForceN[0] = target.Window{Min: 0.01, Max: 0.2}
	wanted.Travel.ForceN[1] = target.Window{Min: -inf, Max: 0.05}
	wanted.Travel.CoupleNMM[0] = target.Window{Min: 1, Max: inf}
	wanted.Travel.CoupleNMM[2] = target.Window{Min: -3, Max: 1}
	wanted.MomentToForceMM = target.Window{Min: 4, Max: 9}
	for i := range 3 {
		wanted.Anchor.ForceN[i] = target.Window{Min: -0.6, Max: inf}
		wanted.Anchor.CoupleNMM[i] = target.Window{Min: -inf, Max: 12.5}
	}
	var spread spring.Spread
	for i := range job.Evaluation.Record.Positions {
		p := &job.Evaluation.Record.Positions[i]
		p.Active.ForceN.X += 0.05
		p.Active.CoupleNMM = r3.Add(p.Active.CoupleNMM, r3.Vec{X: 2, Z: -1})
		p.Anchor.CoupleNMM = r3.Add(p.Anchor.CoupleNMM, r3.Vec{X: -2, Z: 1.5})
		about := func(v float64) spring.Band { return spring.Band{Low: v - 0.1, Median: v, High: v + 0.1} }
		spread.Positions = append(spread.Positions, spring.PositionSpread{
			TravelLeftMM: p.TravelLeftMM, ActiveForceZN: about(p.Active.ForceN.Z), AnchorForceZN: about(p.Anchor.ForceN.Z),
			ActiveCoupleYNMM: about(p.Active.CoupleNMM.Y), AnchorCoupleYNMM: about(p.Anchor.CoupleNMM.Y),
		})
	}
	job.Evaluation.Record.Spread = &spread
	job.Pages = []Page{LoadsPage}
	return job
}

func TestLoadChartsReadCleanly(t *testing.T) {
	for _, language := range words.Languages() {
		for _, paper := range [...]Paper{A4, Letter} {
			for _, atResistance := range [...]bool{false, true} {
				job := askingJob(atResistance)
				job.Language, job.Paper = language, paper
				straight, err := effect.StraightWireBeside(t.Context(), job.Case, job.Spring)
				if err != nil {
					t.Fatal(err)
				}
				job.Straight = &straight
				doc, err := compose(job)
				if err != nil {
					t.Fatal(err)
				}
				for i, p := range doc.Pages {
					for _, fault := range p.Faults() {
						t.Errorf("%v, %v, page %d: %s", language, paper, i+1, fault)
					}
					for _, text := range p.Texts() {
						if strings.HasSuffix(text, "…") {
							t.Errorf("%v, %v, page %d: %q is cut short", language, paper, i+1, text)
						}
					}
				}
			}
		}
	}
}

// A chart stands for what the target wants, the sense that is asked for upwards: a couple about +x is
// palatal for 15 held at 16. It stands for what the target wants to be other than nothing, and no other.
func TestChartsAreThoseAskedFor(t *testing.T) {
	usual := []string{"Force, intrusive +", "Couple, crown-mesial +"}
	for name, c := range map[string]struct {
		job  Job
		more []string
		key  string
	}{
		"usual": {testJob(), nil, "Hatched: the target."},
		"at the slots": {
			askingJob(false),
			[]string{"Force, mesial +", "Torque, palatal crown +", "Moment-to-force ratio"},
			"Hatched: the target for tooth 15; with dashed edges: for tooth 16. Bracket: the target at the start. Thin lines",
		},
		"at the centres of resistance": {
			askingJob(true),
			[]string{"Force, mesial +", "Moment, palatal crown torque +", "Moment, crown-mesial +", "Moment-to-force ratio"},
			"Moment: about the centre of resistance.",
		},
	} {
		text := loadsText(t, c.job)
		for _, title := range append(slices.Clone(usual), c.more...) {
			if !strings.Contains(text, title) {
				t.Errorf("%s: no chart %q", name, title)
			}
		}
		if got, want := strings.Count(text, "travel left, mm"), len(usual)+len(c.more); got != want {
			t.Errorf("%s: %d charts, want %d", name, got, want)
		}
		if !strings.Contains(text, c.key) {
			t.Errorf("%s: the page does not say %q", name, c.key)
		}
	}
}

// What no chart shows stands in the row of targets, in the words of the column above.
func TestWindowText(t *testing.T) {
	inf := math.Inf(1)
	of, _, err := begin(testJob()) // +x is distal and +y is buccal of tooth 37 from 36
	if err != nil {
		t.Fatal(err)
	}
	for want, c := range map[string]struct {
		window target.Window
		k      tooth.Component
	}{
		"0.10 to 1.50 distal":    {target.Window{Min: 0.1, Max: 1.5}, tooth.ForceX},
		"0.10 to 1.40 mesial":    {target.Window{Min: -1.4, Max: -0.1}, tooth.ForceX},
		"≥ 0.10 mesial":          {target.Window{Min: -inf, Max: -0.1}, tooth.ForceX},
		"≤ 0.30 mesial":          {target.Window{Min: -0.3, Max: inf}, tooth.ForceX},
		"±0.06":                  {target.Window{Min: -0.06, Max: 0.06}, tooth.ForceX},
		"0.05 to 0.60 extrusive": {target.Window{Min: -0.6, Max: -0.05}, tooth.ForceZ},
		"≥ 0.05 intrusive":       {target.Window{Min: 0.05, Max: inf}, tooth.ForceZ},
		"≥ 0.20 buccal":          {target.Window{Min: 0.2, Max: inf}, tooth.ForceY},
		"0.10 to 0.20 lingual":   {target.Window{Min: -0.2, Max: -0.1}, tooth.ForceY},
		"≤ 2.00 crown-mesial":    {target.Window{Min: -inf, Max: 2}, tooth.CoupleY},
	} {
		if got := (loadsPage{subject: of}).windowText(c.window, c.k, of.job.Case.Teeth.ActiveMember()); got != want {
			t.Errorf("%+v of component %d is %q, want %q", c.window, c.k, got, want)
		}
	}
}
