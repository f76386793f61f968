package asbent

import (
	"errors"
	"flag"
	"math/rand/v2"
	"testing"

	"springwright/design"
	"springwright/design/spring"
	"springwright/optimize/hand"
)

var soFarPresets = flag.String("sofarpresets", "", "presets of which springs are bent with the rest searched anew after every bend, with commas between them; \"all\"")

// asYouGo bends a spring, reads every step once it is bent, and after every bend searches the rest anew.
// It returns what came out: errors are those of the sources of the spring as first drawn.
func asYouGo(t *testing.T, c design.Case, s spring.Spring, z []float64, noise *rand.Rand) hand.CameOut {
	t.Helper()
	first := mustModel(t, Job{Case: c, Spring: s})
	came := first.cameOut(z)
	var errs []float64
	for i, step := range came.Steps {
		errs = append(errs, size(step)-size(first.drawn[i]))
	}
	var read spring.Measured
	now := s
	for i, step := range first.drawn {
		drawn := now.Path.Steps()
		came.Steps[i] = drawn[i]
		sd := 0.1
		if step.Kind == spring.Straight {
			came.Steps[i].LengthMM += errs[i]
		} else {
			came.Steps[i].AngleRad += errs[i]
			sd = 0.5 * degree
		}
		read.Steps = append(read.Steps, spring.StepReading{Step: i, Value: size(came.Steps[i]) + sd*noise.NormFloat64(), SD: sd})
		if step.Kind == spring.Straight || i+1 == len(first.drawn) {
			continue
		}
		r, err := Continue(t.Context(), Job{Case: c, Spring: now, Measured: read, Springs: 12, Seed: 9, Workers: 1})
		if err != nil {
			t.Fatal(err)
		}
		if len(r.Spring.Path.Steps()) == len(first.drawn) {
			now = r.Spring
		}
	}
	return came
}

// goneShares counts the springs that meet the target, bent as drawn and with the rest searched anew.
func goneShares(t *testing.T, c design.Case, s spring.Spring, n int) (asDrawn, asYouWent int) {
	t.Helper()
	m := mustModel(t, Job{Case: c, Spring: s})
	bench, err := m.hand.NewBench()
	if err != nil {
		t.Fatal(err)
	}
	for i := range n {
		noise := rand.New(rand.NewPCG(11, uint64(i)))
		z := make([]float64, m.hand.Sources())
		for j := range z {
			z[j] = noise.NormFloat64()
		}
		if bench.Solve(m.cameOut(z)).Met {
			asDrawn++
		}
		if bench.Solve(asYouGo(t, c, s, z, noise)).Met {
			asYouWent++
		}
	}
	return asDrawn, asYouWent
}

// What is bent wrong early is made up for by what comes later.
func TestRestMakesUpForWhatCameOut(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("bends and searches for seconds")
	}
	c, s := demoSpring(t)
	const n = 6
	asDrawn, asYouWent := goneShares(t, c, s, n)
	t.Logf("of %d springs %d meet the target as drawn, %d with the rest searched anew after every bend", n, asDrawn, asYouWent)
	// Of 40 it is 21 and 34; the last bend and straight are not made up for by anything.
	if asYouWent < 5 || asYouWent < asDrawn+1 {
		t.Errorf("%d of %d meet the target, as drawn %d", asYouWent, n, asDrawn)
	}
}

// TestAsYouGoOfPresets prints the shares of presets.
func TestAsYouGoOfPresets(t *testing.T) {
	if *soFarPresets == "" {
		t.Skip("give -sofarpresets demo,t-loop,…")
	}
	for name, chosen := range designed(t, *soFarPresets) {
		asDrawn, asYouWent := goneShares(t, chosen.Case, chosen.Result.Spring, *shareSprings)
		of := func(met int) float64 { return 100 * float64(met) / float64(*shareSprings) }
		t.Logf("%-24s of 100 as drawn %.0f, rest searched anew after every bend %.0f", name, of(asDrawn), of(asYouWent))
	}
}

// The rest stays on the grid, within its bounds, and what is bent as it came out; and nothing is searched
// where nothing was measured or all is bent.
func TestContinueKeepsToTheGrid(t *testing.T) {
	t.Parallel()
	c, s := demoSpring(t)
	read := spring.Measured{Steps: []spring.StepReading{
		{Step: 1, Value: 10.5 * degree, SD: 0.5 * degree}, {Step: 3, Value: 87 * degree, SD: 0.5 * degree}, {Step: 5, Value: -91.5 * degree, SD: 0.5 * degree},
	}}
	r, err := Continue(t.Context(), Job{Case: c, Spring: s, Measured: read, Springs: 40, Seed: 1, Workers: 2})
	if err != nil {
		t.Fatal(err)
	}
	if !r.After.Met() || r.After.Trial.Met <= r.Before.Trial.Met || r.Next != 6 {
		t.Errorf("step %d is next; met %v, %d of 40 springs, before %d", r.Next, r.After.Met(), r.After.Trial.Met, r.Before.Trial.Met)
	}
	was, now := s.Path.Steps(), r.Spring.Path.Steps()
	for i := r.Next; i < len(was); i++ {
		grid := c.Search.AngleStepRad
		if was[i].Kind == spring.Straight {
			grid = c.Search.LengthStepMM
		}
		steps := (size(now[i]) - size(was[i])) / grid
		if away := steps - float64(int(steps+100.5)-100); away > 1e-9 || away < -1e-9 {
			t.Errorf("step %d moved by %v of its grid", i, steps)
		}
		if now[i].Kind == spring.Straight && (now[i].LengthMM < c.Limits.ShortestStraightMM || abs(size(now[i])-size(was[i])) > mostMovedMM+1e-9) {
			t.Errorf("straight %d is %v mm, drawn %v", i, now[i].LengthMM, was[i].LengthMM)
		}
	}
	one, err := Continue(t.Context(), Job{Case: c, Spring: s, Measured: read, Springs: 40, Seed: 1, Workers: 1})
	if err != nil || len(one.Spring.Path.Steps()) != len(now) {
		t.Fatal(err)
	}
	for i, step := range one.Spring.Path.Steps() {
		if step != now[i] {
			t.Errorf("step %d on one goroutine %+v, on two %+v", i, step, now[i])
		}
	}
	for name, read := range map[string]spring.Measured{
		"nothing":      {},
		"all":          {Steps: []spring.StepReading{{Step: len(was) - 1, Value: 1, SD: 0.1}}},
		"the free end": {Steps: read.Steps, End: []spring.EndReading{{SD: 0.1}}},
	} {
		if _, err := Continue(t.Context(), Job{Case: c, Spring: s, Measured: read}); !errors.Is(err, ErrReadings) {
			t.Errorf("%s measured: %v", name, err)
		}
	}
}
