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
	gridTrials = 12
	// The best few tried out about a point that is not on the grid are gone down from: from 1
	// twelve cases cost 2.3 % more, from 4 2.1 % less at 15 % more time.
	gridDescents = 1
	gridRounds   = 20 // choice: an end to what as good as never takes so many
	// The linear model is doubted by this cost for a step, by so much more each time that
	// none of its points is better, up to the last (choices).
	leastDoubt, moreDoubt, mostDoubt = 0.01, 8, 1
)

// descent improves points of the grid.
type descent struct {
	p      *problem
	land   landscape
	within lsq.Box
	// Points listed and partial points looked at by the linear model.
	listed, visits int

	here, there *rows // of the point last looked at, with slopes, and of one tried out
	doubt       float64
}

func newDescent(p *problem, land landscape, within lsq.Box) *descent {
	return &descent{
		p: p, land: land, within: within,
		listed: gridListed, visits: gridVisits,
		here: newSlopedRows(land), there: newRows(land),
	}
}

func (d *descent) look(x []float64) bool { return d.land.look(x, settling(), lsq.ToTheEnd, d.here) }

// priced is the cost of the point x whose rows these are, but for its fragility.
func (d *descent) priced(r *rows, x []float64) cost {
	c := r.cost()
	c.bends = d.p.bendsCost(x)
	return c
}

// settle brings x onto the grid for the target and what is preferred beside it, without a look at the
// bender's hand. It goes down from the points of the grid about x that are best by a linear model.
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
	for _, to := range append(d.points(x, corner, unsolved()), corner) {
		enough := lsq.ToTheEnd
		promised := cost{bends: d.p.bendsCost(to)}
		if len(found) == gridDescents {
			enough = found[gridDescents-1].cost.total(settling()) - promised.total(settling())
		}
		if !d.land.look(to, settling(), enough, d.there) {
			continue
		}
		c := candidate{to, d.priced(d.there, to)}
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
	best.cost = d.priced(d.here, best.x)
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
	for _, x := range d.points(than.x, than.x, than.cost) {
		least := cost{bends: d.p.bendsCost(x)}
		if !d.land.look(x, settling(), total-least.total(settling()), d.there) {
			continue
		}
		if c := d.priced(d.there, x); c.total(settling()) < total {
			return candidate{x, c}, true
		}
	}
	return candidate{}, false
}
