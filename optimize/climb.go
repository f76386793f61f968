package optimize

import (
	"math"
	"slices"

	"springwright/optimize/hand"
	"springwright/optimize/lsq"
)

const (
	// Steps of the grid that numbers are tried to move by alone, and together with another one
	// (choices; a pair of loads' slopes is seldom far from 1 to 1 or 1 to 2).
	climbAlone, climbInPairs = 5, 2
	climbMoves               = 30   // choice: an end to what takes a handful of moves
	leastGain                = 0.05 // points; choice: below what a share of a sample tells
	// So many springs of the sample stand for it in a climb (choice: with common numbers the noise of
	// a difference is far less than that of a share).
	climbSample = 256
	// After every so many springs a point is given up that has lost more than its share of what is
	// enough, beside what the present point has lost by then, by more than this (choices).
	climbPart, climbDoubt = 16, 1.5
)

// climber goes from point to point of the grid to what costs least by models of the loads and of
// their spread about a centre: it looks at all single and paired steps, and goes to the best.
type climber struct {
	p      *problem
	within lsq.Box
	centre []float64
	land   *surrogate
	rows   int // of land, without those of the shape
	bend   [][][]float64
	shape  []shapeTerm

	// Of every spring of the sample and every term, in halves of its window: what its errors do to the
	// load at the centre, and by how much more by a unit of each number.
	samples int
	spread  []float64
	spreads [][]float64
	// Loads are counted from the middles of their windows, of those that are open on a side from
	// openHalves away from its edge: so each is met within its reach.
	middle, half, reach []float64

	// The farthest that any spring's errors take a term at the present point, and by how much farther by a
	// unit of each number: most terms stay within their windows in all springs, whatever is tried.
	farthest  []float64
	farthests [][]float64
	near      []int // terms that do not, after some moves

	x      []float64
	values []float64
	slopes [][]float64 // of each number
	off    []float64   // spread at x
	trial  []float64
	loads  []float64 // of each term, in the same way
	lost   []float64 // springs that the present point loses of the first parts of the sample
}

// openHalves is so far that no load reaches the side of a window that is open (choice).
const openHalves = 1e4

// move is steps of one number, in its own unit.
type move struct {
	j  int
	by float64
}

func newClimber(p *problem, land *surrogate, spread *spreadModel, within lsq.Box) *climber {
	n, rows := land.size()
	c := &climber{
		p: p, within: within, centre: land.at, land: land, shape: land.shape,
		bend: make([][][]float64, n), slopes: make([][]float64, n),
		values: make([]float64, rows), trial: make([]float64, rows), loads: make([]float64, len(land.here.loads)),
	}
	c.rows = rows - len(c.shape)
	for j := range n {
		c.slopes[j] = make([]float64, rows)
		if land.bend[j] == nil {
			continue
		}
		c.bend[j] = make([][]float64, n)
		for k := range n {
			c.bend[j][k] = make([]float64, rows)
			for i := range rows {
				c.bend[j][k][i] = land.bend[j].At(i, k)
			}
		}
	}
	if spread == nil {
		return c
	}
	c.samples = min(climbSample, len(spread.sample))
	c.lost = make([]float64, (c.samples+climbPart-1)/climbPart+1)
	c.window(spread.here.Terms)
	c.spread = c.sampled(spread.here.Changes, spread.sample)
	c.off = make([]float64, len(c.spread))
	c.spreads, c.farthests = make([][]float64, n), make([][]float64, n)
	c.farthest, c.near = make([]float64, len(c.loads)), make([]int, len(c.loads))
	for j, b := range spread.bends {
		if b != nil {
			c.spreads[j], c.farthests[j] = c.sampled(b, spread.sample), make([]float64, len(c.loads))
			farthestOf(c.spreads[j], c.farthests[j])
		}
	}
	return c
}

// farthestOf fills in the farthest that any spring's errors take each term.
func farthestOf(off, farthest []float64) {
	clear(farthest)
	for i, v := range off {
		t := i % len(farthest)
		farthest[t] = max(farthest[t], math.Abs(v))
	}
}

