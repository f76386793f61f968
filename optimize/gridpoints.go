package optimize

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// gridModel is the linear model of a landscape about a point of the grid, in steps of it.
type gridModel struct {
	free    []int       // the numbers that may move
	columns [][]float64 // change of the residuals by a step in each of them
	rest    []float64   // residuals at the point
	off     []float64   // steps from where the model was made to the point
}

// modelAt returns the linear model made at x, the point last looked at, about a point of the
// grid.
func (d *descent) modelAt(x, corner []float64) gridModel {
	g := gridModel{rest: slices.Clone(d.r)}
	for j, f := range d.s.pattern.Freedoms {
		if d.within.lower[j] == d.within.upper[j] || f.Grid <= 0 {
			continue
		}
		column := mat.Col(nil, j, d.jacobian)
		off := (corner[j] - x[j]) / f.Grid
		for i := range column {
			column[i] *= f.Grid
			g.rest[i] += off * column[i]
		}
		g.free, g.columns, g.off = append(g.free, j), append(g.columns, column), append(g.off, off)
	}
	return g
}

// points lists the points of the grid about corner, itself one of it, that the linear model
// made at x, the point last looked at, likes best: those it takes for cheaper than below.
// fragile is the fragility at the corner.
func (d *descent) points(x, corner []float64, fragile, below float64) [][]float64 {
	g := d.modelAt(x, corner)
	l := d.latticeOf(g, corner)
	var list []candidate
	moved := make([]float64, len(g.rest))
	for _, p := range l.least(d.listed, d.visits) {
		to := slices.Clone(corner)
		copy(moved, g.rest)
		var cost float64
		for a, j := range g.free {
			steps := float64(p.at[a])
			if steps == 0 {
				continue
			}
			to[j] = d.s.onGrid(j, corner[j]+steps*d.s.pattern.Freedoms[j].Grid)
			for i, c := range g.columns[a] {
				moved[i] += steps * c
			}
			off := g.off[a] + steps
			cost += d.doubt * off * off / 2
		}
		for i, v := range moved {
			if v > 0 || !d.kinds[i].limit {
				cost += v * v / 2
			}
		}
		cost += d.s.bendCost(to) + fragile + d.leaning(to, corner)
		if cost < below {
			list = append(list, candidate{to, cost})
		}
	}
	var points [][]float64
	for _, c := range d.s.rank(list, gridTrials) {
		points = append(points, c.x)
	}
	return points
}

// latticeOf is the model's quadratic form of the rows that weigh at its point.
func (d *descent) latticeOf(g gridModel, corner []float64) lattice {
	weighing := make([][]float64, len(g.free))
	for a, column := range g.columns {
		weighing[a] = slices.Clone(column)
		for i, k := range d.kinds {
			if k.limit && g.rest[i] <= 0 {
				weighing[a][i] = 0
			}
		}
	}
	var l lattice
	for a, j := range g.free {
		grid := d.s.pattern.Freedoms[j].Grid
		steps := func(widthMM float64) int { return min(gridReach, int(math.Floor(widthMM/grid+1e-9))) }
		l.lower = append(l.lower, -steps(corner[j]-d.within.lower[j]))
		l.upper = append(l.upper, steps(d.within.upper[j]-corner[j]))
		l.pull = append(l.pull, -dot(weighing[a], g.rest)-d.doubt*g.off[a]-d.tilt[j]*grid)
		row := make([]float64, len(g.free))
		for b := range g.free {
			row[b] = dot(weighing[a], weighing[b])
		}
		row[a] += d.doubt
		l.form = append(l.form, row)
	}
	return l
}
