package optimize

import (
	"slices"

	"springwright/optimize/lattice"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// gridModel is the linear model of a landscape about a point of the grid, in steps of it.
type gridModel struct {
	free    []int       // the numbers that may move
	columns [][]float64 // change of the rows by a step in each of them
	values  []float64   // of the rows at the point
	off     []float64   // steps from where the model was made to the point
}

// modelAt returns the linear model made at x, the point last looked at, about a point of the
// grid.
func (d *descent) modelAt(x, corner []float64) gridModel {
	g := gridModel{values: slices.Clone(d.here.values)}
	for j, axis := range d.p.axes {
		if d.within.Fixed(j) || axis.Step <= 0 {
			continue
		}
		column := mat.Col(nil, j, d.here.slopes)
		off := (corner[j] - x[j]) / axis.Step
		for i := range column {
			column[i] *= axis.Step
			g.values[i] += off * column[i]
		}
		g.free, g.columns, g.off = append(g.free, j), append(g.columns, column), append(g.off, off)
	}
	return g
}

// points lists the points of the grid about corner, itself one of it, that the linear model
// made at x, the point last looked at, likes best: those it takes for cheaper than below.
func (d *descent) points(x, corner []float64, below cost) [][]float64 {
	g := d.modelAt(x, corner)
	l := d.formOf(g, corner)
	var list []candidate
	moved := rows{values: make([]float64, len(g.values)), kinds: d.here.kinds, next: len(g.values)}
	for _, p := range l.Least(d.listed, d.visits) {
		to := slices.Clone(corner)
		copy(moved.values, g.values)
		var doubted float64
		for a, j := range g.free {
			steps := float64(p.At[a])
			if steps == 0 {
				continue
			}
			axis := d.p.axes[j]
			to[j] = axis.Nearest(corner[j] + steps*axis.Step)
			floats.AddScaled(moved.values, steps, g.columns[a])
			off := g.off[a] + steps
			doubted += d.doubt * off * off / 2
		}
		c := moved.partial()
		c.aims += doubted
		c.bends = d.p.bendsCost(to)
		if cheaper(c, below, settling()) < 0 {
			list = append(list, candidate{to, c})
		}
	}
	var points [][]float64
	for _, c := range rank(list, settling(), gridTrials) {
		points = append(points, c.x)
	}
	return points
}

// formOf is the model's quadratic form of the rows that weigh at its point.
func (d *descent) formOf(g gridModel, corner []float64) lattice.Form {
	weighing := make([][]float64, len(g.free))
	values := slices.Clone(g.values)
	for i, k := range d.here.kinds {
		values[i] *= k.part.rowWeight(settling())
	}
	for a, column := range g.columns {
		weighing[a] = slices.Clone(column)
		for i, k := range d.here.kinds {
			if _, weighs := k.hinge(g.values[i]); !weighs {
				weighing[a][i] = 0
			} else {
				weighing[a][i] *= k.part.rowWeight(settling())
			}
		}
	}
	var l lattice.Form
	for a, j := range g.free {
		axis := d.p.axes[j]
		l.Lower = append(l.Lower, -axis.Steps(corner[j]-d.within.Lower[j], gridReach))
		l.Upper = append(l.Upper, axis.Steps(d.within.Upper[j]-corner[j], gridReach))
		l.Pull = append(l.Pull, -floats.Dot(weighing[a], values)-d.doubt*g.off[a])
		row := make([]float64, len(g.free))
		for b := range g.free {
			row[b] = floats.Dot(weighing[a], weighing[b])
		}
		row[a] += d.doubt
		l.Quadratic = append(l.Quadratic, row)
	}
	return l
}
