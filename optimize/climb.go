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

	// Of every spring of the sample and every term: what its errors do to the load at the centre,
	// and by how much more by a unit of each number.
	terms   []hand.Term
	samples int
	spread  []float64
	spreads [][]float64

	x      []float64
	values []float64
	slopes [][]float64 // of each number
	off    []float64   // spread at x
	trial  []float64
	loads  []float64
	half   []float64 // of each term's window
}

// move is steps of one number, in its own unit.
type move struct {
	j  int
	by float64
}

func newClimber(p *problem, land *surrogate, spread *spreadModel, within lsq.Box) *climber {
	n, rows := land.size()
	c := &climber{
		p: p, within: within, centre: land.at, land: land, shape: shapeTerms(p.pattern),
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
	c.terms, c.samples = spread.here.Terms, min(climbSample, len(spread.sample))
	for _, t := range c.terms {
		c.half = append(c.half, t.Half())
	}
	c.spread = c.sampled(spread.here.Changes, spread.sample)
	c.off = make([]float64, len(c.spread))
	c.spreads = make([][]float64, n)
	for j, b := range spread.bends {
		if b != nil {
			c.spreads[j] = c.sampled(b, spread.sample)
		}
	}
	return c
}

// sampled is what the errors of every spring do to every term.
func (c *climber) sampled(changes, sample [][]float64) []float64 {
	out := make([]float64, 0, c.samples*len(changes))
	for _, z := range sample[:c.samples] {
		for _, row := range changes {
			var sum float64
			for k, v := range row {
				sum += v * z[k]
			}
			out = append(out, sum)
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
		best := now
		var moves []move
		bound := now.total(onGrid()) - leastGain
		c.each(func(m ...move) {
			if there := c.cost(bound, m...); there.total(onGrid()) < bound {
				best, bound, moves = there, there.total(onGrid()), slices.Clone(m)
			}
		})
		if moves == nil {
			break
		}
		now = best
		for _, m := range moves {
			c.shift(m)
			c.x[m.j] = c.p.axes[m.j].Nearest(c.x[m.j] + m.by)
		}
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
	for _, m := range moves {
		c.x[m.j] += m.by
	}
	for _, t := range c.shape {
		off := t.off(c.x) / t.scale
		out.preferences += off * off / 2
	}
	out.bends = c.p.bendsCost(c.x)
	for _, m := range moves {
		c.x[m.j] -= m.by
	}
	if c.terms == nil {
		return out
	}
	if room := enough - out.total(onGrid()); room > 0 {
		for t, l := range c.land.here.loads {
			c.loads[t] = l.at0 + l.per*values[l.row]
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
// more than enough, it is at least that.
func (c *climber) fragility(enough float64, moves []move) float64 {
	var by [2]float64
	var more [2][]float64
	count := 0
	for _, m := range moves {
		if b := c.spreads[m.j]; b != nil {
			by[count], more[count] = m.by, b
			count++
		}
	}
	most := float64(c.samples) * enough / fragileCost
	var lost float64
	width := len(c.terms)
	for s := range c.samples {
		worst := math.Inf(-1)
		at := s * width
		for t := range c.terms {
			load := c.loads[t] + c.off[at+t]
			for i := range count {
				load += by[i] * more[i][at+t]
			}
			w := &c.terms[t].Window
			if beyond := max(w.Min-load, load-w.Max) / c.half[t]; beyond > worst {
				if worst = beyond; hand.SmoothlyMet(worst) == 0 {
					break
				}
			}
		}
		if lost += 1 - hand.SmoothlyMet(worst); lost > most {
			break
		}
	}
	return fragileCost * lost / float64(c.samples)
}
