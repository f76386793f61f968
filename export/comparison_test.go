package export

import (
	"bytes"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/effect"
	"springwright/export/words"

	"gonum.org/v1/gonum/spatial/r3"
)

// testComparison is the test job's loop beside invented wires, one of them without figures.
func testComparison() Comparison {
	job := testJob()
	candidate := func(name string, factor float64) effect.Candidate {
		c := effect.Candidate{Name: name, Title: "straight wire, an invented one"}
		for _, p := range job.Evaluation.Record.Positions {
			p.Active.ForceN.Z *= factor
			p.Anchor.ForceN.Z *= factor
			p.Active.CoupleNMM.Y = factor * p.TravelLeftMM
			p.Anchor.CoupleNMM.Y = factor * p.TravelLeftMM
			c.Evaluation.Record.Positions = append(c.Evaluation.Record.Positions, p)
		}
		return c
	}
	argued := candidate("superelastic 0.014", 2)
	state := effect.StraightState{Data: effect.LowEnd, Next: 35}
	argued.Argument = &effect.Argument{
		Next: 35, Loop: []effect.PlacedLoads{{TravelLeftMM: 2, Loads: effect.ArguedLoads{ForceN: 0.5, AnchorCoupleNMM: 5}}},
		Wires: []effect.StraightFigure{{State: state, TravelLeftMM: 2, Loads: effect.ArguedLoads{ForceN: 0.9, AnchorCoupleNMM: 4}}},
		Heard: []effect.Heard{{Saying: effect.WireForceLarger, FromMM: 2, ToMM: 2, Holds: 1, Of: 1, Least: 1.8, Most: 1.8}},
	}
	return Comparison{
		Case: job.Case,
		Candidates: []effect.Candidate{
			{Name: "rectangular loop", Title: "rectangular loop, beta-titanium, 0.432 × 0.635 mm", Evaluation: job.Evaluation},
			argued,
			{Name: "stainless 0.016", Title: "straight wire, stainless steel", Withheld: errors.New("the wire yields: stress is 3.70 of the yield stress")},
			candidate("heat-activated 0.016×0.022", 3),
			candidate("cobalt-chromium 0.012", 2.1),
		},
		Frame: Frame{Version: "0.1.0", Fingerprint: "7c3e91d2", Date: "2026-11-24"},
	}
}

func TestComparisonReadsCleanly(t *testing.T) {
	for _, paper := range [...]Paper{A4, Letter} {
		c := testComparison()
		c.Paper = paper
		doc, err := c.compose()
		if err != nil {
			t.Fatal(err)
		}
		for i, p := range doc.Pages {
			for _, fault := range p.Faults() {
				t.Errorf("%v, page %d: %s", paper, i+1, fault)
			}
		}
		first, _, err := ComparisonSheets(c)
		if err != nil {
			t.Fatal(err)
		}
		again, _, err := ComparisonSheets(c)
		if err != nil || !bytes.Equal(first, again) {
			t.Errorf("%v: the same comparison gives other bytes: %v", paper, err)
		}
	}
}

func TestComparisonRefuses(t *testing.T) {
	for name, spoil := range map[string]func(*Comparison){
		"no candidates":   func(c *Comparison) { c.Candidates = nil },
		"nothing solved":  func(c *Comparison) { c.Candidates = c.Candidates[2:3] },
		"a number is NaN": func(c *Comparison) { c.Candidates[1].Evaluation.Record.Positions[2].Anchor.CoupleNMM.Y = math.NaN() },
		"an argued NaN":   func(c *Comparison) { c.Candidates[1].Argument.Wires[0].Loads.ForceN = math.NaN() },
		"tooth 59":        func(c *Comparison) { c.Case.Teeth.Active = 59 },
		"no date":         func(c *Comparison) { c.Date = "tomorrow" },
		"no paper":        func(c *Comparison) { c.Paper = 7 },
	} {
		c := testComparison()
		c.Candidates = slices.Clone(c.Candidates)
		spoil(&c)
		if _, _, err := ComparisonSheets(c); !errors.Is(err, ErrJob) {
			t.Errorf("%s: got %v, want ErrJob", name, err)
		}
	}
}

// Where the tooth only turns, the couple about that axis is charted and printed.
func TestComparisonOfATurn(t *testing.T) {
	for name, test := range map[string]struct {
		turn r3.Vec
		want []string
	}{
		"torque": {r3.Vec{X: 8 * degree}, []string{"Couple on active tooth 37, crown-lingual +", "Couple on anchor tooth 36, crown-lingual +", "Couple on active tooth 37, crown-mesial +", "turning 37", "7.25"}},
		"tip":    {r3.Vec{Y: 8 * degree}, []string{"Couple on active tooth 37, crown-distal +", "turning 36", "class", "−3.50"}},
	} {
		c := testComparison()
		c.Case.Now = design.Placement{CentreMM: c.Case.Goal.CentreMM, Rotation: test.turn}
		p := &c.Candidates[1].Evaluation.Record.Positions[0]
		p.Active.CoupleNMM = r3.Vec{X: -7.25, Y: 3.5}
		doc, err := c.compose()
		if err != nil {
			t.Fatal(err)
		}
		var texts []string
		for _, page := range doc.Pages {
			texts = append(texts, page.Texts()...)
			for _, fault := range page.Faults() {
				t.Errorf("%s: %s", name, fault)
			}
		}
		all := strings.Join(texts, " ")
		for _, want := range test.want {
			if !strings.Contains(all, want) {
				t.Errorf("%s: the page does not say %q", name, want)
			}
		}
		if got := strings.Contains(all, "Burstone and Koenig"); got != (name == "tip") {
			t.Errorf("%s: classes are explained: %v", name, got)
		}
	}
}

// A comparison says what each candidate costs the anchor, where that has been worked out, in every
// language and on both papers.
func TestComparisonSaysWhatEachCostsTheAnchor(t *testing.T) {
	for l := words.English; l.Valid(); l++ {
		for _, paper := range [...]Paper{A4, Letter} {
			c := testComparison()
			c.Language, c.Paper = l, paper
			given := testJob().Teeth.Anchors[0]
			stays := effect.AnchorOutcome{Fault: effect.ErrNoDrift}
			c.Candidates[0].Anchor, c.Candidates[1].Anchor, c.Candidates[3].Anchor = &given, &given, &stays
			doc, err := c.compose()
			if err != nil {
				t.Fatal(err)
			}
			var texts []string
			for i, p := range doc.Pages {
				texts = append(texts, p.Texts()...)
				for _, fault := range p.Faults() {
					t.Errorf("%v, %v, page %d: %s", l, paper, i+1, fault)
				}
			}
			want := words.NewBook(l).AnchorOutcome(c.Case.Teeth, given) + "."
			if n := strings.Count(strings.Join(texts, " "), want); n != 2 {
				t.Errorf("%v, %v: %q is said %d times, want 2:\n%s", l, paper, want, n, strings.Join(texts, " "))
			}
		}
	}
}
