package asbent

import (
	"flag"
	"iter"
	"math/rand/v2"
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/spring"
	"springwright/optimize"
	"springwright/optimize/hand"
	"springwright/presets"
)

var (
	sharePresets = flag.String("sharepresets", "", "presets of which bent springs are read and corrected, with commas between them; \"all\"")
	shareSprings = flag.Int("sharesprings", 200, "how many springs of each")
	shareFully   = flag.Bool("sharefully", true, "also two corrections, and one after a picture")
	shareAngleSD = flag.Float64("shareanglesd", 0.5, "what a bend is misread by, degrees")
	shareError   = flag.Float64("sharecorrectionsd", 0, "what a correction is off by, degrees; 0: the usual")
	shareLength  = flag.Float64("sharelengthsd", 0.1, "what a straight is misread by, mm")
)

// shares counts springs that meet their target.
type shares struct{ asBent, checked, one, two, picture, allowed int }

// A picture of the card is read to ±0.4° and ±0.08 mm, 95 of 100 (README.md), two standard deviations.
const (
	pictureAngleSD  = 0.2 * degree
	pictureLengthSD = 0.04
)

// proposed is propose.
func proposed(t *testing.T, j Job, pair bool) []Correction {
	t.Helper()
	made, err := propose(t.Context(), j, pair)
	if err != nil {
		t.Fatal(err)
	}
	return made
}

// countShares bends, reads and corrects n springs.
func countShares(t *testing.T, c design.Case, s spring.Spring, n int, angleSD, lengthSD, correctionSD float64, all bool) shares {
	t.Helper()
	m, err := newModel(Job{Case: c, Spring: s, Measured: spring.Measured{CorrectionSDRad: correctionSD}})
	if err != nil {
		t.Fatal(err)
	}
	bench, err := m.hand.NewBench()
	if err != nil {
		t.Fatal(err)
	}
	check := m.job.Case
	check.Bender.Checks = true
	checking := hand.New(check, s)
	var got shares
	count := func(to *int, came hand.CameOut) {
		if bench.Solve(came).Met {
			*to++
		}
	}
	for i := range n {
		noise := rand.New(rand.NewPCG(11, uint64(i)))
		z := make([]float64, m.hand.Sources())
		for j := range z {
			z[j] = noise.NormFloat64()
		}
		came := m.cameOut(z)
		count(&got.asBent, came)
		count(&got.checked, checking.CameOut(z))
		drawn := came
		drawn.Steps = m.drawn
		count(&got.allowed, drawn)
		change := func(came hand.CameOut, by []Correction) hand.CameOut {
			came.Steps = corrected(came.Steps, m.asMade(by, noise))
			return came
		}
		j := Job{Case: c, Spring: s, Measured: m.readings(came, angleSD, lengthSD, noise), Springs: 96, Seed: 5}
		j.Measured.CorrectionSDRad = correctionSD
		one := proposed(t, j, false)
		count(&got.one, change(came, one))
		if all {
			count(&got.two, change(came, proposed(t, j, true)))
			j.Measured = m.readings(came, pictureAngleSD, pictureLengthSD, noise)
			j.Measured.CorrectionSDRad = correctionSD
			count(&got.picture, change(came, proposed(t, j, false)))
		}
	}
	return got
}

// Springs bent by the case's hand are read, corrected as proposed with the error of a correction, and
// judged in the mouth as it really is.
func TestSharesOfPresets(t *testing.T) {
	if *sharePresets == "" {
		t.Skip("give -sharepresets demo,t-loop,…")
	}
	t.Logf("%-24s %10s %10s %10s %10s %10s %10s", "of 100", "as bent", "free end", "one", "two", "pictured", "as drawn")
	for name, chosen := range designed(t, *sharePresets) {
		s, n := chosen.Result.Spring, *shareSprings
		got := countShares(t, chosen.Case, s, n, *shareAngleSD*degree, *shareLength, *shareError*degree, *shareFully)
		of := func(met int) float64 { return 100 * float64(met) / float64(n) }
		t.Logf("%-24s %10.0f %10.0f %10.0f %10.0f %10.0f %10.0f", name, of(got.asBent), of(got.checked), of(got.one), of(got.two), of(got.picture), of(got.allowed))
	}
}

// designed goes through the presets that are listed, or all of them, with what their searches find.
func designed(t *testing.T, list string) iter.Seq2[string, optimize.Chosen] {
	names := strings.Split(list, ",")
	if list == "all" {
		names = presets.Names()
	}
	return func(yield func(string, optimize.Chosen) bool) {
		for _, name := range names {
			_, c, err := presets.Case(name)
			if err != nil {
				t.Fatal(err)
			}
			c.Bender.Springs = 0
			chosen, err := optimize.SearchChoices(t.Context(), c, optimize.Options{Workers: 1})
			if err != nil {
				t.Errorf("%s: %v", name, err)
				continue
			}
			if !yield(name, chosen) {
				return
			}
		}
	}
}

// A hand that is hardly off, in slots that are where they were measured, makes every spring right as it is; one that
// is far off hardly any, and a correction mends some. The count is the same each time.
func TestShares(t *testing.T) {
	t.Parallel()
	c, s := demoSpring(t)
	sure := c
	sure.Bender = design.Bender{AngleSDRad: 1e-6, LengthSDMM: 1e-6, CheckSDMM: 0.1, CheckSDRad: 0.5 * degree}
	got, err := Shares(t.Context(), sure, s, 2, 1)
	if err != nil {
		t.Fatal(err)
	}
	if want := (spring.Shares{Springs: 2, AsBent: 2, Checked: 2, Corrected: 2, AsDrawn: 2}); got != want {
		t.Errorf("of a sure hand %+v, want %+v", got, want)
	}
	rough := sure
	rough.Bender.AngleSDRad = 5 * degree
	one, err := Shares(t.Context(), rough, s, 6, 1)
	if err != nil {
		t.Fatal(err)
	}
	if again, _ := Shares(t.Context(), rough, s, 6, 1); again != one {
		t.Errorf("%+v, then %+v", one, again)
	}
	if one.AsBent >= 4 || one.Corrected <= one.AsBent || one.AsDrawn != 6 {
		t.Errorf("of a rough hand %+v", one)
	}
}
