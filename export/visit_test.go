package export

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"springwright/design"
	"springwright/design/effect"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/timeline"
	"springwright/design/tooth"
	"springwright/export/words"

	"gonum.org/v1/gonum/spatial/r3"
)

// testVisit is a report of three visits with much to tell.
func testVisit(advice timeline.Advice) Visit {
	job := testJob()
	at := time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)
	now := job.Case.Now
	now.CentreMM.Z += 0.6
	now.Rotation = r3.Vec{X: 0.05, Y: -0.03}
	v := Visit{Frame: job.Frame}
	r := timeline.Report{
		Case: job.Case, Spring: job.Spring, SpringFile: "spring.toml", Worn: true, Way: 1.5,
		Loads: &timeline.Loads{
			Active: job.Evaluation.Record.Positions[0].Active, Anchor: job.Evaluation.Record.Positions[0].Anchor, Springs: 100, StressRatio: 0.4,
			Misses: []target.Miss{{Quantity: target.OfActive(tooth.CoupleY), Value: 2, Window: target.Window{Min: -0.5, Max: 0.5}, TravelLeftMM: 0.9}},
		},
		Ahead:  timeline.Ahead{Closed: 0.7, SD: 0.2, Days: 70, PerMonth: 0.4, Low: 0.2, High: 0.6},
		Anchor: timeline.Anchor{Moves: true, Lost: effect.AnchorShift{SlotMM: r3.Vec{X: 0.3, Z: -0.1}, Rotation: r3.Vec{Y: 0.04}}, SD: [6]float64{0.1, 0.1, 0.1, 0.01, 0.01, 0.01}},
		Doubts: []timeline.Doubt{{Visit: 2, Along: tooth.ForceY, SDs: 5}, {Visit: 3, Anchor: true, Along: tooth.CoupleX, SDs: 6}, {Visit: 3, Gauge: true, SDs: 9}},
	}
	for i := range 3 {
		p := timeline.Point{Visit: design.Visit{Number: i + 1, Date: at.AddDate(0, 0, 35*i), SpringFile: "spring.toml"}, Days: 35 * i, Now: now, Closed: 0.3 * float64(i), SD: 0.2, Planned: 0.35 * float64(i), Push: 0.4}
		p.Expected, p.ExpectedSD, p.Told = 0.5, 0.1, i == 2
		r.Points = append(r.Points, p)
	}
	r.Points[0].Visit.Done, r.Points[0].Now = design.SeatedFirst, job.Case.Now
	for week := range 20 {
		m := timeline.Mark{Days: 7 * float64(week), Closed: 0.05 * float64(week), Push: 0.5 - 0.02*float64(week)}
		r.Planned, r.Fitted = append(r.Planned, m), append(r.Fitted, m)
	}
	for k := timeline.RateFit; k <= timeline.AnchorApicalFit; k++ {
		r.Fits = append(r.Fits, timeline.Fit{Kind: k, Prior: 2, PriorLow: 1, PriorHigh: 3, Value: 3, Low: 2.5, High: 3.5})
	}
	r.Verdict = timeline.Verdict{Advice: advice, FromDays: 28, ToDays: 42, From: at, To: at}
	for k := timeline.StillWorks; k <= timeline.UnseatedNow; k++ {
		r.Verdict.Reasons = append(r.Verdict.Reasons, timeline.Reason{Kind: k, Value: 0.3, Limit: 0.2, Along: tooth.CoupleX})
	}
	if advice == timeline.Reactivate {
		var changes []timeline.Change
		for i, s := range job.Spring.Path.Steps() {
			if s.Kind != spring.Straight && len(changes) < 2 {
				changes = append(changes, timeline.Change{Step: i, ByRad: 0.05})
			}
		}
		r.Verdict.Ways = []timeline.Way{{Changes: changes[:1], Chance: 0.9, Spring: job.Spring}, {Changes: changes, Chance: 0.95, Spring: job.Spring}}
	}
	v.Report = r
	return v
}

// The page leads with what to do, fits on one page of either paper where it can, and no word of it is left in
// English.
func TestVisitSheet(t *testing.T) {
	t.Parallel()
	for language := words.English; language.Valid(); language++ {
		for advice := timeline.Wait; advice <= timeline.Stop; advice++ {
			for _, turns := range [...]bool{false, true} {
				v := testVisit(advice)
				v.Language, v.Report.Turns = language, turns
				doc, err := v.compose()
				if err != nil {
					t.Fatalf("%v, %v: %v", language, advice, err)
				}
				text := VisitTextOf(v.Report, language)
				if !doc.Says(text.Headline) {
					t.Errorf("the page does not say %q", text.Headline)
				}
				if language == words.English {
					continue
				}
				for _, english := range [...]string{" the ", "spring", "tooth", "anchor ", "goal", "slot"} {
					for _, line := range append(append(append([]string{text.Headline}, text.Why...), text.Todo...), append(text.Anchor, text.Doubts...)...) {
						if strings.Contains(strings.ReplaceAll(line, "adjust", ""), english) {
							t.Errorf("%v: %q holds English", language, line)
						}
					}
				}
			}
		}
	}
	v := testVisit(timeline.Wait)
	v.Report.Verdict.Reasons = v.Report.Verdict.Reasons[:1]
	v.Report.Doubts, v.Report.Fits = nil, v.Report.Fits[:4]
	one, pages, err := VisitSheets(v)
	if err != nil {
		t.Fatal(err)
	}
	if len(pages) != 1 {
		t.Errorf("three visits take %d pages", len(pages))
	}
	if again, _, err := VisitSheets(v); err != nil || string(again) != string(one) {
		t.Errorf("drawn again it differs, %v", err)
	}
}

// A centre of resistance that has come out mesial of the slot is said so, and not as a distance below nothing.
func TestACentreMesialOfTheSlotIsSaidSo(t *testing.T) {
	t.Parallel()
	v := testVisit(timeline.Wait)
	v.Report.Fits = []timeline.Fit{{Kind: timeline.AnchorDistalFit, Prior: 0.5, PriorLow: -2, PriorHigh: 3, Value: -1.7, Low: -3.7, High: 0.3}}
	text := VisitTextOf(v.Report, words.English)
	if want := []string{"centre of resistance of tooth 36, mm mesial", "−0.5 (−3.0 to 2.0)", "1.7 (−0.3 to 3.7)"}; !slices.Equal(text.Fits[1], want) {
		t.Errorf("row %q, want %q", text.Fits[1], want)
	}
	if want := "The centre of resistance of tooth 36 is more likely 1.7 mm mesial of the slot than −0.5 mm."; !slices.Contains(text.Fitted, want) {
		t.Errorf("%q does not say %q", text.Fitted, want)
	}
}

func TestAVisitThatCannotBeDrawnIsRefused(t *testing.T) {
	t.Parallel()
	for _, spoil := range []func(v *Visit){
		func(v *Visit) { v.Report.Points = nil },
		func(v *Visit) { v.Report.Case.Teeth = tooth.Pair{} },
		func(v *Visit) { v.Report.Planned[3].Closed = math.NaN() },
	} {
		v := testVisit(timeline.Wait)
		spoil(&v)
		if _, _, err := VisitSheets(v); err == nil {
			t.Error("it was drawn")
		}
	}
}
