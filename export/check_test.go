package export

import (
	"math"
	"strings"
	"testing"

	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
)

// No check says a number below 0: what is asked for has its own sense, and a value of the other
// one is called by its own word. A lower left molar: mesial is −x, the cheek +y.
func TestChecksSayTheSenseThatIsAsked(t *testing.T) {
	inf := math.Inf(1)
	job := testJob()
	job.Case.Teeth = tooth.Pair{Anchor: 36, Active: 37}
	job.Case.Target = target.Target{
		ForceUntilMM: 0.5,
		Start:        target.LoadWindow{ForceN: [3]target.Window{2: {Min: -0.6, Max: -0.3}}},
		Travel: target.LoadWindow{
			ForceN: [3]target.Window{{Min: -0.02, Max: 0.06}, {Min: -0.5, Max: -0.1}, {Min: -0.6, Max: -0.05}},
			CoupleNMM: [3]target.Window{
				{Min: -4.8, Max: 4.8, Usual: true},
				{Min: -0.5, Max: 0.5},
				{Min: 0.1, Max: inf},
			},
		},
		Anchor: target.LoadWindow{ForceN: [3]target.Window{2: {Min: -inf, Max: 0.7}}},
	}
	position := func(leftMM, forceX, forceY, forceZ, coupleX, coupleY, coupleZ float64) spring.Position {
		return spring.Position{
			TravelLeftMM: leftMM, StressRatio: 0.284,
			Active: tooth.Load{ForceN: r3.Vec{X: forceX, Y: forceY, Z: forceZ}, CoupleNMM: r3.Vec{X: coupleX, Y: coupleY, Z: coupleZ}},
			Anchor: tooth.Load{ForceN: r3.Vec{Z: -forceZ}},
		}
	}
	job.Evaluation.Record = spring.Record{
		Positions: []spring.Position{
			position(2, 0.05, -0.4, -0.41, 1, -0.1, 0.3),
			position(1, -0.01, 0.03, 0.303, 2, 0.2, 0.2),
			position(0, 0.5, 0, 0.2, 0, 0.6, 0.1),
		},
		Verdict: &target.Shortfall{Exceeded: []target.Excess{{Limit: target.FoldLimit, Beyond: 0.4}}},
	}
	of, _, err := begin(job)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, c := range (checkList{of}).checkTexts() {
		got = append(got, c.text)
	}
	want := []string{
		"Mesial or distal force, over the travel 0.050 N distal to 0.010 N mesial (limit 0.06 N distal to 0.02 N mesial).",
		"NOT MET: lingual force, over the travel 0.400 N lingual to 0.030 N buccal (limit 0.10 to 0.50 N).",
		"Extrusive force, at the start 0.410 N (limit 0.30 to 0.60 N).",
		"NOT MET: extrusive force, over the travel 0.410 N extrusive to 0.303 N intrusive (limit 0.05 to 0.60 N).",
		"Buccal or lingual crown torque, over the travel 0.00 to 2.00 N·mm buccal crown torque (limit ±4.80 N·mm, as is usual for the tooth).",
		"NOT MET: crown-mesial or crown-distal couple, over the travel 0.10 N·mm crown-distal to 0.60 N·mm crown-mesial (limit ±0.50 N·mm).",
		"Mesial-in couple, over the travel 0.10 to 0.30 N·mm (limit at least 0.10 N·mm).",
		"Intrusive or extrusive force on anchor tooth 36, over the travel 0.303 N extrusive to 0.410 N intrusive (limit at most 0.70 N intrusive or any extrusive).",
		"Stress over yield at most 0.28 (limit at most 1.00).",
		"NOT MET: room in the mouth loop 0.40 mm too high for the fold of the cheek (limit as measured).",
		"Straight between bends at least 1.5 mm (limit at least 1.0 mm).",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("checks (-want +got):\n%s", diff)
	}
	job.Evaluation.Record.Verdict = nil
	if of, _, err = begin(job); err != nil {
		t.Fatal(err)
	}
	if texts := (checkList{of}).checkTexts(); len(texts) != 0 {
		t.Errorf("a spring that was held against nothing has checks: %v", texts)
	}
}

// Pliers hold no wire between bends that stand closer than the case asks for: that is a check
// of its own, whatever the search made of it.
func TestChecksTellOfStraightsTooShortForPliers(t *testing.T) {
	twist := spring.Step{Kind: spring.Twist, AngleRad: 20 * degree, LengthMM: 2}
	first := spring.Step{Kind: spring.Bend, AngleRad: 10 * degree, RadiusMM: testRadiusMM, Order: 1}
	for _, c := range []struct {
		path spring.Path
		want string
		met  bool
	}{
		{
			spring.PathOf(spring.StraightStep(5), first, spring.StraightStep(0.4), spring.BendStep(0.5, 1), twist, spring.StraightStep(0.5), spring.BendStep(1, 1), spring.StraightStep(5)),
			"NOT MET: straight between bends down to 0.4 mm; pliers cannot hold between the bends in front of bend 2, 4 (limit at least 1.0 mm).", false,
		},
		{ // at one place
			spring.PathOf(spring.StraightStep(5), first, spring.BendStep(0.5, 1), twist, spring.StraightStep(1), spring.BendStep(1, 1), spring.StraightStep(5)),
			"Straight between bends at least 1.0 mm (limit at least 1.0 mm).", true,
		},
		{
			spring.PathOf(spring.StraightStep(5), first, spring.StraightStep(1.5), twist, spring.StraightStep(1), spring.BendStep(1, 1), spring.StraightStep(0.5)),
			"Straight between bends at least 1.0 mm (limit at least 1.0 mm).", true,
		},
		{spring.PathOf(spring.StraightStep(5), first, spring.StraightStep(5)), "", true},
	} {
		job := jobFor(c.path, tooth.Pair{Anchor: 36, Active: 37}, spring.Back)
		job.Evaluation.Record.Verdict = &target.Shortfall{}
		of, _, err := begin(job)
		if err != nil {
			t.Fatal(err)
		}
		var got checkText
		for _, text := range (checkList{of}).checkTexts() {
			if strings.Contains(strings.ToLower(text.text), "straight between") {
				got = text
			}
		}
		if got.text != c.want || c.want != "" && got.met != c.met {
			t.Errorf("check %+v, want %q, met %t", got, c.want, c.met)
		}
	}
}
