package optimize

import (
	"cmp"
	"math"
	"slices"

	"springwright/optimize/lsq"

	"gonum.org/v1/gonum/mat"
)

// cost is what a design costs, part by part; parts that nobody has looked at are 0. An aimed load
// at the edge of its tolerance costs a half.
type cost struct {
	aims        float64 // half the squares of how far loads are from the middle of their windows, in tolerances
	limits      float64 // the same of what comes near a limit or passes it
	preferences float64 // the same of what a spring is better for beside its target
	misses      float64 // how badly the worst target or limit is missed: up to 1 none is
	bends       float64 // of pre-activation bends, and of bends beyond what is allowed
	fragility   float64 // of the springs that the bender would bend in vain
}

// missCost is what a miss costs by as much as the tolerance or the limit's slack: a hundred times
// what the worst aim may cost, so that it outweighs all preferences (choice).
const missCost = 100

// unsolved is the cost of a design that cannot be solved.
func unsolved() cost { return cost{aims: math.Inf(1)} }

func (c cost) solved() bool { return !math.IsInf(c.aims, 1) }

// met tells whether no target or limit is missed.
func (c cost) met() bool { return c.solved() && c.misses <= 1 }

// weights are what the parts beside aims and limits count for.
type weights struct{ preferences, misses, bends, fragility float64 }

// freePreference is what preferences count for where springs are looked for with every number
// left free: the target comes first, and what is better beside it comes by and by. With a tenth of it
// twelve random cases cost 1.1 % more, with ten times 0.7 %.
const freePreference = 0.04

// forTarget is what springs are looked for by with every number left free, inHand what is polished
// by, and onGrid what counts in the end. Off the grid misses have no price of their own, for there
// a limit can be approached as closely as one likes.
func forTarget() weights { return weights{preferences: freePreference} }
func inHand() weights    { return weights{preferences: 1, bends: 1, fragility: 1} }
func onGrid() weights    { return weights{preferences: 1, misses: 1, bends: 1, fragility: 1} }

// total is the sum of the parts.
func (c cost) total(w weights) float64 {
	missed := missCost * max(0, c.misses-1)
	return c.aims + c.limits + w.preferences*c.preferences + w.misses*missed + w.bends*c.bends + w.fragility*c.fragility
}

// candidate is a set of values of a pattern's freedoms and its cost.
type candidate struct {
	x    []float64
	cost cost
}

// rank returns the best candidates that can be solved, at most most of them, best first; ties keep
// their order.
func rank(candidates []candidate, w weights, most int) []candidate {
	var solved []candidate
	for _, c := range candidates {
		if c.cost.solved() {
			solved = append(solved, c)
		}
	}
	slices.SortStableFunc(solved, func(a, b candidate) int { return cheaper(a.cost, b.cost, w) })
	return solved[:min(len(solved), most)]
}

// squares is a landscape by its weights, as least squares.
type squares struct {
	land    landscape
	weights weights
	rows    rows
	cost    cost // where slopes were asked for last
}

// Size implements lsq.Problem.
func (q *squares) Size() (numbers, rows int) { return q.land.size() }

// Residuals implements lsq.Problem.
func (q *squares) Residuals(x, r []float64, jacobian *mat.Dense, enough float64) bool {
	q.rows.values, q.rows.slopes = r, jacobian
	if !q.land.look(x, q.weights, enough, &q.rows) {
		return false
	}
	if jacobian != nil {
		q.cost = q.rows.cost()
	}
	q.rows.weigh(q.weights)
	return true
}

func newSquares(land landscape, w weights) *squares {
	_, count := land.size()
	return &squares{land: land, weights: w, rows: rows{kinds: make([]kind, count)}}
}

// descend goes down from x, which it overwrites, within bounds.
func (p *problem) descend(land landscape, w weights, within lsq.Box, x []float64, iterations int) candidate {
	q := newSquares(land, w)
	if math.IsInf(lsq.Minimise(q, within, p.width, x, iterations), 1) {
		return candidate{x, unsolved()}
	}
	return candidate{x, q.cost}
}

// cheaper orders costs for sorting.
func cheaper(a, b cost, w weights) int { return cmp.Compare(a.total(w), b.total(w)) }

// costAt is what the rows cost at x.
func costAt(land landscape, x []float64) cost {
	r := newRows(land)
	if !land.look(x, onGrid(), lsq.ToTheEnd, r) {
		return unsolved()
	}
	return r.cost()
}
