package asbent

import (
	"context"
	"math/rand/v2"
	"slices"

	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/optimize/hand"

	"gonum.org/v1/gonum/stat"
)

// numbers are the standard normal numbers of spring i, the same for every correction.
func (m *model) numbers(i int) []float64 {
	source := rand.New(rand.NewPCG(m.job.Seed, uint64(i)))
	out := make([]float64, m.hand.Sources()+MostCorrected)
	for j := range out {
		out[j] = source.NormFloat64()
	}
	return out
}

// trial bends n springs as the estimate may have come out, changes each and solves it. change gets the
// standard normal numbers of the corrections' own errors; nil: as bent.
func (m *model) trial(ctx context.Context, e *estimate, n int, change func(steps spring.Steps, errors []float64) spring.Steps) (Trial, error) {
	outcomes := make([]hand.Outcome, n)
	sources := m.hand.Sources()
	err := m.each(ctx, n, func(b *hand.Bench, i int) {
		numbers := m.numbers(i)
		came := m.cameOut(e.draw(numbers[:sources]))
		if change != nil {
			came.Steps = change(came.Steps, numbers[sources:])
		}
		outcomes[i] = b.Solve(came)
	})
	if err != nil {
		return Trial{}, err
	}
	return summed(outcomes, m.spring.Positions), nil
}

// summed are the bands and the count of outcomes.
func summed(outcomes []hand.Outcome, positions int) Trial {
	t := Trial{Springs: len(outcomes)}
	seated := slices.DeleteFunc(slices.Clone(outcomes), func(o hand.Outcome) bool { return !o.Seated })
	t.Unseated = len(outcomes) - len(seated)
	for _, o := range seated {
		if o.Met {
			t.Met++
		}
	}
	if len(seated) == 0 {
		return t
	}
	bands := func(load func(o hand.Outcome) []tooth.Load) (all [][tooth.Components]spring.Band) {
		for k := range positions {
			var at [tooth.Components]spring.Band
			for c := range tooth.Components {
				var values []float64
				for _, o := range seated {
					values = append(values, load(o)[k].Component(c))
				}
				slices.Sort(values)
				quantile := func(p float64) float64 { return stat.Quantile(p, stat.LinInterp, values, nil) }
				at[c] = spring.Band{Low: quantile(0.05), Median: quantile(0.5), High: quantile(0.95)}
			}
			all = append(all, at)
		}
		return all
	}
	t.Active = bands(func(o hand.Outcome) []tooth.Load { return o.Active })
	t.Anchor = bands(func(o hand.Outcome) []tooth.Load { return o.Anchor })
	return t
}
