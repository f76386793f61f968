package optimize

import (
	"slices"

	"springwright/optimize/lsq"
)

// See explore.go for figures of cases.
const (
	// Steps on the grid that are looked at together, each way, in every number: with 1 twelve
	// cases cost 4.6 % more, with 6 0.7 %.
	gridReach = 3
	// The linear model of the loads lists so many points by the rows that weigh where it
	// starts, looking at so many partial ones; all rows rank them, and so many are tried out
	// (choices; with half as many trials twelve cases cost the same at 3 % less time, with twice as
	// many 0.4 % less at 7 % more).
	gridListed = 200
	gridVisits = 20000
	gridTrials = 24
	// The best few tried out about a point that is not on the grid are gone down from: from 1
	// twelve cases cost 2.3 % more, from 4 2.1 % less at 15 % more time.
	gridDescents = 2
	gridRounds   = 20 // choice: an end to what as good as never takes so many
	// The linear model is doubted by this cost for a step, by so much more each time that
	// none of its points is better, up to the last (choices).
	leastDoubt, moreDoubt, mostDoubt = 0.01, 8, 1
	// The fragility may be this much less than its slope says, in points (choice: three times the error
	// of the sample's share).
	fragileDoubt = 3
)

// descent improves points of the grid.
type descent struct {
	p         *problem
	land      landscape
	within    lsq.Box
	fragility func(x []float64) float64
	tilt      []float64 // slope of the fragility; without it 15 random springs, most with hooks, cost 28 % more
	// Points listed and partial points looked at by the linear model.
	listed, visits int

	here, there *rows // of the point last looked at, with slopes, and of one tried out
	doubt       float64
}

func newDescent(p *problem, land landscape, within lsq.Box, fragility func(x []float64) float64, tilt []float64) *descent {
	return &descent{
		p: p, land: land, within: within, fragility: fragility, tilt: tilt,
		listed: gridListed, visits: gridVisits,
		here: newSlopedRows(land), there: newRows(land),
	}
}

func (d *descent) look(x []float64) bool { return d.land.look(x, settling(), lsq.ToTheEnd, d.here) }

// priced is the cost of the point x whose rows these are, with a fragility that is known or
// promised.
func (d *descent) priced(r *rows, x []float64, fragility float64) cost {
	c := r.cost()
	c.bends, c.fragility = d.p.bendsCost(x), fragility
	return c
}

// leaning is how much more fragile a point is than another, by the slope.
func (d *descent) leaning(to, from []float64) float64 {
	var sum float64
	for j := range to {
		sum += d.tilt[j] * (to[j] - from[j])
	}
	return sum
}

// settle goes down from the points of the grid about x that are best by a linear model.
func (d *descent) settle(x []float64) candidate {
	corner := slices.Clone(x)
	for j, axis := range d.p.axes {
		if !d.within.Fixed(j) {
			corner[j] = axis.Nearest(x[j])
		}
	}
	best := candidate{corner, unsolved()}
	if !d.look(x) {
		return best
	}
	var found []candidate // a few, best first
	d.doubt = leastDoubt
	for _, to := range append(d.points(x, corner, cost{}, unsolved()), corner) {
		enough := lsq.ToTheEnd
		promised := cost{bends: d.p.bendsCost(to), fragility: d.leaning(to, x)}
		if len(found) == gridDescents {
			enough = found[gridDescents-1].cost.total(settling()) - promised.total(settling())
		}
		if !d.land.look(to, settling(), enough, d.there) {
			continue
		}
		c := candidate{to, d.priced(d.there, to, promised.fragility)}
		at, _ := slices.BinarySearchFunc(found, c, func(a, b candidate) int { return cheaper(a.cost, b.cost, settling()) })
		found = slices.Insert(found, at, c)
		found = found[:min(len(found), gridDescents)]
	}
	for _, c := range found {
		if lower := d.down(c.x); cheaper(lower.cost, best.cost, settling()) < 0 {
			best = lower
		}
	}
	return best
}

// down goes down from a point of the grid.
func (d *descent) down(from []float64) candidate {
	best := candidate{slices.Clone(from), unsolved()}
	if !d.look(best.x) {
		return best
	}
	best.cost = d.priced(d.here, best.x, d.fragility(best.x))
	d.doubt = leastDoubt
	for range gridRounds {
		better, ok := d.better(best)
		switch {
		case !ok:
			if d.doubt *= moreDoubt; d.doubt > mostDoubt {
				return best
			}
		default:
			best = better
			if !d.look(best.x) {
				return best
			}
		}
	}
	return best
}

// better is the first that costs less of the points that the linear model likes best about one,
// the point last looked at.
func (d *descent) better(than candidate) (candidate, bool) {
	total := than.cost.total(settling())
	for _, x := range d.points(than.x, than.x, than.cost, than.cost) {
		least := cost{
			bends:     d.p.bendsCost(x),
			fragility: max(0, than.cost.fragility+d.leaning(x, than.x)-fragileDoubt),
		}
		if !d.land.look(x, settling(), total-least.total(settling()), d.there) {
			continue
		}
		c := d.priced(d.there, x, least.fragility)
		if c.total(settling()) >= total {
			continue
		}
		if c.fragility = d.fragility(x); c.total(settling()) < total {
			return candidate{x, c}, true
		}
	}
	return candidate{}, false
}
