package optimize

import (
	"slices"

	"springwright/optimize/hand"
	"springwright/optimize/lsq"
)

// spreadModel is how the loads of a bender's springs spread about designs near one: the
// change of every load by every error, to first order in the design's own numbers. It is
// not safe for use by several goroutines.
type spreadModel struct {
	at     []float64
	here   hand.Linear
	bends  [][][]float64 // change of here.Changes by a unit of each number; nil where it is held
	moves  [][]float64   // the same of here.Values
	sample [][]float64
	room   [][]float64
}

// newSpreadModel differences the spread at x over a step of each number that bounds do not hold,
// half as long as models are trusted. It is nil where there is no sample or no spread to be had.
func newSpreadModel(p *problem, within lsq.Box, x []float64) *spreadModel {
	if p.sample == nil {
		return nil
	}
	_, steps := trustedAbout(p, within, x)
	here, ok := p.linearAt(x)
	if !ok {
		return nil
	}
	m := spreadModelAt(p, x, here)
	moved := slices.Clone(x)
	for j, step := range steps {
		if step == 0 {
			continue
		}
		moved[j] = x[j] + step
		there, ok := p.linearAt(moved)
		moved[j] = x[j]
		if ok {
			m.difference(j, step, there)
		}
	}
	return m
}

// spreadModelAt is a model that takes the spread of one design for that of all.
func spreadModelAt(p *problem, x []float64, here hand.Linear) *spreadModel {
	m := &spreadModel{at: slices.Clone(x), here: here, bends: make([][][]float64, len(x)), moves: make([][]float64, len(x)), sample: p.sample}
	for _, row := range here.Changes {
		m.room = append(m.room, slices.Clone(row))
	}
	return m
}

// difference takes up what the linear model, which it overwrites, is a step of number j away.
func (m *spreadModel) difference(j int, step float64, there hand.Linear) {
	if there.Sources() != m.here.Sources() { // a step more or less in the tidy path
		return
	}
	for i, row := range there.Changes {
		for k := range row {
			row[k] = (row[k] - m.here.Changes[i][k]) / step
		}
	}
	for i := range there.Values {
		there.Values[i] = (there.Values[i] - m.here.Values[i]) / step
	}
	m.bends[j], m.moves[j] = there.Changes, there.Values
}

// fragility is that of a design x whose loads are known.
func (m *spreadModel) fragility(x, loads []float64) float64 {
	for i, row := range m.room {
		copy(row, m.here.Changes[i])
		for j, b := range m.bends {
			if d := x[j] - m.at[j]; d != 0 && b != nil {
				for k, v := range b[i] {
					row[k] += d * v
				}
			}
		}
	}
	l := hand.Linear{Terms: m.here.Terms, Values: loads, Changes: m.room}
	return fragileCost * (1 - l.SmoothShare(m.sample))
}

// slope is how the fragility changes by a unit of each number. Aimed loads are taken as they
// are: that they go astray their target tells, and a step away from a design that meets it
// says little of where others that meet it lie. It is differenced over a step of the grid
// each way, for a share of a sample has no smaller slopes. Without a model it is 0.
func (m *spreadModel) slope(p *problem) []float64 {
	slope := make([]float64, len(p.axes))
	if m == nil {
		return slope
	}
	x, loads := slices.Clone(m.at), slices.Clone(m.here.Values)
	at := func(j int, step float64) float64 {
		x[j] = m.at[j] + step
		for i, term := range m.here.Terms {
			if !term.Window.Aimed {
				loads[i] = m.here.Values[i] + step*m.moves[j][i]
			}
		}
		return m.fragility(x, loads)
	}
	for j, b := range m.bends {
		if b != nil {
			step := p.axes[j].Step
			slope[j] = (at(j, step) - at(j, -step)) / (2 * step)
			x[j] = m.at[j]
		}
	}
	return slope
}
