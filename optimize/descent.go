package optimize

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// landscape is what a descent on the grid goes down on.
type landscape interface {
	leastSquares
	// foresee is residuals for a look at what lies around x: the residuals of limits that do
	// not weigh yet are below 0, by as much as is left of them, and have slopes. kinds tells
	// what the residuals are of.
	foresee(x, r []float64, jacobian *mat.Dense, kinds []rowKind) bool
	// missed is the worst miss of a target or limit at the last evaluation: above 1 it is
	// one.
	missed() float64
}

// missCost weighs a missed target or limit against the preferences: it outweighs them all.
const missCost = 100

// missedCost is what the misses at the last evaluation cost. On the grid a limit cannot be
// approached as closely as one likes, so missing one costs extra there.
func missedCost(l landscape) float64 { return missCost * max(0, l.missed()-1) }

const (
	// Steps on the grid that are looked at together, each way, in every number.
	gridReach = 3
	// The linear model of the loads lists so many points by the rows that weigh where it
	// starts, looking at so many partial ones; all rows rank them, and so many are tried out.
	gridListed = 200
	gridVisits = 20000
	gridTrials = 24
	// The best few tried out about a point that is not on the grid are gone down from.
	gridDescents = 2
	gridRounds   = 20
	// The linear model is doubted by this cost for a step, by so much more each time that
	// none of its points is better, up to the last.
	leastDoubt, moreDoubt, mostDoubt = 0.01, 8, 1
	// The fragility may be this much less than its slope says.
	fragileDoubt = 0.03
)

// descent improves points of the grid. Beside the landscape's own cost they have that of
// their bends and of their fragility.
type descent struct {
	s         *searcher
	land      landscape
	within    box
	fragility func(x []float64) float64
	tilt      []float64 // slope of the fragility
	// Points listed and partial points looked at by the linear model.
	listed, visits int

	r, trialR []float64
	kinds     []rowKind
	jacobian  *mat.Dense
	doubt     float64
}

func (s *searcher) newDescent(land landscape, within box, fragility func(x []float64) float64, tilt []float64) *descent {
	n, m := land.size()
	return &descent{
		s: s, land: land, within: within, fragility: fragility, tilt: tilt,
		listed: gridListed, visits: gridVisits,
		r: make([]float64, m), trialR: make([]float64, m), kinds: make([]rowKind, m),
		jacobian: mat.NewDense(m, n, nil),
	}
}

func (d *descent) look(x []float64) bool { return d.land.foresee(x, d.r, d.jacobian, d.kinds) }

// cost is that of the point last looked at, without its bends and fragility.
func (d *descent) cost() float64 {
	var sum float64
	for i, v := range d.r {
		if v > 0 || !d.kinds[i].limit {
			sum += v * v
		}
	}
	return sum/2 + missedCost(d.land)
}

// leaning is how much more fragile the linear model takes a point for than another.
func (d *descent) leaning(to, from []float64) float64 { return rise(d.tilt, from, to) }

// settle goes down from the points of the grid about x that are best by a linear model.
func (d *descent) settle(x []float64) candidate {
	s := d.s
	corner := slices.Clone(x)
	for j, f := range s.pattern.Freedoms {
		if d.within.lower[j] < d.within.upper[j] && f.Grid > 0 {
			corner[j] = s.onGrid(j, x[j])
		}
	}
	best := candidate{corner, math.Inf(1)}
	if !d.look(x) {
		return best
	}
	var found []candidate
	d.doubt = leastDoubt
	for _, to := range append(d.points(x, corner, 0, math.Inf(1)), corner) {
		rest := s.bendCost(to) + d.leaning(to, x)
		enough := toTheEnd
		if len(found) == gridDescents {
			enough = found[gridDescents-1].cost - rest
		}
		if !d.land.residuals(to, d.trialR, nil, enough) {
			continue
		}
		c := candidate{to, halfSquares(d.trialR) + missedCost(d.land) + rest}
		at, _ := slices.BinarySearchFunc(found, c, func(a, b candidate) int { return compare(a.cost, b.cost) })
		found = slices.Insert(found, at, c)
		found = found[:min(len(found), gridDescents)]
	}
	for _, c := range found {
		if t := d.down(c.x); t.cost < best.cost {
			best = t
		}
	}
	return best
}

// down goes down from a point of the grid.
func (d *descent) down(from []float64) candidate {
	s := d.s
	best := candidate{slices.Clone(from), math.Inf(1)}
	if !d.look(best.x) {
		return best
	}
	fragile := d.fragility(best.x)
	best.cost = d.cost() + s.bendCost(best.x) + fragile
	d.doubt = leastDoubt
	for range gridRounds {
		improved := false
		for _, x := range d.points(best.x, best.x, fragile, best.cost) {
			bends := s.bendCost(x)
			least := bends + max(0, fragile+d.leaning(x, best.x)-fragileDoubt)
			if !d.land.residuals(x, d.trialR, nil, best.cost-least) {
				continue
			}
			sum := halfSquares(d.trialR) + missedCost(d.land)
			if sum+least >= best.cost {
				continue
			}
			f := d.fragility(x)
			if sum += bends + f; sum < best.cost {
				best, fragile, improved = candidate{x, sum}, f, true
				break
			}
		}
		if improved {
			if !d.look(best.x) {
				break
			}
			continue
		}
		d.doubt *= moreDoubt
		if d.doubt > mostDoubt {
			break
		}
	}
	return best
}
