package optimize

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// landscape is what a search looks for a low place of.
type landscape interface {
	// look fills in the rows at x, in the same order everywhere, or reports false where they
	// do not exist. Where nobody wants slopes it may leave out the rest as soon as half the
	// squares of those that weigh, by w, are more than enough.
	look(x []float64, w weights, enough float64, r *rows) bool
	size() (numbers, rows int)
}

// part is what the square of a row counts among.
type part uint8

const (
	aims        part = iota // loads that are to lie in the middle of their windows
	limits                  // weigh only where they are passed
	preferences             // what a spring is better for beside its target
)

// kind tells what a row is of.
type kind struct {
	part part
	// A limit is missed above the edge, by scale times the excess; an aim by scale times the
	// value, either way. The rest has no scale and is never missed.
	edge, scale float64
}

// hinge is what a value counts for, and whether it weighs: that of a limit only above 0; below, it
// is how much is left.
func (k kind) hinge(value float64) (counts float64, weighs bool) {
	if k.part == limits && value <= 0 {
		return 0, false
	}
	return value, true
}

// miss is how badly a value misses what it is of: above 1 it does.
func (k kind) miss(value float64) float64 {
	switch {
	case k.part != limits:
		return k.scale * math.Abs(value)
	case value > k.edge:
		return 1 + k.scale*(value-k.edge)
	}
	return 0
}

// rows are what a landscape tells about a point: values with their slopes and kinds.
type rows struct {
	values []float64
	kinds  []kind
	slopes *mat.Dense // rows × numbers; nil: nobody wants them
	all    bool       // wants the slopes even of what does not weigh
	next   int
	// Of each window of the target, in the order of hand.Terms, the row that stands for it.
	loads []loadRow
}

// loadRow is the row of a load, which is at0 where the row's value is 0 and changes by per with it.
type loadRow struct {
	row      int
	at0, per float64
}

// newRows makes room for those of a landscape, without slopes.
func newRows(l landscape) *rows {
	_, count := l.size()
	return &rows{values: make([]float64, count), kinds: make([]kind, count)}
}

// newSlopedRows is newRows with slopes, even of what does not weigh.
func newSlopedRows(l landscape) *rows {
	r := newRows(l)
	numbers, count := l.size()
	r.slopes, r.all = mat.NewDense(count, numbers, nil), true
	return r
}

// begin starts with the first row.
func (r *rows) begin() {
	r.next = 0
	r.loads = r.loads[:0]
	if r.slopes != nil {
		r.slopes.Zero()
	}
}

// put adds a row, and tells whether its slopes are wanted.
func (r *rows) put(k kind, value float64) bool {
	r.values[r.next], r.kinds[r.next] = value, k
	r.next++
	_, weighs := k.hinge(value)
	return r.slopes != nil && (weighs || r.all)
}

// skipTo leaves rows empty up to another one.
func (r *rows) skipTo(row int) {
	clear(r.values[r.next:row])
	clear(r.kinds[r.next:row])
	r.next = row
}

// setSlopes sets those of the row put last by each of the numbers.
func (r *rows) setSlopes(slope func(j int) float64) {
	row := r.slopes.RawRowView(r.next - 1)
	for j := range row {
		row[j] = slope(j)
	}
}

// halfSquares is half the sum of squares of the rows so far that weigh.
func (r *rows) halfSquares(w weights) float64 {
	return r.partial().total(w)
}

// cost is what the rows cost.
func (r *rows) cost() cost {
	c := r.partial()
	for i, k := range r.kinds[:r.next] {
		c.misses = max(c.misses, k.miss(r.values[i]))
	}
	return c
}

// partial is the cost of the rows so far without their misses.
func (r *rows) partial() cost {
	var sums [preferences + 1]float64
	for i, k := range r.kinds[:r.next] {
		if v, weighs := k.hinge(r.values[i]); weighs {
			sums[k.part] += v * v
		}
	}
	return cost{aims: sums[aims] / 2, limits: sums[limits] / 2, preferences: sums[preferences] / 2}
}

// weigh turns the rows into residuals: half their squares are what they cost by w.
func (r *rows) weigh(w weights) {
	for i, k := range r.kinds {
		v, weighs := k.hinge(r.values[i])
		by := k.part.rowWeight(w)
		r.values[i] = by * v
		if r.slopes == nil {
			continue
		}
		row := r.slopes.RawRowView(i)
		if !weighs {
			clear(row)
		} else if by != 1 {
			for j := range row {
				row[j] *= by
			}
		}
	}
}

// rowWeight is what a row of the part is multiplied by, so that its square weighs as w says.
func (p part) rowWeight(w weights) float64 {
	if p == preferences {
		return math.Sqrt(w.points)
	}
	return math.Sqrt(w.loads)
}