// window fills in the windows of terms.
func (c *climber) window(terms []hand.Term) {
	for _, t := range terms {
		half, middle, reach := t.Half(), (t.Window.Min+t.Window.Max)/2, 1.0
		switch {
		case math.IsInf(t.Window.Min, 0):
			reach = openHalves
			middle = t.Window.Max - reach*half
		case math.IsInf(t.Window.Max, 0):
			reach = openHalves
			middle = t.Window.Min + reach*half
		default:
			reach = (t.Window.Max - t.Window.Min) / 2 / half // less than 1 for a window of no width
		}
		c.middle, c.half, c.reach = append(c.middle, middle), append(c.half, half), append(c.reach, reach)
	}
}

// sampled is what the errors of every spring do to every term.
func (c *climber) sampled(changes, sample [][]float64) []float64 {
	out := make([]float64, 0, c.samples*len(changes))
	for _, z := range sample[:c.samples] {
		for t, row := range changes {
			var sum float64
			for k, v := range row {
				sum += v * z[k]
			}
			out = append(out, sum/c.half[t])
		}
	}
	return out
}

// start goes to a point of the grid.
func (c *climber) start(x []float64) {
	c.x = slices.Clone(x)
	copy(c.values, c.land.here.values)
	for j := range c.slopes {
		for i := range c.slopes[j] {
			c.slopes[j][i] = c.land.here.slopes.At(i, j)
		}
	}
	copy(c.off, c.spread)
	at := slices.Clone(c.centre)
	for j, v := range x {
		if d := v - at[j]; d != 0 {
			c.shift(move{j, d})
		}
	}
}

// shift moves one number, without x.
func (c *climber) shift(m move) {
	for i := range c.values {
		c.values[i] += m.by * c.slopes[m.j][i]
	}
	if b := c.bend[m.j]; b != nil {
		for i := range c.values {
			c.values[i] += m.by * m.by / 2 * b[m.j][i]
		}
		for k := range c.slopes {
			for i := range c.slopes[k] {
				c.slopes[k][i] += m.by * b[k][i]
			}
		}
	}
	if c.spreads != nil && c.spreads[m.j] != nil {
		for i, v := range c.spreads[m.j] {
			c.off[i] += m.by * v
		}
	}
}

// climb goes up from a point of the grid as far as it comes, and returns the points on its way, the
// last one last, with what they cost by the models.
func (c *climber) climb(from []float64) []candidate {
	c.start(from)
	now := c.cost(math.Inf(1))
	way := []candidate{{slices.Clone(c.x), now}}
	for range climbMoves {
		var moves []move
		bound := now.total(onGrid()) - leastGain
		c.each(func(m ...move) {
			if there := c.cost(bound, m...); there.total(onGrid()) < bound {
				bound, moves = there.total(onGrid()), slices.Clone(m)
			}
		})
		if moves == nil {
			break
		}
		for _, m := range moves {
			c.shift(m)
			c.x[m.j] = c.p.axes[m.j].Nearest(c.x[m.j] + m.by)
		}
		now = c.cost(math.Inf(1))
		way = append(way, candidate{slices.Clone(c.x), now})
	}
	return way
}

// each goes through the single and the paired moves that stay within bounds.
func (c *climber) each(see func(m ...move)) {
	for j := range c.x {
		for a := -climbAlone; a <= climbAlone; a++ {
			if m, ok := c.moveOf(j, a); ok {
				see(m)
			}
		}
	}
	for j := range c.x {
		for k := range j {
			for a := -climbInPairs; a <= climbInPairs; a++ {
				one, ok := c.moveOf(j, a)
				if !ok {
					continue
				}
				for b := -climbInPairs; b <= climbInPairs; b++ {
					if other, ok := c.moveOf(k, b); ok {
						see(one, other)
					}
				}
			}
		}
	}
}

func (c *climber) moveOf(j, steps int) (move, bool) {
	if steps == 0 || c.bend[j] == nil {
		return move{}, false
	}
	m := move{j, float64(steps) * c.p.axes[j].Step}
	const rounding = 1e-9
	to := c.x[j] + m.by
	return m, to >= c.within.Lower[j]-rounding && to <= c.within.Upper[j]+rounding
}

