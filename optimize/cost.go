package optimize

import (
	"cmp"
	"math"
	"slices"

	"springwright/optimize/lsq"

	"gonum.org/v1/gonum/mat"
)

// cost is what a design costs, part by part; parts that nobody has looked at are 0. An aimed load
// at the edge of its tolerance costs a half of aims; preferences, bends and fragility are in points:
// one of them is one in a hundred springs that the bender would bend in vain.
type cost struct {
	aims        float64 // half the squares of how far loads are from the middle of their windows, in tolerances
	limits      float64 // the same of what comes near a limit or passes it
	preferences float64 // of what a spring is better for beside its target: its kind's own shape
	misses      float64 // how badly the worst target or limit is missed: up to 1 none is
	bends       float64 // of pre-activation bends, and of bends beyond what is allowed
	fragility   float64 // of the springs that the bender would bend in vain
}

const (
	// missCost is what a miss costs by as much as the tolerance or the limit's slack, and missedCost
	// what any costs: more than all else together, for a spring that misses is not made (choice).
	missCost   = 100
	missedCost = 300
	// missedShare is what points count for where the target is missed: there a spring is to come
	// nearer to it first (choice).
	missedShare = 0.02
)

// unsolved is the cost of a design that cannot be solved.
func unsolved() cost { return cost{aims: math.Inf(1)} }

func (c cost) solved() bool { return !math.IsInf(c.aims, 1) }

// met tells whether no target or limit is missed.
func (c cost) met() bool { return c.solved() && c.misses <= 1 }

// weights are what the parts count for: those in points alike.
type weights struct {
	loads  float64 // aims and limits
	points float64 // preferences, bends and fragility
	misses float64 // misses by their size
	met    bool    // what meets the target comes before what does not
}

const (
	// freePoint is what a point counts for where springs are looked for with every number left free:
	// the target comes first, and what is better beside it comes by and by.
	freePoint = 0.002
	// handPoint is what a point counts for beside loads off the middle of their windows. These stand
	// for the share where it is not known: half a tolerance, of one load over a whole travel of seven
	// positions, takes some 10 of a hundred springs (choice, of that order).
	handPoint = 0.1
	// tieLoad is what such loads count for, in points, where the share is known: they break ties. A
	// load at the edge of its tolerance costs a tenth of a point (choice).
	tieLoad = 0.2
)

// forTarget is what springs are looked for by with every number left free, inHand what they are
// polished and brought onto the grid by, and onGrid what counts in the end: once the target is met,
// the share of bent springs that meet it, and the kind's own shape. Off the grid misses have no
// price of their own, for there a limit can be approached as closely as one likes.
func forTarget() weights { return weights{loads: 1, points: freePoint} }
func inHand() weights    { return weights{loads: 1, points: handPoint} }
func settling() weights  { return weights{loads: 1, points: handPoint, misses: 1} }
func onGrid() weights    { return weights{loads: tieLoad, points: 1, misses: 1, met: true} }

// total is the sum of the parts.
func (c cost) total(w weights) float64 {
	points := c.preferences + c.bends + c.fragility
	if c.misses <= 1 {
		return w.loads*(c.aims+c.limits) + w.points*points
	}
	missed := w.misses * missCost * (c.misses - 1)
	if w.met {
		return missedCost + missed + c.aims + c.limits + missedShare*points
	}
	return missed + w.loads*(c.aims+c.limits) + w.points*points
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
