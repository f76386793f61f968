package export

import (
	"bytes"
	"errors"
	"math"
	"slices"
	"testing"

	"springwright/design"
)

// testComparison is the test job's loop beside invented wires, one of them without figures.
func testComparison() Comparison {
	job := testJob()
	candidate := func(name string, factor float64) design.Candidate {
		c := design.Candidate{Name: name, Title: "straight wire, an invented one"}
		for _, p := range job.Evaluation.Record.Positions {
			p.Active.ForceN.Z *= factor
			p.Anchor.ForceN.Z *= factor
			p.Active.CoupleNMM.Y = factor * p.TravelLeftMM
			p.Anchor.CoupleNMM.Y = factor * p.TravelLeftMM
			c.Evaluation.Record.Positions = append(c.Evaluation.Record.Positions, p)
		}
		return c
	}
	return Comparison{
		Case: job.Case,
		Candidates: []design.Candidate{
			{Name: "loop", Title: "rectangular loop, beta-titanium, 0.432 × 0.635 mm", Evaluation: job.Evaluation},
			candidate("superelastic 0.014", 2),
			{Name: "stainless 0.016", Title: "straight wire, stainless steel", Withheld: errors.New("the wire yields: stress is 3.70 of the yield stress")},
			candidate("heat-activated 0.016×0.022", 3),
			candidate("cobalt-chromium 0.012", 2.1),
		},
		Version: "0.1.0", Fingerprint: "7c3e91d2", Date: "2026-11-24",
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
		first, err := ComparisonSheet(c)
		if err != nil {
			t.Fatal(err)
		}
		again, err := ComparisonSheet(c)
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
		"tooth 59":        func(c *Comparison) { c.Case.Teeth.Active = 59 },
		"no date":         func(c *Comparison) { c.Date = "tomorrow" },
		"no paper":        func(c *Comparison) { c.Paper = 7 },
	} {
		c := testComparison()
		c.Candidates = slices.Clone(c.Candidates)
		spoil(&c)
		if _, err := ComparisonSVG(c); !errors.Is(err, ErrJob) {
			t.Errorf("%s: got %v, want ErrJob", name, err)
		}
	}
}
