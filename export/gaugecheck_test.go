package export

import (
	"strings"
	"testing"

	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/export/words"
)

// The way of the gauge in words, for every quadrant and both orders of teeth: facts of
// anatomy, written by hand. +x runs from the anchor to the active tooth, +z to the root's
// tip, +y is z × x.
func TestGaugeCheckSaysWhichWay(t *testing.T) {
	for _, test := range []struct {
		pair           tooth.Pair
		alongX, alongY string
		downZ          string
	}{
		{tooth.Pair{Anchor: 36, Active: 37}, "distally", "buccally", "occlusally"},
		{tooth.Pair{Anchor: 37, Active: 36}, "mesially", "lingually", "occlusally"},
		{tooth.Pair{Anchor: 46, Active: 47}, "distally", "lingually", "occlusally"},
		{tooth.Pair{Anchor: 46, Active: 41}, "mesially", "labially", "incisally"},
		{tooth.Pair{Anchor: 16, Active: 13}, "mesially", "palatally", "incisally"},
		{tooth.Pair{Anchor: 15, Active: 17}, "distally", "buccally", "occlusally"},
		{tooth.Pair{Anchor: 26, Active: 22}, "mesially", "labially", "incisally"},
		{tooth.Pair{Anchor: 24, Active: 26}, "distally", "palatally", "occlusally"},
	} {
		for _, way := range []struct {
			axis tooth.Component
			mm   float64
			want string
		}{{tooth.ForceX, 3.42, test.alongX}, {tooth.ForceY, 3.42, test.alongY}, {tooth.ForceZ, -3.42, test.downZ}, {tooth.ForceZ, 3.42, "apically"}} {
			job := jobFor(spatialPath(), test.pair, spring.On)
			job.Twin = true
			job.Evaluation.Gauge.Axis, job.Evaluation.Gauge.TravelMM = way.axis, way.mm
			doc, err := compose(job)
			if err != nil {
				t.Fatal(err)
			}
			count := 0
			for i, p := range doc.Pages {
				text := strings.Join(p.Texts(), " ")
				if strings.Contains(text, "Gauge check") {
					count++
					if !strings.Contains(text, "pull the wire at E 3.4 mm "+way.want+", free to turn") {
						t.Errorf("%v, axis %d, page %d does not say %q", test.pair, way.axis, i+1, way.want)
					}
				}
			}
			if count < 3 { // template, loads, twin: the other side has the same words
				t.Errorf("%v: the check stands on %d pages", test.pair, count)
			}
			if !doc.Says("gauge, 3.4 mm " + strings.TrimSuffix(way.want, "ly")) {
				t.Errorf("%v: the inspection list does not say %q", test.pair, way.want)
			}
		}
	}
}

// A spring without a check says why, in every language.
func TestGaugeCheckSaysWhatItCannotShow(t *testing.T) {
	for lack, want := range map[solve.GaugeLack]string{
		solve.GaugeCouples:  "This spring works by couples, and a force gauge at E shows nothing of them.",
		solve.GaugeLevel:    "along its force E already lies level with the slot.",
		solve.GaugeUnsolved: "E comes to no rest",
	} {
		for l := words.English; l.Valid(); l++ {
			job := testJob()
			job.Language = l
			job = judged(job)
			job.Evaluation.Gauge = solve.GaugeCheck{Lack: lack}
			doc, err := compose(job)
			if err != nil {
				t.Fatal(err)
			}
			text := strings.Join(doc.Pages[0].Texts(), " ")
			if l == words.English && !strings.Contains(text, want) {
				t.Errorf("the page does not say %q", want)
			}
			for _, p := range doc.Pages {
				if strings.Contains(strings.Join(p.Texts(), " "), "0.00 N (0 gf)") {
					t.Error("a pull of nothing is printed")
				}
			}
		}
	}
}

// The line of the slip with the longest word for the way of the pull is not cut short.
func TestGaugeLineOfTheSlipFits(t *testing.T) {
	for l := words.English; l.Valid(); l++ {
		for _, pair := range [...]tooth.Pair{{Anchor: 16, Active: 15}, {Anchor: 36, Active: 37}, {Anchor: 26, Active: 23}} {
			for axis := tooth.ForceX; axis <= tooth.ForceZ; axis++ {
				for _, wayMM := range [...]float64{-9.4, 9.4} {
					job := jobFor(loopPath(), pair, spring.On)
					job.Language, job.Pages = l, []Page{LaboratoryPage}
					job.Evaluation.Gauge.Axis, job.Evaluation.Gauge.TravelMM = axis, wayMM
					doc, err := compose(job)
					if err != nil {
						t.Fatal(err)
					}
					for _, text := range doc.Pages[0].Texts() {
						if strings.HasSuffix(text, "…") {
							t.Errorf("%v, %v: %q is cut short", l, pair, text)
						}
					}
				}
			}
		}
	}
}