// cost is that of the present point after some moves, by the models; where it is more than enough it
// may leave out the rest.
func (c *climber) cost(enough float64, moves ...move) cost {
	values := c.values
	if len(moves) > 0 {
		values = c.trial
		c.moved(moves)
	}
	var out cost
	kinds := c.land.here.kinds
	for i, v := range values[:c.rows] {
		k := kinds[i]
		switch {
		case k.part == limits && v <= 0:
			continue
		case k.part == limits:
			out.limits += v * v / 2
		case k.part == aims:
			out.aims += v * v / 2
		default:
			out.preferences += v * v / 2
			continue
		}
		if miss := k.miss(v); miss > out.misses {
			out.misses = miss
			if miss > 1 && enough < missedCost {
				return out
			}
		}
	}
	var before [2]float64
	for i, m := range moves {
		before[i] = c.x[m.j]
		c.x[m.j] = c.p.axes[m.j].Nearest(before[i] + m.by)
	}
	for _, t := range c.shape {
		off := t.off(c.x) / t.scale
		out.preferences += off * off / 2
	}
	out.bends = c.p.bendsCost(c.x)
	for i, m := range moves {
		c.x[m.j] = before[i]
	}
	if c.samples == 0 {
		return out
	}
	if room := enough - out.total(onGrid()); room > 0 {
		for t, l := range c.land.here.loads {
			c.loads[t] = (l.at0 + l.per*values[l.row] - c.middle[t]) / c.half[t]
		}
		out.fragility = c.fragility(room, moves)
	} else {
		out.fragility = fragileCost
	}
	return out
}

// moved puts the rows after some moves into trial.
func (c *climber) moved(moves []move) {
	m := moves[0]
	slope, bend := c.slopes[m.j], c.bend[m.j][m.j]
	half := m.by * m.by / 2
	if len(moves) == 1 {
		for i, v := range c.values {
			c.trial[i] = v + m.by*slope[i] + half*bend[i]
		}
		return
	}
	n := moves[1]
	slope2, bend2, both := c.slopes[n.j], c.bend[n.j][n.j], c.bend[m.j][n.j]
	half2, mixed := n.by*n.by/2, m.by*n.by
	for i, v := range c.values {
		c.trial[i] = v + m.by*slope[i] + n.by*slope2[i] + half*bend[i] + half2*bend2[i] + mixed*both[i]
	}
}

// fragility is that of springs whose loads are as in loads and spread as after some moves; where it is
// more than enough, it is at least about that.
func (c *climber) fragility(enough float64, moves []move) float64 {
	var by [2]float64
	var more, farther [2][]float64
	count := 0
	for _, m := range moves {
		if b := c.spreads[m.j]; b != nil {
			by[count], more[count], farther[count] = m.by, b, c.farthests[m.j]
			count++
		}
	}
	present := len(moves) == 0
	if present {
		farthestOf(c.off, c.farthest)
	}
	near := c.near[:0]
	for t, load := range c.loads {
		far := math.Abs(load) + c.farthest[t] - c.reach[t]
		for k := range count {
			far += math.Abs(by[k]) * farther[k][t]
		}
		if far > -hand.Smoothing/2 {
			near = append(near, t)
		}
	}
	most := float64(c.samples) * enough / fragileCost
	spare := most - c.lost[len(c.lost)-1]
	var lost float64
	width := len(c.loads)
	for s := range c.samples {
		if s%climbPart == 0 {
			if present {
				c.lost[s/climbPart] = lost
			} else if allowed := c.lost[s/climbPart] + spare*float64(s)/float64(c.samples); lost > allowed+climbDoubt {
				return fragileCost
			}
		}
		at := s * width
		off := c.off[at : at+width]
		worst := -hand.Smoothing / 2
		for _, t := range near {
			load := c.loads[t] + off[t]
			for k := range count {
				load += by[k] * more[k][at+t]
			}
			worst = max(worst, math.Abs(load)-c.reach[t])
		}
		lost += 1 - hand.SmoothlyMet(worst)
	}
	if present {
		c.lost[len(c.lost)-1] = lost
	}
	return fragileCost * lost / float64(c.samples)
}
